"""Lint lists every problem of tree files, runs their examples, and leaves with 1 where something is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from tests.walk.small import SIGNAL


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder whose `trees` hold the small library."""
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _lint(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["lint", *arguments])


def test_a_sound_library_is_said_to_be_sound() -> None:
    """With what was looked at."""
    done = _lint()
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout == ("trees: no problems (1 systems, 5 causes, 3 items, 3 symptoms, 5 checks, 1 examples).\n")
    assert json.loads(_lint("--json").stdout) == {"problems": []}


def test_problems_are_listed_with_place_and_remedy(here: Path) -> None:
    """On standard error for a person, on standard output for a program; exit code 1 for both."""
    path = here / "trees" / "signal.yaml"
    path.write_text(SIGNAL.replace("item: lamp,", "item: lmap,"), encoding="utf-8")
    done = _lint("trees")
    assert (done.exit_code, done.stdout) == (1, "")
    line = SIGNAL[: SIGNAL.index("item: lamp,")].count("\n") + 1
    assert f"signal.yaml:{line}:" in done.stderr
    assert "did you mean 'lamp'?" in done.stderr
    assert done.stderr.endswith("trees: 1 problem.\n")
    plain = _lint("trees/signal.yaml", "--json")
    assert plain.exit_code == 1
    (problem,) = json.loads(plain.stdout)["problems"]
    assert problem["line"] == line
    assert set(problem) == {"file", "line", "column", "message", "hint", "level", "rule"}


def test_an_example_that_does_not_hold_is_a_problem(here: Path) -> None:
    """The file's own tests are run."""
    path = here / "trees" / "signal.yaml"
    path.write_text(SIGNAL.replace("first: lamp-broken, at_least: 0.9", "first: fuse-blown"), encoding="utf-8")
    done = _lint()
    assert (done.exit_code, done.stdout) == (1, "")
    assert "signal.yaml" in done.stderr
    assert "fuse-blown" in done.stderr
