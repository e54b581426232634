"""What was opened, fitted or tagged is left open until it is recorded as undone."""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.walk import events as ev
from faultree.walk import saved, undoing
from faultree.walk.machine import start, step
from faultree.walk.prompt import EndPrompt
from faultree.walk.state import Walk
from faultree.walk.view import prompt
from tests.trees.demonstration import library
from tests.walk.small import LOCKED, asked


def _walked(*events: ev.Event) -> Walk:
    walk = start(load_texts({"signal.yaml": LOCKED}))
    for event in (ev.Begin(("dark",)), ev.Acknowledge(), *events):
        walk = step(walk, event).walk
    return walk


def _open(walk: Walk) -> set[str]:
    return {one.words for one in undoing.left(walk) if not one.closed}


def test_access_and_locks_of_the_steps_are_left_open() -> None:
    """In the author's words for the end of the work."""
    assert _open(_walked()) == set()
    assert _open(_walked(*asked("voltage", "no"))) == {"close the left panel", "take the pin of the panel out"}


def test_a_step_that_could_not_be_told_has_opened_its_access_too() -> None:
    """The panel is off, whatever was seen behind it."""
    walk = _walked(ev.TakeUp("voltage"), ev.Acknowledge(), ev.CannotTell())
    assert "close the left panel" in _open(walk)


def test_cautions_that_were_acknowledged_count_though_the_step_was_not_finished() -> None:
    """The pin may be in by then."""
    assert _open(_walked(ev.TakeUp("voltage"), ev.Acknowledge(), ev.Finish())) == {"take the pin of the panel out"}
    assert _open(_walked(ev.TakeUp("voltage"), ev.Finish())) == set()


def test_what_was_looked_at_again_was_opened_all_the_same() -> None:
    """An answer that was withdrawn does not close a panel."""
    walk = _walked(*asked("voltage", "yes"), *asked("bench", "yes"), ev.LookAgain("signal/voltage"), ev.Finish())
    assert "close the left panel" in _open(walk)


def test_what_was_closed_is_open_again_after_a_step_that_needs_it() -> None:
    """A panel taken off once more has to be closed once more."""
    closed = _walked(*asked("voltage", "no"), ev.Finish(), ev.Closed())
    assert _open(closed) == set()
    later = closed
    for event in (ev.Replace("lamp"), ev.Acknowledge(), ev.Retest(gone=False), ev.Finish()):
        later = step(later, event).walk
    assert _open(later) == {"close the left panel", "take the pin of the panel out"}


def test_the_hand_over_lists_both_kinds_and_what_was_closed() -> None:
    """Access under one heading, locks and pins under another."""
    shown = prompt(_walked(*asked("voltage", "no"), ev.Finish(), ev.Closed("access", "signal/panel")))
    assert isinstance(shown, EndPrompt)
    text = "\n".join(shown.handover)
    fitted = "Locks, pins and tags, if they were fitted or set, and what else a caution asks for:"
    assert f"{fitted}\n- take the pin of the panel out" in text
    assert "Closed or taken out again, as recorded:\n- close the left panel" in text
    assert "Access left open" not in text
    assert shown.left_open


@pytest.mark.parametrize("name", sorted(library().access))
def test_every_access_of_the_demonstration_says_how_it_is_undone(name: str) -> None:
    """A hand-over that only repeated how it was opened would read badly."""
    assert library().access[name].afterwards


def test_cautions_of_the_demonstration_that_ask_for_locks_pins_or_tags_say_how_they_are_undone() -> None:
    """Whatever is fitted or tagged has to be taken out again."""
    words = ("lock pins", "door locks", "actuator locks", "tag the", "and tag")
    cautions = library().cautions.values()
    asking = {one.id for one in cautions if any(word in one.text.casefold() for word in words)}
    assert asking
    assert all(library().cautions[name].afterwards for name in asking)


def test_an_answer_that_was_taken_back_has_opened_its_access_all_the_same() -> None:
    """Taking an answer back closes no panel: after undo, after taking the check up again, and in a contradiction."""
    assert "close the left panel" in _open(_walked(*asked("voltage", "no"), ev.Undo(), ev.Finish()))
    assert "close the left panel" in _open(_walked(*asked("voltage", "no"), ev.TakeUp("voltage"), ev.TakeUp("click")))
    conflict = _walked(*asked("bench", "yes"), *asked("voltage", "yes"))
    assert conflict.conflict is not None
    assert "close the left panel" in _open(step(conflict, ev.Undo()).walk)


def test_what_was_taken_back_is_open_in_the_saved_case_too() -> None:
    walk = _walked(*asked("voltage", "no"), ev.Undo())
    again = step(start(walk.library), ev.Resume(saved.pack(walk))).walk
    assert "close the left panel" in _open(again)


@pytest.mark.parametrize("back", [ev.Undo(), ev.TakeUp("voltage")])
def test_a_check_that_is_made_again_opens_again(back: ev.Event) -> None:
    """What was recorded as closed after it is not recorded as closed after its second time."""
    walk = _walked(*asked("voltage", "no"), ev.Finish(), ev.Closed())
    assert _open(walk) == set()
    walk = step(walk, back).walk
    assert _open(walk) == set()
    walk = step(walk, ev.AnswerCheck("no")).walk
    assert "close the left panel" in _open(walk)


def test_taking_back_another_step_opens_nothing_again() -> None:
    walk = _walked(*asked("voltage", "no"), *asked("click", "click"), ev.Finish(), ev.Closed(), ev.Undo())
    assert _open(walk) == set()


def test_a_lock_that_may_be_in_is_named_in_the_saved_case_too() -> None:
    """Its caution was acknowledged; the step was not finished when the case was handed on."""
    walk = _walked(ev.TakeUp("voltage"), ev.Acknowledge())
    again = step(start(walk.library), ev.Resume(saved.pack(walk))).walk
    assert _open(again) == {"take the pin of the panel out"}
    assert saved.pack(again) == saved.pack(walk)
    assert not again.read
