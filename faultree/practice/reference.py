"""The best strategy on the same aircraft: what it does, and what that takes for this fault."""

from __future__ import annotations

from faultree.library.model import Library
from faultree.practice.events import Ask, Event, HandOver, Look, PutRight, Read
from faultree.practice.exercise import Exercise, begin, step
from faultree.practice.judge import Choice
from faultree.practice.mark import best_at
from faultree.practice.scenario import Scenario

MOST = 200
"""More steps than any search takes; a strategy that does not end is a defect, and is said."""


def reference(library: Library, scenario: Scenario) -> Exercise:
    """The exercise as the best strategy does it: the best next step each time, every caution read."""
    exercise = begin(library, scenario, "exam")
    for _ in range(MOST):
        if exercise.ending is not None:
            return exercise
        exercise = act(exercise, event_of(best_at(exercise)))
    raise AssertionError(f"the best strategy found no end within {MOST} steps ({scenario.code})")


def act(exercise: Exercise, event: Event) -> Exercise:
    """The exercise after an event and after reading the cautions that it puts on view; AssertionError where refused."""
    turn = step(exercise, event)
    assert not turn.refused, turn.refused
    return step(turn.exercise, Read()).exercise if turn.exercise.pending is not None else turn.exercise


def event_of(choice: Choice) -> Event:
    """A choice as an event of the exercise."""
    action, target = choice
    if action == "check":
        return Ask(target)
    if action == "replace":
        return PutRight(target)
    return Look() if action == "look" else HandOver()
