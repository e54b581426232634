"""The schema goes to the screen or to a file, and replaces no file that is something else."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from faultree.library.schema import schema


def _schema(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["schema", *arguments])


def test_the_schema_is_plain_json_on_the_screen() -> None:
    done = _schema()
    assert (done.exit_code, done.stderr) == (0, "")
    assert json.loads(done.stdout) == schema()
    assert done.stdout.isascii()


def test_the_schema_in_a_file_is_renewed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A newer version replaces the older one; the line for the tree files is told."""
    monkeypatch.chdir(tmp_path)
    for _ in range(2):
        done = _schema("tree.json")
        assert (done.exit_code, done.stderr) == (0, "")
        assert done.stdout.endswith("\n# yaml-language-server: $schema=tree.json\n")
    assert json.loads(Path("tree.json").read_text(encoding="utf-8")) == schema()


def test_another_file_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_bytes(b"\xff mine")
    done = _schema(str(path))
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr == f"Error: {path} is there already, and is no schema of faultree; name another file.\n"
    assert path.read_bytes() == b"\xff mine"
    assert _schema(str(tmp_path)).exit_code == 2


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    done = _schema(str(tmp_path / "gone" / "tree.json"))
    assert done.exit_code == 1
    assert "No such file or directory" in done.stderr
