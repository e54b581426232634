"""Engines for the points of a case: one where it fits, else one for each group of worlds.

Only the worlds of the evidence and of the check under view matter to a check. Where a network of all
worlds at once would be too wide, the checks are grouped by world, and every group has an engine of
its own, which holds the evidence as well.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.bounded import compile_bounded
from faultree.belief.engine import Engine, Finding, Given, Limits, On, Result, TooWide, compile_exact

if TYPE_CHECKING:
    from faultree.belief.evidence import Point, Reading
    from faultree.belief.frame import Frame


@dataclass(frozen=True, eq=False)
class Plan:
    """Some engines that together know all points; every one knows the points of the evidence."""

    points: tuple[Point, ...]
    engines: tuple[Engine, ...]

    @cached_property
    def place(self) -> dict[Point, int]:
        """Where each point stands among `points`."""
        return {point: number for number, point in enumerate(self.points)}

    @cached_property
    def owner(self) -> dict[Point, int]:
        """The first engine that knows each point."""
        owner: dict[Point, int] = {}
        for number, engine in enumerate(self.engines):
            for point in engine.points:
                owner.setdefault(point, number)
        return owner

    @property
    def size(self) -> int:
        """How many numbers one run over all engines touches."""
        return sum(engine.size for engine in self.engines)

    def run(self, findings: Sequence[Finding]) -> Result:
        """Posteriors of all causes and points; the tightest engine speaks for the causes."""
        results = [engine.run(findings) for engine in self.engines]
        if len(results) == 1 and self.engines[0].points == self.points:
            return results[0]
        values = np.zeros(len(self.points))
        for number in reversed(range(len(results))):
            for point, value in zip(self.engines[number].points, results[number].points, strict=True):
                if point in self.place:
                    values[self.place[point]] = value
        best = min(results, key=lambda one: float(one.bound))
        worst = max(float(one.bound) for one in results)
        return Result(best.log_z, best.causes, values, np.asarray(worst))

    def log_z(self, findings: Sequence[Finding]) -> float:
        """The log of P(findings), by an engine that knows all their points."""
        known = (e for e in self.engines if all(isinstance(f, Given) or f.point in e.points for f in findings))
        return float(next(known).run(findings).log_z)

    def run_columns(self, findings: Sequence[Finding], columns: Sequence[Sequence[On]]) -> list[Result]:
        """One result per column, each from an engine that knows the column's points."""
        home = [self.owner[column[0].point] if column else 0 for column in columns]
        found: dict[int, Result] = {}
        for number in sorted(set(home)):
            mine = [place for place, engine in enumerate(home) if engine == number]
            result = self.engines[number].run(findings, [columns[place] for place in mine])
            for column, place in enumerate(mine):
                found[place] = Result(*(array[..., column] for array in result))
        return [found[place] for place in range(len(columns))]


def even(point: Point) -> tuple[Point, bool]:
    """The point with its node asked directly, and whether that turns true and false around."""
    return point._replace(literal=point.literal & ~1), bool(point.literal & 1)


def finding(reading: Reading) -> On:
    """A reading as evidence on an even point."""
    point, turned = even(reading.point)
    return On(point, reading.on, reading.off) if turned else On(point, reading.off, reading.on)


def exact_plan(frame: Frame, points: Sequence[Point], limits: Limits = Limits()) -> Plan:
    """A plan of one exact engine, of which any points may be evidence; raises TooWide."""
    distinct = tuple(dict.fromkeys(points))
    return Plan(distinct, (compile_exact(frame, distinct, limits),))


def plan_of(frame: Frame, evidence: Sequence[Point], views: Sequence[Point], limits: Limits = Limits()) -> Plan:
    """A plan for some evidence and views (even points), exact wherever the limits allow it."""
    points = tuple(dict.fromkeys([*evidence, *views]))
    return Plan(points, tuple(_engines(frame, tuple(dict.fromkeys(evidence)), points, limits)))


def _engines(frame: Frame, evidence: tuple[Point, ...], points: tuple[Point, ...], limits: Limits) -> list[Engine]:
    try:
        return [compile_exact(frame, points, limits)]
    except TooWide:
        worlds = sorted({point.world for point in points if point not in evidence})
    if len(worlds) < 2:
        return [compile_bounded(frame, points, limits)]
    half = set(worlds[: len(worlds) // 2])
    first = tuple(point for point in points if point in evidence or point.world in half)
    second = tuple(point for point in points if point in evidence or point.world not in half)
    return _engines(frame, evidence, first, limits) + _engines(frame, evidence, second, limits)
