"""A folder with the small library, a home of its own, and a way to run `faultree practice` there."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.practice.small import GATE


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder, as the present one; nothing of the person who runs the tests is read or written."""
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "g.yaml").write_text(GATE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    for name in ("HOME", "USERPROFILE", "XDG_DATA_HOME", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(tmp_path / "home"))
    monkeypatch.delenv("FAULTREE_JOURNAL", raising=False)
    return tmp_path
