"""Every test of `faultree debrief` has a desk and a journal of its own."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.desks import desk


@pytest.fixture(autouse=True)
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The journal's file, which does not exist yet."""
    return desk(tmp_path, monkeypatch)
