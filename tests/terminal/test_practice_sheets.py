"""Progress, class and key read well: who, what, mark, minutes, mistakes; with one run, with none, and with thirty."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from faultree.journal.records import Run
from faultree.practice.key import answer_key
from faultree.practice.scenario import scenario
from faultree.practice.schedule import Next
from faultree.terminal.look import Page
from faultree.terminal.practice_sheets import draw_class, draw_key, draw_progress
from tests.practice.small import gate
from tests.terminal.drawn import as_shown, cells

PAGE = Page(80, plain=True)
NEXT = Next("g/still", 1, "not practised yet")


def kept(number: int, mark: float, mistakes: Sequence[str] = (), symptom: str = "g/still") -> Run:
    day = f"2031-05-{number % 28 + 1:02}T12:00:00+00:00"
    summary = {"minutes": 60 + number, "reference_minutes": 40, "mistakes": list(mistakes)}
    return Run(number, str(number), "ada", "", "x", symptom, "blind", day, day, mark, summary)


def progress(runs: Sequence[Run], page: Page = PAGE) -> str:
    systems = {"g": (len(runs), 50.0)} if runs else {}
    return as_shown(draw_progress(gate(), runs, systems, NEXT, page), width=page.width)


def test_thirty_runs_read_well() -> None:
    """The latest twelve with their marks, the most frequent mistakes first, and what comes next."""
    runs = [
        kept(
            number,
            3.0 * number,
            ["WEAK"] * (number % 3) + ["SKIPPED"] * (number % 2),
            "g/still" if number % 5 else "g/gone",
        )
        for number in range(30)
    ]
    text = progress(runs)
    assert "30 runs" in text
    assert text.count("2031-05-") == 12
    shown = [line.split() for line in text.splitlines() if "2031-05-" in line]
    assert [one[0] for one in shown][:2] == ["18", "19"]
    assert " 54 78 min 40 min" in " ".join(shown[0])
    assert "G/gone (blind)" in text
    # by hand: 3 (0 + ... + 17) / 18 and 3 (18 + ... + 29) / 12; (60 + 8.5) / 40 and (60 + 23.5) / 40
    assert (
        "Mean mark 26 in the 18 runs before, 70 in these 12; 1.7 and 2.1 times the minutes of the best strategy."
        in " ".join(text.split())
    )
    habits = text[text.index("Most frequent mistakes") :].splitlines()
    # a caution that was not read is worse than all that only costs time
    assert habits[1].split()[:3] == ["15", "A", "caution"]
    assert habits[2].split() == ["30", "Passing", "over", "a", "check", "that", "tells", "more", "for", "its", "time"]
    assert "faultree practice --next" in " ".join(text.split())


def test_what_was_forgotten_is_counted() -> None:
    runs = [kept(1, 50.0), kept(2, 50.0)]
    some = [replace(run, summary={**run.summary, "named": 2, "left_out": 1}) for run in runs]
    assert "you left out 2 of 6 that were still possible" in progress(some)
    assert "still possible" not in progress(runs)
    text = as_shown(draw_class(gate(), [row("ada", 50) | {"named": 1, "left_out": 3}], PAGE))
    assert "none; left out 3 of 4 that were still possible" in text


def test_no_run_is_said() -> None:
    assert "No run has a mark yet." in progress([])


def test_progress_read_out_has_a_sentence_for_each_run() -> None:
    text = progress([kept(1, 80.0)], Page(80, plain=True, spoken=True))
    assert "Run 1, 2031-05-02: The gate does not move, blind, mark 80, 61 min, the best 40 min" in " ".join(
        text.split()
    )


def test_a_run_says_its_level_and_how_it_ended_and_long_times_in_hours() -> None:
    run = kept(1, 20.0)
    more = {**run.summary, "level": 4, "ending": "handed over", "minutes": 187.0, "reference_minutes": 118.0}
    text = " ".join(progress([replace(run, summary=more)], Page(120, plain=True)).split())
    assert "(level 4, blind, handed over) 20 3 h 7 min 118 min" in text


@pytest.mark.parametrize("width", [60, 80, 120])
def test_sheets_fit_their_screen(width: int) -> None:
    page = Page(width, plain=True)
    key = answer_key(gate(), scenario(gate(), "still", 1, 1))
    for part in (progress([kept(n, 50.0) for n in range(5)], page), as_shown(draw_key(key, page), width=width)):
        assert max(map(cells, part.splitlines())) <= width


def row(learner: str, mark: float, mistakes: Sequence[str] = (), ending: str = "restored") -> dict[str, Any]:
    ran = {"minutes": 70.0, "reference_minutes": 40.0, "needless": ["g/pump"], "mistakes": list(mistakes)}
    return {"learner": learner, "mode": "exam", "symptom": "g/still", "level": 2, "mark": mark, "ending": ending, **ran}


def test_a_class_is_listed_by_name_with_what_each_struggles_with() -> None:
    rows = [row("bo", 30, ["WEAK", "WEAK", "TOO_EARLY"]), row("ada", 90), row("", 0, ending="handed over")]
    text = as_shown(draw_class(gate(), rows, PAGE))
    flat = " ".join(text.split())
    assert text.index("(no name)") < text.index("ada") < text.index("bo")
    assert "handed over)" in flat
    mistakes = flat[flat.index("Mistakes") :]
    assert "ada none" in mistakes
    assert "bo passing over a check that tells more for its time (2) and replacing before" in mistakes


def test_a_class_read_out_has_a_sentence_for_each_run() -> None:
    text = as_shown(draw_class(gate(), [row("", 30)], Page(80, plain=True, spoken=True)))
    assert "no name: The gate does not move, level 2, exam, mark 30, 70 min, the best 40 min" in " ".join(text.split())


def test_the_key_has_cautions_before_their_steps_and_the_notice() -> None:
    text = as_shown(draw_key(answer_key(gate(), scenario(gate(), "still", 1, 1)), PAGE))
    assert "licensed engineer" in text
    for label in ("Report", "Crew", "Code", "Level", "Hidden", "Truth", "Takes"):
        assert f"\n  {label}" in text
