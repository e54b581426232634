"""What a step of a debrief adds to the record is kept in words, and not by the ids of the tree."""

from __future__ import annotations

from faultree.terminal.debrief_pump import newest
from faultree.walk import events as ev
from faultree.walk.machine import step
from tests.walk.small import asked, walked


def test_what_was_closed_is_kept_in_words() -> None:
    before = walked(*asked("voltage", "no"), ev.Finish())
    closed = step(before, ev.Closed()).walk
    assert newest(before.fingerprint, closed) == {"closed": "undo what was done here: take the left panel off"}


def test_a_step_taken_back_is_told_as_such() -> None:
    """Also where what was closed after it is numbered anew by that."""
    closed = walked(*asked("voltage", "no"), ev.Finish(), ev.Closed())
    kept = newest(closed.fingerprint, step(closed, ev.Undo()).walk)
    assert kept == {
        "taken_back": {
            "check": "signal/voltage", "answer": "no", "title": "measure the voltage at the lamp", "found": "No",
            "asked": "Is there voltage at the lamp?",
        }
    }  # fmt: skip
