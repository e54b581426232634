"""Tidy rewrites what reads, shows what it would do, and leaves the rest alone."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands

MESSY = "title: T # all\nfaultree: 1\n"
TIDY = "faultree: 1\ntitle: T  # all\n"


@pytest.fixture(autouse=True)
def trees(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder `trees` with one file in the layout and one that is not."""
    monkeypatch.chdir(tmp_path)
    folder = tmp_path / "trees"
    folder.mkdir()
    _save(folder / "a.yaml", TIDY)
    _save(folder / "b.yaml", MESSY)
    return Path("trees")


def _save(path: Path, text: str) -> None:
    path.write_bytes(text.encode())


def _tidy(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["tidy", *arguments])


def test_a_folder_is_laid_out(trees: Path) -> None:
    """The second time there is nothing to do, and nothing is written."""
    done = _tidy()
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout == "trees/b.yaml: laid out anew.\ntrees: 1 laid out anew, 1 as they should be.\n"
    assert (trees / "b.yaml").read_bytes() == TIDY.encode()
    before = (trees / "b.yaml").stat()
    done = _tidy("trees")
    assert (done.exit_code, done.stdout) == (0, "trees: 0 laid out anew, 2 as they should be.\n")
    assert (trees / "b.yaml").stat() == before


def test_check_shows_and_writes_nothing(trees: Path) -> None:
    done = _tidy("--check")
    assert (done.exit_code, done.stderr) == (1, "")
    assert done.stdout == (
        "--- trees/b.yaml\n+++ trees/b.yaml (tidy)\n@@ -1,2 +1,2 @@\n-title: T # all\n faultree: 1\n+title: T  # all\n"
        "trees: 1 to be laid out anew, 1 as they should be.\n"
    )
    assert (trees / "b.yaml").read_bytes() == MESSY.encode()
    assert _tidy("--check", "trees/a.yaml").exit_code == 0


def test_what_does_not_read_is_left_alone_and_hinders_no_other(trees: Path) -> None:
    broken = MESSY + "items: [,\n"
    _save(trees / "a.yaml", broken)
    (trees / "c.yaml").write_bytes(b"faultree: 1\ntitle: \xff\n")
    done = _tidy()
    assert done.exit_code == 1
    assert "trees/a.yaml:3:9: a value is missing here" in done.stderr
    assert "trees/c.yaml:2:8: the byte 0xFF is not UTF-8 text" in done.stderr
    assert done.stderr.endswith(
        "trees: 1 laid out anew, 0 as they should be, 2 left alone until their mistakes are mended.\n"
    )
    assert (trees / "a.yaml").read_bytes() == broken.encode()
    assert (trees / "b.yaml").read_bytes() == TIDY.encode()


def test_plain_data(trees: Path) -> None:
    _save(trees / "a.yaml", "title: T\n")
    done = _tidy("--json", "--check")
    assert done.exit_code == 1
    data = json.loads(done.stdout)
    assert data["changed"] == ["trees/b.yaml"]
    assert [one["message"] for one in data["problems"]] == ["tree file 'a' has no 'faultree'"]


def test_without_a_path_and_without_trees_nothing_is_touched(trees: Path) -> None:
    """The demonstration library that comes with the program is not for writing."""
    trees.rename("elsewhere")
    done = _tidy()
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr.startswith("trees: there is no such file or folder; name a folder of .yaml files\n")
    assert _tidy("--library", "elsewhere").exit_code == 0


def test_line_ends_and_links_stay(trees: Path) -> None:
    _save(trees / "b.yaml", MESSY.replace("\n", "\r\n"))
    (trees / "c.yaml").symlink_to((trees / "b.yaml").absolute())
    assert _tidy("trees/c.yaml").exit_code == 0
    assert (trees / "c.yaml").is_symlink()
    assert (trees / "b.yaml").read_bytes() == TIDY.replace("\n", "\r\n").encode()
