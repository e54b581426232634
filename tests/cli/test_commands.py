"""The commands as a group: help without weight, greeting, exit codes, and one place for errors."""

from __future__ import annotations

import json
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

from faultree.cli.commands import NAMES, commands
from tests.walk.small import SIGNAL

pytestmark = pytest.mark.usefixtures("here")


def _run(*arguments: str, stdin: str = "") -> tuple[int, str, str]:
    done = CliRunner().invoke(commands, list(arguments), input=stdin)
    assert done.exception is None or isinstance(done.exception, SystemExit)
    return done.exit_code, done.stdout, done.stderr


def test_alone_it_greets_lists_the_reports_and_says_how_to_begin() -> None:
    """With ids that can be typed as they stand."""
    code, out, err = _run()
    assert (code, err) == (0, "")
    assert "signal/dark" in out
    assert "faultree walk" in out
    assert "licensed engineer" in out


NO_LIBRARY = ("new", "schema", "import", "completion")
"""Commands that look at no library."""

GROUPS = {"practice": ("run", "set", "mark", "key", "class", "progress"), "debrief": ("begin", "continue"),
          "journal": ("trends",)}  # fmt: skip
"""Commands that hold others; of those, the ones that read a library."""


@pytest.mark.parametrize("name", NAMES)
def test_every_command_has_help_and_takes_a_library(name: str) -> None:
    """The help says what it does; --library stands in each that reads one."""
    code, out, _ = _run(name, "--help")
    assert code == 0
    inside = [_run(name, one, "--help") for one in GROUPS.get(name, ())]
    assert all(code == 0 and "--library" in told for code, told, _ in inside)
    assert ("--library" in out) != (name in NO_LIBRARY or name in GROUPS)
    command = commands.get_command(click.Context(commands), name)
    assert command is not None
    assert command.name == name
    assert command.get_short_help_str()


def test_version_and_help() -> None:
    """Both leave with 0 and need no library."""
    from faultree import __version__

    assert _run("--version") == (0, f"faultree {__version__}\n", "")
    assert _run("--help")[0] == 0


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["fly"], "no such command"),
        (["rank"], "Missing argument"),
        (["rank", "dark", "--answer", "voltage"], "is not CHECK=ANSWER"),
        (["rank", "dark", "--answer", "=no"], "is not CHECK=ANSWER"),
        (["rank", "--colour", "dark"], "No such option"),
        (["why", "dark"], "Missing argument"),
        (["walk", "--by", "pilot"], "pilot"),
        (["walk", "dark", "--case", "a.yaml"], "not both"),
    ],
)
def test_wrong_use_is_exit_code_2(arguments: list[str], words: str) -> None:
    """And says on standard error what was wrong."""
    code, out, err = _run(*arguments)
    assert (code, out) == (2, "")
    assert words in err


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["rank", "drak"], "did you mean 'signal/dark'?"),
        (["rank", "stays"], "more than one symptom"),
        (["rank", "dark", "--answer", "volts=no"], "unknown check 'volts'"),
        (["rank", "dark", "--answer", "voltage=maybe"], "unknown answer"),
        (["rank", "dark", "--answer", "voltage=yes", "--answer", "bench=yes"], "signal/voltage=yes"),
        (["why", "dark", "zebra"], "unknown suspect or check 'zebra'"),
        (["walk", "drak"], "did you mean"),
        (["walk", "--case", "none.yaml"], "none.yaml cannot be read"),
        (["--library", "nowhere"], "nowhere"),
        (["rank", "dark", "--library", "nowhere"], "nowhere"),
        (["lint", "nowhere"], "nowhere"),
    ],
)
def test_faulty_input_or_evidence_is_exit_code_1(arguments: list[str], words: str) -> None:
    """And says on standard error what is at fault; standard output stays empty for programs."""
    code, out, err = _run(*arguments)
    assert (code, out) == (1, "")
    assert words in err
    assert "Traceback" not in err


def test_an_error_of_the_program_itself_shows_no_traceback(monkeypatch: pytest.MonkeyPatch) -> None:
    """It names itself, asks to be reported, and shows where it happened only on request."""
    from faultree.strategy.case import Case

    def broken(case: Case) -> None:
        assert case.symptoms
        raise ZeroDivisionError("no suspects")

    monkeypatch.setattr(Case, "ranking", broken)
    code, _, err = _run("rank", "dark", "--json")
    assert code == 1
    assert "Error in faultree itself: ZeroDivisionError: no suspects" in err
    assert "Traceback" not in err
    monkeypatch.setenv("FAULTREE_TRACE", "1")
    assert "Traceback" in _run("rank", "dark", "--json")[2]


def test_the_library_can_be_named_before_or_behind_the_command(here: Path) -> None:
    """Both ways give the same."""
    (here / "trees").rename(here / "others")
    before = _run("--library", "others", "rank", "dark", "--json")
    behind = _run("rank", "dark", "--json", "--library", "others")
    assert before == behind
    assert before[0] == 0
    assert json.loads(before[1])["symptoms"] == ["signal/dark"]


def test_problems_of_the_tree_files_are_listed_all(here: Path) -> None:
    """Every command that needs the library says what is wrong with it."""
    broken = SIGNAL.replace("follows: supply", "follows: suply").replace("by: crew", "by: pilot")
    (here / "trees" / "signal.yaml").write_text(broken, encoding="utf-8")
    for arguments in (["rank", "dark"], ["walk"], [], ["lint"]):
        code, out, err = _run(*arguments)
        assert (code, out) == (1, "")
        assert "suply" in err
        assert "pilot" in err
        assert "2 problems" in err
