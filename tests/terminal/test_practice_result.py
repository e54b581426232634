"""The result of an exercise says what counts, last what matters most, and fits its screen."""

from __future__ import annotations

import pytest

from faultree.practice.curve import Moment
from faultree.practice.events import Ask, HandOver, Hint, Look, PutRight, Read, Skip
from faultree.practice.view import result
from faultree.terminal.look import Page
from faultree.terminal.practice_result import draw_curves, draw_result
from tests.practice.test_exercise import after
from tests.terminal.drawn import as_shown, cells
from tests.terminal.practised import exercise

PAGE = Page(80, plain=True)


def flat(*parts: object) -> str:
    return " ".join(as_shown(*parts).split())  # type: ignore[arg-type]


def test_a_picture_that_is_read_out_is_told() -> None:
    own, best = (Moment(0, 2.0), Moment(5, 0.5)), (Moment(0, 2.0), Moment(3, 0.0))
    text = as_shown(draw_curves(own, best, Page(80, plain=True, spoken=True)))
    assert "This run: 2.00 bits at the start, 0.50 bits after 5 min." in text
    assert "|" not in text


def test_the_picture_shows_both_runs_at_their_heights() -> None:
    """Worked by hand: eight rows for 2 bits; `o` alone at the top right, `.` alone at the bottom."""
    own, best = (Moment(0, 2.0), Moment(10, 2.0)), (Moment(0, 2.0), Moment(5, 0.0))
    rows = as_shown(draw_curves(own, best, PAGE)).splitlines()
    assert rows[0].startswith("  2.00 | *")
    assert rows[0].endswith("o")
    assert rows[7].startswith("  0.00 |")
    assert set(rows[7].partition("|")[2].strip()) == {"."}
    assert rows[9].split() == ["0", "10", "min"]
    assert all(row.partition("|")[2].strip() == "" for row in rows[1:7])


def test_the_result_names_truth_minutes_mark_and_what_was_in_vain() -> None:
    done = after(exercise(), PutRight("pump"), Read(), Ask("listen"), PutRight("motor"))
    text = flat(draw_result(done, result(done), PAGE))
    for words in ("Hidden Motor dead", "98 min here; the best strategy takes 35 min with this fault",
                  "put right without having been at fault: Pump", "(a removal with no fault found)",
                  "Enough was known to act before step 3.", "To work on", "licensed engineer decide"):  # fmt: skip
        assert words in text


def test_the_result_says_why_a_hand_over_counts_for_nothing() -> None:
    for event, words in (
        (HandOver(), "no suspect was named, which counts as nothing found"),
        (
            HandOver("pump"),
            "another part was more than twice as likely as the one named, which counts as nothing found",
        ),
    ):
        done = after(exercise(), Ask("listen"), event)
        assert words in flat(draw_result(done, result(done), PAGE))


def test_the_result_names_a_cap() -> None:
    done = after(exercise(), Ask("gauge"), Skip(), Ask("listen"), PutRight("motor"))
    assert "a warning was not read before its step: no mark above 40" in flat(draw_result(done, result(done), PAGE))
    done = after(exercise(), Ask("look-in"), Skip(), Ask("listen"), PutRight("motor"))
    assert "a caution was not read before its step: no mark above 70" in flat(draw_result(done, result(done), PAGE))


def test_what_the_steps_and_their_hints_gave_away_adds_up_to_what_the_mark_says() -> None:
    """In whole minutes, those of hints apart: a hint is no wrong decision."""
    done = after(exercise(), Hint(), Ask("mat"), Hint(), Hint(), Ask("listen"), PutRight("motor"))
    text = flat(draw_result(done, result(done), PAGE))
    assert "1 min given away by decisions, 7 min counted for hints" in text
    assert "gave away 1 min, hints 2 min)" in text
    assert "hints 5 min)" in text
    assert "Passing over a check" not in text


def test_mark_truth_and_habit_stand_last_where_the_screen_stops() -> None:
    done = after(exercise(), PutRight("pump"), Read(), Ask("listen"), PutRight("motor"))
    last = " ".join(as_shown(draw_result(done, result(done), PAGE)).splitlines()[-14:])
    for words in ("Mark:", "Hidden", "Motor dead", "To work on"):
        assert words in last


def test_a_fault_that_stays_on_the_aircraft_is_named() -> None:
    done = after(exercise("g/motor-dead", "g/mat-torn"), PutRight("motor"))
    assert "Left Door mat torn: still on the aircraft." in flat(draw_result(done, result(done), PAGE))


def test_a_report_that_was_wrong_clears_nothing() -> None:
    done = after(exercise("g/mat-torn", level=4, there=False, doubt=0.3), Look(), HandOver())
    text = flat(draw_result(done, result(done), PAGE))
    assert "On an aircraft that clears nothing: the report stands" in text
    assert "as the report is wrong" in text
    assert "with this fault" not in text
    named = after(exercise("g/mat-torn", level=4, there=False, doubt=0.3), Look(), HandOver("pump"))
    found = result(named)
    assert found.mark.mark == 0.0
    assert "a part was named for what is known not to be there" in flat(draw_result(named, found, PAGE))


@pytest.mark.parametrize("width", [40, 80, 120])
def test_the_result_fits_its_screen(width: int) -> None:
    done = after(exercise(), PutRight("pump"), Skip(), Ask("mat"), Ask("listen"), PutRight("motor"))
    text = as_shown(draw_result(done, result(done), Page(width, plain=True)), width=width)
    assert max(map(cells, text.splitlines())) <= width
