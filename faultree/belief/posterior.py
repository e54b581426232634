"""The posterior of one case: what is likely given its reports and steps."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import exp
from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakKeyDictionary

from faultree.belief.engine import Finding, Limits, On, Result, wire
from faultree.belief.evidence import Point, Reading, Step, points_of, readings_of, repaired_by
from faultree.belief.plan import Plan, even, finding, plan_of

if TYPE_CHECKING:
    from faultree.belief.frame import Frame


class Suspect(NamedTuple):
    """A cause and how likely it is.

    `probability` is P(cause / evidence), 0 once its unit was repaired; `prior` what it was before
    any evidence. `implicated` is False where the evidence does not reach the cause at all.
    """

    cause: str
    item: str | None
    probability: float
    prior: float
    implicated: bool


CheckPoints = dict[str, tuple[tuple[Point, bool], ...]]
"""For each check, its answers' points: even, and whether that turned true and false around."""


@dataclass
class _Shelf:
    """Plans already compiled for one frame, newest last; the oldest go when there are too many."""

    plans: dict[tuple[object, ...], Plan] = field(default_factory=dict)
    check_points: dict[frozenset[int], CheckPoints] = field(default_factory=dict)
    most: int = 24

    def take(self, key: tuple[object, ...]) -> Plan | None:
        """The plan kept under this key, made the newest."""
        plan = self.plans.pop(key, None)
        if plan is not None:
            self.plans[key] = plan
        return plan

    def keep(self, key: tuple[object, ...], plan: Plan) -> Plan:
        """Keep a plan, and let the oldest go."""
        self.plans[key] = plan
        while len(self.plans) > self.most:
            del self.plans[next(iter(self.plans))]
        return plan


_shelves: WeakKeyDictionary[Frame, _Shelf] = WeakKeyDictionary()


def shelved_plan(frame: Frame, evidence: Sequence[Point], views: Sequence[Point], limits: Limits) -> Plan:
    """A plan for some evidence and views, compiled once.

    One exact engine over all of them serves whatever part of the points is evidence, so it is
    looked for first.
    """
    shelf = _shelves.setdefault(frame, _Shelf())
    points = tuple(dict.fromkeys([*evidence, *views]))
    whole = (frozenset(points), limits)
    plan = shelf.take(whole)
    if plan is not None:
        return plan
    parted = (frozenset(points), frozenset(evidence), limits)
    plan = shelf.take(parted)
    if plan is not None:
        return plan
    plan = plan_of(frame, evidence, views, limits)
    return shelf.keep(whole if len(plan.engines) == 1 else parted, plan)


@dataclass(frozen=True, eq=False)
class Posterior:
    """Everything that follows from the reports and steps of one case, worked out when asked for."""

    frame: Frame
    symptoms: tuple[str, ...]
    steps: tuple[Step, ...]
    limits: Limits = Limits()

    @cached_property
    def repaired(self) -> frozenset[int]:
        """Root indices of the units made good so far."""
        return repaired_by(self.frame, self.steps)

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """What the reports and steps say."""
        return readings_of(self.frame, self.symptoms, self.steps)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """The readings as evidence for an engine."""
        return tuple(finding(reading) for reading in self.readings)

    @cached_property
    def check_points(self) -> CheckPoints:
        """For each check, its answers' points (even, and whether turned) in the world as it is now."""
        shelf = _shelves.setdefault(self.frame, _Shelf())
        if self.repaired not in shelf.check_points:
            checks = self.frame.library.checks
            shelf.check_points[self.repaired] = {
                name: tuple(even(point) for point in points_of(self.frame, name, self.repaired)) for name in checks
            }
        return shelf.check_points[self.repaired]

    @cached_property
    def plan(self) -> Plan:
        """The engines for this case's evidence and every check."""
        evidence = [even(reading.point)[0] for reading in self.readings]
        views = [point for points in self.check_points.values() for point, _ in points]
        return shelved_plan(self.frame, evidence, views, self.limits)

    @cached_property
    def result(self) -> Result:
        """Posteriors of all causes and of every point of the plan."""
        return self.plan.run(self.findings)

    def log_z_of(self, steps: Sequence[Step]) -> float:
        """The log of P(reports and what these of the steps said), every repair done all the same."""
        kept = [finding(one) for one in self.readings if one.step is None or one.step in steps]
        return float(self.plan.run(kept).log_z)

    @property
    def possible(self) -> bool:
        """Whether some fault set explains everything."""
        return bool(self.result.log_z > float("-inf"))

    @cached_property
    def bound(self) -> float:
        """No probability is off by more than this; 0.0 where the engine is exact."""
        return float(self.result.bound)

    def probability(self, point: tuple[Point, bool]) -> float:
        """P(point is true / evidence)."""
        place, turned = self.plan.place[point[0]], point[1]
        found = float(self.result.points[place])
        return 1.0 - found if turned else found

    def ranking(self, causes: Sequence[float] | None = None) -> tuple[Suspect, ...]:
        """All causes, likeliest first (equal ones in the order of the files)."""
        found = self.result.causes.tolist() if causes is None else list(causes)
        suspects = []
        number = 0
        for index, root in enumerate(self.frame.prior.roots):
            item = root.unit if root.is_item else None
            present = index not in self.repaired
            for cause, prior in zip(root.causes, root.probabilities[1:], strict=True):
                probability = found[number] if present else 0.0
                suspects.append(Suspect(cause, item, probability, prior, index in self.implicated))
                number += 1
        suspects.sort(key=lambda one: -one.probability)
        return tuple(suspects)

    @cached_property
    def implicated(self) -> frozenset[int]:
        """Roots that the evidence reaches: those that can change what was read, in its world."""
        return frozenset().union(*(reach(self.frame, even(reading.point)[0]) for reading in self.readings))

    def unit_probability(self, root: int) -> float:
        """P(unit is at fault / evidence), by its root's index."""
        first, end = self._spans[root]
        return float(self.result.causes[first:end].sum())

    @cached_property
    def _spans(self) -> list[tuple[int, int]]:
        """Where each root's causes lie among all causes."""
        spans, start = [], 0
        for root in self.frame.prior.roots:
            spans.append((start, start + len(root.causes)))
            start += len(root.causes)
        return spans

    def clears(self, root: int) -> float:
        """P(every report is gone once this root is made good / evidence).

        The world in which the root is good is one more world of the same network, so this is exact
        where the engine is.
        """
        after = self.repaired | {root}
        seen = [self.frame.seen[name] for name in self.symptoms]
        places = [self.frame.world(self.frame.library.symptoms[name].situation, after) for name in self.symptoms]
        views = [even(Point(literal, world)) for literal, world in zip(seen, places, strict=True)]
        evidence = [even(reading.point)[0] for reading in self.readings] + [point for point, _ in views]
        plan = shelved_plan(self.frame, evidence, [], self.limits)
        gone = [On(point, 0.0, 1.0) if turned else On(point, 1.0, 0.0) for point, turned in views]
        before = float(plan.run(self.findings).log_z)
        return exp(float(plan.run([*self.findings, *gone]).log_z) - before)


def reach(frame: Frame, point: Point) -> frozenset[int]:
    """Roots that can matter to a point in its world, kept for the next time."""
    if point not in frame.reaches:
        frame.reaches[point] = frozenset(wire(frame, [point]).network.roots)
    return frame.reaches[point]
