"""A folder with the small library, for tests of single commands."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.desks import small_trees


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder whose `trees` hold the small library, as the present one."""
    monkeypatch.chdir(tmp_path)
    return small_trees(tmp_path)
