"""Compiled plans kept for the next time, one shelf for each frame."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from faultree.belief.engine import Limits, TooWide
from faultree.belief.evidence import Point, points_of
from faultree.belief.plan import Plan, even, exact_plan, plan_of

if TYPE_CHECKING:
    from faultree.belief.frame import Frame

CheckPoints = dict[str, tuple[tuple[Point, bool], ...]]
"""For each check, its answers' points: even, and whether that turned true and false around."""

MOST = 24
"""So many plans are kept; the one used longest ago goes first."""


@dataclass(eq=False)
class Shelf:
    """Plans already compiled for one frame, and sets of points that are known to be too wide."""

    frame: Frame
    plans: dict[object, Plan] = field(default_factory=dict)
    too_wide: set[object] = field(default_factory=set)
    _check_points: dict[frozenset[int], CheckPoints] = field(default_factory=dict)

    def check_points(self, repaired: frozenset[int]) -> CheckPoints:
        """Each check's points after some units were made good."""
        if repaired not in self._check_points:
            checks = self.frame.library.checks
            self._check_points[repaired] = {
                name: tuple(even(point) for point in points_of(self.frame, name, repaired)) for name in checks
            }
        return self._check_points[repaired]

    def whole(self, key: object, points: Callable[[], Sequence[Point]], limits: Limits) -> Plan | None:
        """One engine for all points that `key` stands for, or None where that is too wide to be exact.

        Points that are all of one world cannot be parted; then a bounded engine is as good as it gets.
        """
        key = (key, limits)
        if key in self.too_wide:
            return None
        try:
            return self._kept(key, lambda: self._whole(points(), limits))
        except TooWide:
            self.too_wide.add(key)
            return None

    def _whole(self, points: Sequence[Point], limits: Limits) -> Plan:
        try:
            return exact_plan(self.frame, points, limits)
        except TooWide:
            if len({point.world for point in points}) > 1:
                raise
            return plan_of(self.frame, points, (), limits)

    def parted(self, evidence: Sequence[Point], views: Sequence[Point], limits: Limits) -> Plan:
        """A plan for some evidence and views, in as many engines as it takes."""
        key = (frozenset(evidence), frozenset(views), limits)
        return self._kept(key, lambda: plan_of(self.frame, evidence, views, limits))

    def _kept(self, key: object, make: Callable[[], Plan]) -> Plan:
        plan = self.plans.pop(key, None) or make()
        self.plans[key] = plan
        while len(self.plans) > MOST:
            del self.plans[next(iter(self.plans))]
        return plan


def shelf_of(frame: Frame) -> Shelf:
    """The shelf of a frame; it lies with the frame, so that both go when the library goes."""
    shelf = frame.kept.get(Shelf)
    if not isinstance(shelf, Shelf):
        shelf = frame.kept[Shelf] = Shelf(frame)
    return shelf
