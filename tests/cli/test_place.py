"""Where the library is."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.cli.place import bundled, home, library_folder
from tests.cli.desks import run, small_trees
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


def test_an_account_without_a_home_is_told_so_in_words(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The journal needs a place; a file that is named has one, whatever the account."""

    def homeless() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.chdir(small_trees(tmp_path))
    monkeypatch.setattr(Path, "home", homeless)
    for name in ("FAULTREE_JOURNAL", "XDG_DATA_HOME"):
        monkeypatch.delenv(name, raising=False)
    assert home() is None
    for command in (("journal", "where"), ("journal", "list"), ("debrief", "sheet", "1")):
        assert "no home folder is known here" in run(*command, code=1).output
        assert "itself" not in run(*command, code=1).output
    assert "j.sqlite" in run("journal", "where", "--journal", "j.sqlite").output


def test_a_home_that_is_no_place_of_its_own_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else the journal would lie wherever one happens to stand, perhaps among the tree files."""
    monkeypatch.setattr(Path, "home", lambda: Path("here"))
    assert home() is None
