"""Evidence: the steps of a case, and what each says about the nodes of the graph."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from faultree.belief.frame import Frame
from faultree.belief.frame import Point as Point


class Reply(NamedTuple):
    """A check was answered; `answer` None is "cannot tell", which changes nothing."""

    check: str
    answer: str | None


class Repair(NamedTuple):
    """A unit was made good and the report looked at again; `gone` says whether it had cleared.

    `gone` None: that could not be told (a fault that comes and goes). The unit is good from then on; nothing else
    was learnt.
    """

    unit: str
    gone: bool | None


Step = Reply | Repair


class Reading(NamedTuple):
    """P(what was seen / the point is false) and P(... / the point is true); `step` is None for a report."""

    point: Point
    off: float
    on: float
    step: Step | None = None


def readings_of(frame: Frame, symptoms: Sequence[str], steps: Sequence[Step]) -> tuple[Reading, ...]:
    """What the reports and steps of a case say, in the order in which they came.

    Reports are taken in the world before any repair. A report weighs 1 where all that it says holds
    and `false_report` where it does not. After a repair the unit's causes are absent, both when the
    report is looked at again and in every check answered later.
    """
    readings = [_report(frame, name, frozenset()) for name in symptoms]
    repaired: frozenset[int] = frozenset()
    for step in steps:
        if isinstance(step, Repair):
            repaired = repaired | {frame.prior.index[step.unit]}
            readings += _looked_again(frame, symptoms, repaired, step)
        elif step.answer is not None:
            readings.append(reading_of(frame, step, repaired))
    return tuple(readings)


def _report(frame: Frame, name: str, repaired: frozenset[int]) -> Reading:
    symptom = frame.library.symptoms[name]
    return Reading(Point(frame.seen[name], frame.world(symptom.situation, repaired)), symptom.false_report, 1.0)


def _looked_again(frame: Frame, symptoms: Sequence[str], repaired: frozenset[int], step: Repair) -> list[Reading]:
    """After a repair: not gone means that every report still holds, gone that none does; untold says nothing.

    What is looked at on purpose is taken as true, whatever `false_report` says of the first report.
    """
    if step.gone is None:
        return []
    off, on = (1.0, 0.0) if step.gone else (0.0, 1.0)
    return [Reading(_report(frame, name, repaired).point, off, on, step) for name in symptoms]


def reading_of(frame: Frame, reply: Reply, repaired: frozenset[int]) -> Reading:
    """What one reply says; it depends only on whether the answer given is the right one."""
    check = frame.library.checks[reply.check]
    names = [answer.id for answer in check.answers]
    given = reply.answer or ""
    other = next(name for name in names if name != given)
    literal = frame.answers[reply.check][names.index(given)]
    point = Point(literal, frame.world(check.situation, repaired))
    return Reading(point, check.confusion(given, other), check.confusion(given, given), reply)


def repaired_by(frame: Frame, steps: Iterable[Step]) -> frozenset[int]:
    """The root indices of all units made good in these steps."""
    return frozenset(frame.prior.index[step.unit] for step in steps if isinstance(step, Repair))


def points_of(frame: Frame, check: str, repaired: frozenset[int]) -> tuple[Point, ...]:
    """The point of each answer of a check, in the author's order."""
    world = frame.world(frame.library.checks[check].situation, repaired)
    return tuple(Point(literal, world) for literal in frame.answers[check])
