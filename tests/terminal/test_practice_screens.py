"""The screens of an exercise say what they must, at every width, and in words alone where they are read out."""

from __future__ import annotations

from faultree.practice.view import check_options
from faultree.terminal import practice_screens as screens
from faultree.terminal.look import Page
from faultree.terminal.practice_lists import draw_options
from tests.terminal.drawn import as_shown
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
    assert "|" not in text


def test_a_question_is_not_followed_by_a_colon() -> None:
    assert flat(screens.outcome_line("Look: Is it lit?", "No", "1 min")) == "Look: Is it lit? No (1 min)"
    assert flat(screens.outcome_line("look at the lamp", "Lit", "1 min")) == "Look at the lamp: Lit (1 min)"
