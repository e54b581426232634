"""Lint lists every problem of tree files, runs their examples, and leaves with 1 where something is wrong."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from faultree.cli.commands import commands
from tests.walk.small import SIGNAL

pytestmark = pytest.mark.usefixtures("here")


def _lint(*arguments: str) -> Result:
    return CliRunner().invoke(commands, ["lint", *arguments])


def test_a_sound_library_is_said_to_be_sound() -> None:
    """With what was looked at."""
    done = _lint()
    assert (done.exit_code, done.stderr) == (0, "")
    assert done.stdout == ("trees: no problems (1 system, 5 causes, 3 items, 3 symptoms, 5 checks, 1 example).\n")
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


WARNED = SIGNAL.replace("  silent-check: a check that tells nothing must be shown as well\n", "")
ADVISED = WARNED.replace("  no-example: it is a system for tests of screens\n", "")


def test_warnings_and_advice_are_told_and_let_the_library_pass(here: Path) -> None:
    """Only an error makes the exit code 1; every finding carries its level and its rule."""
    path = here / "trees" / "signal.yaml"
    path.write_text(ADVISED, encoding="utf-8")
    done = _lint()
    assert (done.exit_code, done.stdout) == (0, "")
    assert "warning: the right answer of check 'weather' is 'no' whatever is wrong" in done.stderr
    assert "advice: no example shows symptom 'doubly-bad'" in done.stderr
    assert [line.rpartition(" ")[2] for line in done.stderr.splitlines()[:3]] == [
        "[silent-check]",
        *["[no-example]"] * 2,
    ]
    assert done.stderr.endswith("trees: 1 warning and 2 pieces of advice.\n")
    found = json.loads(_lint("--json").stdout)["problems"]
    assert [(one["level"], one["rule"]) for one in found] == [
        ("warning", "silent-check"), ("advice", "no-example"), ("advice", "no-example"),
    ]  # fmt: skip
    path.write_text(ADVISED.replace("first: lamp-broken, at_least: 0.9", "first: fuse-blown"), encoding="utf-8")
    done = _lint()
    assert done.exit_code == 1
    assert done.stderr.endswith("trees: 1 problem, 1 warning and 2 pieces of advice.\n")


def test_a_mistake_in_one_file_hides_nothing_of_the_others(here: Path) -> None:
    """A file that is whole is looked at for its meaning beside one that does not read, and one that refers to that."""
    bad = "faultree: 1\ntitle: Bad\ncauses:\n  worn: {title: worn, probability: 2}\n"
    leaning = (
        "faultree: 1\ntitle: Leaning\nevents:\n  e: {title: e, any: [bad/worn]}\n"
        "symptoms:\n  s: {title: s, sees: {e: no}}\n"
    )
    overlap = WARNED.replace("when: otherwise", "when: {not: relay-open}")
    for name, text in {"bad": bad, "leaning": leaning, "signal": overlap}.items():
        (here / "trees" / f"{name}.yaml").write_text(text, encoding="utf-8")
    found = json.loads(_lint("--json").stdout)["problems"]
    assert [(Path(one["file"]).name, one["rule"]) for one in found] == [
        ("bad.yaml", "shape"), ("signal.yaml", "answers-overlap"),
    ]  # fmt: skip
    (own,) = json.loads(_lint("trees/signal.yaml", "--json").stdout)["problems"]
    assert own["rule"] == "answers-overlap"
    assert json.loads(_lint("trees/leaning.yaml", "--json").stdout)["problems"] == []


def test_a_path_that_is_not_there_is_one_problem() -> None:
    """Nothing is said of the files beside it."""
    found = json.loads(_lint("trees/gone.yaml", "--json").stdout)["problems"]
    assert [(one["file"], one["rule"]) for one in found] == [("trees/gone.yaml", "file")]
