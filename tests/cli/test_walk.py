"""The walk from the command line: chosen, named or taken up, from a pipe."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner

from faultree.cli.commands import commands

pytestmark = pytest.mark.usefixtures("here")


def _walk(*arguments: str, lines: str = "") -> str:
    done = CliRunner().invoke(commands, ["walk", *arguments], input=lines)
    assert (done.exit_code, done.stderr) == (0, "")
    return done.stdout


def test_a_report_is_chosen_from_the_list() -> None:
    """Without a symptom on the command line."""
    out = _walk(lines="1\nok\n")
    assert out.index("What was reported?") < out.index("What was reported? > 1") < out.index("Before you begin")


@pytest.mark.parametrize("symptom", ["dark", "signal/dark", "lamp out"])
def test_a_report_can_be_named(symptom: str) -> None:
    """By id, short id, or words that fit only one."""
    out = _walk(symptom, lines="ok\n")
    assert "What was reported?" not in out
    assert "Step 1: the signal lamp stays dark" in out


def test_several_reports_are_one_case() -> None:
    """All of them stand in the heading."""
    out = " ".join(_walk("dark", "button-lamp", lines="ok\n").split())
    assert "Step 1: the signal lamp stays dark and the signal stays dark in the dark" in out


def test_faults_that_act_together_end_a_walk_together() -> None:
    """Lamp and relay are both reported bad: neither alone is the answer."""
    out = " ".join(_walk("dark", "doubly-bad", lines="ok\nquit\n").split())
    assert "The end: Faults that act together stand out" in out
    assert "Together: signal lamp broken with signal relay stuck open" in out


def test_an_empty_pipe_ends_politely() -> None:
    """With and without a report."""
    assert "The input has ended" in _walk()
    assert "The input has ended" in _walk("dark")


def test_a_case_is_saved_and_taken_up_again(here: Path) -> None:
    """From one run of the program to the next."""
    _walk("dark", lines="ok\n1\nnote seal worn\nsave mine\n")
    assert (here / "mine.yaml").exists()
    out = _walk("--case", "mine.yaml", lines="ok\nundo\n")
    assert "Listen to the relay: What do you hear? Nothing" in out
    assert "Seal worn" in out
    assert "Taken back: listen to the relay: What do you hear? Nothing." in out


@pytest.mark.parametrize("text", ["", "case: 7", "a: [", "case: 1\nsymptoms: [none]\nsteps: []"])
def test_a_file_that_is_no_case_is_exit_code_1(here: Path, text: str) -> None:
    """In words, on standard error."""
    (here / "bad.yaml").write_text(text, encoding="utf-8")
    done = CliRunner().invoke(commands, ["walk", "--case", "bad.yaml"])
    assert (done.exit_code, done.stdout) == (1, "")
    assert done.stderr.startswith("Error: ")


def test_only_checks_of_those_who_are_there() -> None:
    """With the crew alone, nothing is proposed that needs a line mechanic."""
    out = _walk("dark", "--by", "crew", lines="ok\n")
    assert "Next check: listen to the relay" in out
    assert "Check: measure" not in out


def test_a_chart_is_compiled_and_followed() -> None:
    """The option alone compiles one for the report named behind or before it."""
    for arguments in (("dark", "--chart"), ("--chart", "dark")):
        out = _walk(*arguments, lines="ok\n")
        assert "Next check (chart, step 1): " in out


def test_a_saved_chart_is_followed() -> None:
    """It knows its report; naming another one is wrong use."""
    done = CliRunner().invoke(commands, ["chart", "dark", "-o", "dark.json"])
    assert done.exit_code == 0
    assert "Next check (chart, step 1): " in _walk("--chart", "dark.json", lines="ok\n")
    assert "Next check (chart, step 1): " in _walk("--chart=dark.json", "dark", lines="ok\n")
    other = CliRunner().invoke(commands, ["walk", "--chart", "dark.json", "doubly-bad"])
    assert other.exit_code == 2
    assert "dark.json is a chart of signal/dark" in other.stderr


def test_a_chart_needs_a_report() -> None:
    """There is nothing to compile it for."""
    done = CliRunner().invoke(commands, ["walk", "--chart"])
    assert done.exit_code == 2
    assert "name the symptoms" in done.stderr


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (None, "no.json: cannot be read"),
        ("{", "no.json is no saved chart"),
        ("[1]", "no.json is no saved chart"),
        ('{"chart": 1}', "no.json: the chart: 'digest' is missing"),
    ],
)
def test_a_chart_that_does_not_read_is_named(here: Path, text: str | None, message: str) -> None:
    """With what is wrong with it."""
    if text is not None:
        (here / "no.json").write_text(text, encoding="utf-8")
    done = CliRunner().invoke(commands, ["walk", "--chart", "no.json"])
    assert done.exit_code == 1
    assert message in done.stderr
