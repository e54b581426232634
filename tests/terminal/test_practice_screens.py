"""The screens of an exercise say what they must, at every width, and in words alone where they are read out."""

from __future__ import annotations

import pytest

from faultree.practice.curve import Moment
from faultree.practice.events import Ask, HandOver, PutRight, Read, Skip
from faultree.practice.view import check_options, result
from faultree.terminal import practice_screens as screens
from faultree.terminal.look import Page
from faultree.terminal.practice_lists import draw_options
from tests.practice.test_exercise import after
from tests.terminal.drawn import as_shown, cells
from tests.terminal.practised import exercise

PAGE = Page(80, plain=True)
SPOKEN = Page(80, plain=True, spoken=True)


def flat(*parts: object) -> str:
    return " ".join(as_shown(*parts).split())  # type: ignore[arg-type]


def test_the_start_says_what_was_reported_the_rules_and_who_decides() -> None:
    begun = exercise(level=4, doubt=0.3, limit=45.0, words="it is stuck", code="", mode="exam")
    text = flat(screens.draw_start(begun, PAGE))
    for words in ("“it is stuck”", "The gate does not move", "of an exercise file", "the report itself may be wrong",
                  "no help, nothing is taken back", "3 of 10 reports are wrong", "the work may take 45 min",
                  "The approved maintenance manual and a licensed engineer decide"):  # fmt: skip
        assert words in text


def test_a_list_says_what_each_takes_who_does_it_and_where_cautions_apply() -> None:
    text = as_shown(draw_options(check_options(exercise()), "Checks", PAGE))
    assert "1 Listen to the motor (by crew)" in text
    assert "Read the gauge (cautions apply)" in text
    assert as_shown(draw_options((), "Checks", PAGE)).strip() == "Checks: none."


def test_what_is_read_out_has_no_columns_and_no_picture() -> None:
    text = as_shown(draw_options(check_options(exercise()), "Checks", SPOKEN))
    assert "2: Read the gauge (cautions apply), 5 min" in text
    own, best = (Moment(0, 2.0), Moment(5, 0.5)), (Moment(0, 2.0), Moment(3, 0.0))
    text = as_shown(screens.draw_curves(own, best, SPOKEN))
    assert "This run: 2.00 bits at the start, 0.50 bits after 5 min." in text
    assert "|" not in text


def test_the_picture_shows_both_runs_at_their_heights() -> None:
    """Worked by hand: eight rows for 2 bits; `o` alone at the top right, `.` alone at the bottom."""
    own, best = (Moment(0, 2.0), Moment(10, 2.0)), (Moment(0, 2.0), Moment(5, 0.0))
    rows = as_shown(screens.draw_curves(own, best, PAGE)).splitlines()
    assert rows[0].startswith("  2.00 | *")
    assert rows[0].endswith("o")
    assert rows[7].startswith("  0.00 |")
    assert set(rows[7].partition("|")[2].strip()) == {"."}
    assert rows[9].split() == ["0", "10", "min"]
    assert all(row.partition("|")[2].strip() == "" for row in rows[1:7])


def test_the_result_names_truth_minutes_mark_and_what_was_in_vain() -> None:
    done = after(exercise(), PutRight("pump"), Read(), Ask("listen"), PutRight("motor"))
    text = flat(screens.draw_result(done, result(done), PAGE))
    for words in ("Hidden Motor dead", "98 min here; the best strategy takes 35 min with this fault",
                  "put right without having been at fault: Pump", "(a removal with no fault found)",
                  "Enough was known to act before step 3.", "To work on", "licensed engineer decide"):  # fmt: skip
        assert words in text


def test_the_result_says_why_a_hand_over_counts_for_nothing() -> None:
    for event, words in (
        (HandOver(), "no suspect was named, which counts as nothing found"),
        (HandOver("pump"), "another part was likelier than the one named, which counts as nothing found"),
    ):
        done = after(exercise(), Ask("listen"), event)
        assert words in flat(screens.draw_result(done, result(done), PAGE))


def test_the_result_names_a_cap() -> None:
    done = after(exercise(), Ask("gauge"), Skip(), Ask("listen"), PutRight("motor"))
    assert "a caution was not read before its step: no mark above 40" in flat(
        screens.draw_result(done, result(done), PAGE)
    )


@pytest.mark.parametrize("width", [40, 80, 120])
def test_the_result_fits_its_screen(width: int) -> None:
    done = after(exercise(), PutRight("pump"), Skip(), Ask("mat"), Ask("listen"), PutRight("motor"))
    text = as_shown(screens.draw_result(done, result(done), Page(width, plain=True)), width=width)
    assert max(map(cells, text.splitlines())) <= width
