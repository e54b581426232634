"""`practice progress` and `--next`: what was done, by whom, what it says, and what comes next."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from faultree.journal import practised
from faultree.journal.place import where
from faultree.journal.store import open_store
from tests.cli.practice.runs import BEST, bad, good, practise, set_motor

START = datetime(2031, 5, 1, 8, tzinfo=UTC)


def test_runs_are_shown_with_marks_and_as_plain_data() -> None:
    set_motor()
    for lines in (BEST, "mat\nlisten\nreplace motor\n"):
        good("--exercise", "e.json", "--journal", "j.sqlite", "--learner", "ada", lines=lines)
    good("--exercise", "e.json", "--journal", "j.sqlite", "--learner", "ada", lines="listen\n")
    out = good("progress", "--journal", "j.sqlite", "--learner", "ada")
    assert "2 runs" in out
    assert "A check that could not change anything" in out
    found = json.loads(good("progress", "--journal", "j.sqlite", "--learner", "ada", "--json"))
    assert found["learner"] == "ada"
    assert [one["minutes"] for one in found["runs"]] == [35.0, 36.0]
    assert found["runs"][0]["mark"] == 100.0


def test_a_kept_run_is_shown_again() -> None:
    """As it was shown at its end; one that is not there, or has not ended, is told."""
    set_motor()
    journal = ("--journal", "j.sqlite")
    lines = "mat\nlisten\nreplace motor\n"
    first = practise("--exercise", "e.json", *journal, "--learner", "ada", lines=lines).stdout
    good("--exercise", "e.json", *journal, lines="listen\n")
    again = good("show", "1", *journal)
    assert again.startswith("Run 1 of ada, 20")
    assert again.split("\n", 1)[1] == first[first.index("\nStep by step") :]
    assert "run 2 has not ended" in bad("show", "2", *journal)
    assert "this journal holds no run 7" in bad("show", "7", *journal)


def test_learners_are_kept_apart_and_named_where_somebody_looks_for_nobody() -> None:
    set_motor()
    good("--exercise", "e.json", "--journal", "j.sqlite", "--learner", "ada", lines=BEST)
    good("--exercise", "e.json", "--journal", "j.sqlite", "--learner", "bo", lines="hand over\n\n")
    assert "100" in good("progress", "--journal", "j.sqlite", "--learner", "ada")
    assert "100" not in good("progress", "--journal", "j.sqlite", "--learner", "bo")
    out = good("progress", "--journal", "j.sqlite")
    assert "No run has a mark yet." in out
    assert "--learner ada or --learner bo" in " ".join(out.split())


def test_thirty_runs_of_many_days_read_well(here: Path) -> None:
    """Kept as `practice` keeps them, over a month; the sheet stays on one screen of 30 lines."""
    days = iter(range(1000))
    store = open_store(
        where(str(here / "j.sqlite"), {}, "linux", here), lambda: START + timedelta(hours=12 * next(days))
    )
    for number in range(30):
        run = practised.begin(store, "ada", "", "x", "g/still", "blind")
        mistakes = ["TOO_EARLY"] * (number < 15) + ["WEAK"] * (number % 3 == 0)
        summary = {"minutes": 90 - number, "reference_minutes": 45, "mistakes": mistakes, "named": 3, "left_out": 1}
        practised.finish(store, run, 40.0 + 2 * number, summary)
    store.close()
    out = good("progress", "--journal", "j.sqlite", "--learner", "ada")
    flat = " ".join(out.split())
    assert "Mean mark 57 in the 18 runs before, 87 in these 12; 1.8 and 1.5 times" in flat
    assert "Gate of a fictional pond (30 runs)" in flat
    assert "15 Replacing before a check that was worth its time 10 Passing over a check" in flat
    assert "you left out 30 of 120 that were still possible" in flat
    assert len(out.splitlines()) <= 30


def test_next_goes_on_from_the_runs_so_far() -> None:
    """New at first; after a good run, due later and said so."""
    assert "(not practised yet)" in good("--next", "--journal", "j.sqlite", "--seed", "1", lines="quit\n")
    set_motor()
    good("--exercise", "e.json", "--journal", "j.sqlite", lines=BEST)
    assert "(nothing is due; this one comes next)" in good("--next", "--journal", "j.sqlite", "--seed", "1")


def test_next_in_a_script_keeps_nothing_unless_it_says_so() -> None:
    good("--next", "--seed", "1", lines="listen\n")
    assert "no exercise was left" in bad("--resume")


@pytest.mark.parametrize("command", [("progress",), ("--next",)])
def test_what_needs_the_journal_says_when_it_cannot_be_used(here: Path, command: tuple[str, ...]) -> None:
    (here / "broken.sqlite").write_text("this is no database " * 100, encoding="utf-8")
    assert "is no journal of faultree" in bad(*command, "--journal", "broken.sqlite")
