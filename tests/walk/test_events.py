"""Events are values: equal when they say the same, and every kind is known by its name."""

from __future__ import annotations

from typing import get_args

from faultree.walk import events as ev


def test_every_kind_of_event_is_known_by_its_name() -> None:
    """A transcript can write and read every event there is."""
    assert set(ev.EVENTS.values()) == set(get_args(ev.Event))
    assert all(kind.__name__ == name for name, kind in ev.EVENTS.items())


def test_events_are_compared_by_what_they_say() -> None:
    """Two answers with the same words are the same event."""
    assert ev.AnswerCheck("no") == ev.AnswerCheck("no")
    assert ev.AnswerCheck("no") != ev.AnswerCheck("yes")
