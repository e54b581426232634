"""Uncertainty over minutes: how much not-knowing each step of a run removed, and what it took."""

from __future__ import annotations

from typing import NamedTuple

from faultree.practice.doubt import doubt
from faultree.practice.exercise import Exercise
from faultree.practice.feedback import after
from faultree.practice.judge import begun
from faultree.practice.telling import missing


class Moment(NamedTuple):
    """So many minutes into the work, so many bits were missing to know which unit to put right."""

    minutes: float
    bits: float


def curve(exercise: Exercise) -> tuple[Moment, ...]:
    """The moments of a run, the beginning first, one after each step."""
    (case, looked), scenario = begun(exercise), exercise.scenario
    moments = [Moment(0.0, missing(case, doubt(case, scenario, looked)))]
    spent = 0.0
    for number, taken in enumerate(exercise.steps):
        spent += taken.minutes
        later = exercise.steps[number + 1] if number + 1 < len(exercise.steps) else None
        known = later.looked if later else exercise.looked
        then = later.before if later else after(taken)
        over = known is False or then is None or taken.outcome == "gone"
        moments.append(Moment(spent, 0.0 if over or then is None else missing(then, doubt(then, scenario, known))))
    return tuple(moments)
