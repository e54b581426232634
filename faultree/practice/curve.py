"""Uncertainty over minutes: how much not-knowing each step of a run removed, and what it took."""

from __future__ import annotations

from math import log2
from typing import NamedTuple

from faultree.practice.exercise import Exercise
from faultree.practice.feedback import after
from faultree.practice.judge import begun
from faultree.strategy.case import Case


class Moment(NamedTuple):
    """So many minutes into the work, so many bits were missing to know which unit to put right."""

    minutes: float
    bits: float


def curve(exercise: Exercise) -> tuple[Moment, ...]:
    """The moments of a run, the beginning first, one after each step."""
    case, looked = begun(exercise)
    doubt = exercise.scenario.doubt if looked is None else 0.0
    moments = [Moment(0.0, missing(case, doubt))]
    spent = 0.0
    for number, taken in enumerate(exercise.steps):
        spent += taken.minutes
        later = exercise.steps[number + 1] if number + 1 < len(exercise.steps) else None
        known = later.looked if later else exercise.looked
        then = later.before if later else after(taken)
        over = known is False or then is None or taken.outcome == "gone"
        moments.append(Moment(spent, 0.0 if over or then is None else missing(then, 0.0 if known else doubt)))
    return tuple(moments)


def missing(case: Case, doubt: float = 0.0) -> float:
    """Bits that are missing to know which unit to put right, each unit weighed by how far the evidence points to it.

    The entropy of which unit it is, were it one; `doubt` is the chance that the report is wrong and it is none.
    """
    weights = [max(unit.probability - sum(one.prior for one in unit.causes), 0.0) for unit in case.units()]
    total = sum(weights)
    if total <= 0.0:
        return 0.0
    shares = [(1.0 - doubt) * weight / total for weight in weights] + [doubt]
    return -sum(share * log2(share) for share in shares if share > 0.0)
