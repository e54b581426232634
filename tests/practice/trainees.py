"""Trainees with one habit each, who do an exercise from beginning to end as that habit has it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from random import Random

from faultree.library.model import Library
from faultree.practice.events import Ask, Event, HandOver, PutRight, Read, Skip
from faultree.practice.exercise import Exercise, begin, step
from faultree.practice.mark import best_at
from faultree.practice.reference import event_of
from faultree.practice.scenario import Scenario

Habit = Callable[[Exercise, Random], Event]

SURE = 0.9


def run(library: Library, scenario: Scenario, habit: Habit, seed: int = 0, *, reads: bool = True) -> Exercise:
    """The exercise as a habit does it, to its end."""
    exercise, random = begin(library, scenario, "exam"), Random(seed)
    for _ in range(400):
        if exercise.ending is not None:
            return exercise
        for event in _events(exercise, habit(exercise, random), reads=reads):
            turn = step(exercise, event)
            assert not turn.refused, turn.refused
            exercise = turn.exercise
    raise AssertionError("no end")


def _events(exercise: Exercise, event: Event, *, reads: bool) -> Iterator[Event]:
    yield event
    if step(exercise, event).exercise.pending is not None:
        yield Read() if reads else Skip()


def the_best(exercise: Exercise, random: Random) -> Event:
    """Does what the engine holds for best."""
    del random
    return event_of(best_at(exercise))


def greedy(exercise: Exercise, random: Random) -> Event:
    """Asks what tells most for its time, and replaces what is nearly certain."""
    del random
    if _to_hand_over(exercise):
        return HandOver()
    first = _first_unit(exercise)
    telling = [one for one in exercise.case.checks() if one.bits > 1e-3]
    if first[1] >= SURE or not telling:
        return PutRight(first[0])
    return Ask(max(telling, key=lambda one: one.bits / max(one.minutes, 0.1)).check)


def swapper(exercise: Exercise, random: Random) -> Event:
    """Replaces the likeliest part, then the next."""
    del random
    return HandOver() if _to_hand_over(exercise) else PutRight(_first_unit(exercise)[0])


def at_random(exercise: Exercise, random: Random) -> Event:
    """Asks anything of the systems at hand in any order, and replaces what is nearly certain."""
    if _to_hand_over(exercise):
        return HandOver()
    first = _first_unit(exercise)
    system = exercise.scenario.symptom.partition("/")[0]
    left = [name for name in exercise.library.checks if name not in exercise.done and name.startswith(system)]
    if first[1] >= SURE or not left:
        return PutRight(first[0])
    return Ask(random.choice(left))


def _first_unit(exercise: Exercise) -> tuple[str, float]:
    """The likeliest unit that was not put right yet, and its probability."""
    done = {one.target for one in exercise.steps if one.action == "replace"}
    return next((one.unit, one.probability) for one in exercise.case.units() if one.unit not in done)


def _to_hand_over(exercise: Exercise) -> bool:
    return exercise.looked is False or not exercise.case.units() or exercise.case.units()[0].probability <= 0.0


HABITS: dict[str, Habit] = {"best": the_best, "greedy": greedy, "swapper": swapper, "random": at_random}
"""The habits by name."""
