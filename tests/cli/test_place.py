"""Where the library is."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.cli.place import bundled, library_folder
from tests.walk.small import SIGNAL


def test_the_library_here_comes_before_the_bundled_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder `trees` counts where it holds tree files; a folder that is named counts always."""
    monkeypatch.chdir(tmp_path)
    assert library_folder(None) == bundled()
    (tmp_path / "trees").mkdir()
    assert library_folder(None) == bundled()
    (tmp_path / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    assert library_folder(None) == Path("trees")
    assert library_folder("elsewhere") == Path("elsewhere")


def test_the_demonstration_library_is_found() -> None:
    """In a checkout beside the package, in an installed package within it."""
    assert list(bundled().glob("*.yaml"))
