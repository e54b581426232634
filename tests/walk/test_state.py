"""The state of a walk knows what leaving would lose."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from tests.walk.small import asked, small, walked


def test_a_case_that_is_not_open_is_an_error_in_words() -> None:
    """Code that asks too early is told what is missing."""
    with pytest.raises(CaseError, match="no case is open yet"):
        start(small()).open_case.ranking()


@pytest.mark.parametrize(
    ("events", "unsaved"),
    [
        ((), False),
        ((ev.Finish(),), False),
        ((ev.AskWhy(""),), False),
        ((ev.Note("loose"),), True),
        (asked("click", "click"), True),
        ((*asked("click", "click"), ev.Save("a.yaml")), False),
        ((*asked("click", "click"), ev.Save("a.yaml"), ev.Undo()), False),
        ((*asked("click", "click"), ev.Save("a.yaml"), ev.Note("b")), True),
    ],
)
def test_only_answers_and_notes_can_be_lost(events: tuple[ev.Event, ...], unsaved: bool) -> None:
    """Looking around is no work to be saved; an answer and a note are."""
    assert walked(*events).unsaved is unsaved


def test_before_a_case_is_open_nothing_can_be_lost() -> None:
    """Leaving at the list of reports loses nothing."""
    assert start(small()).unsaved is False
    assert step(start(small()), ev.Quit()).walk.unsaved is False
