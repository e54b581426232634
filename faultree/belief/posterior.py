"""The posterior of one case: what is likely given its reports and steps."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import exp
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.belief.engine import Finding, Given, Limits, On, Result
from faultree.belief.evidence import Point, Reading, Reply, Step, reading_of, readings_of, repaired_by
from faultree.belief.explain import EVERYTHING, Explanation, Region, Search
from faultree.belief.plan import Plan, even, finding
from faultree.belief.shelf import CheckPoints, shelf_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.frame import Frame


LIGHT = 20_000
"""An engine of up to so many configurations is light: explanations may ask it a hundred times."""


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
    def findings(self) -> tuple[On, ...]:
        """The readings as evidence for an engine."""
        return tuple(finding(reading) for reading in self.readings)

    @property
    def check_points(self) -> CheckPoints:
        """For each check, its answers' points (even, and whether turned) in the world as it is now."""
        return shelf_of(self.frame).check_points(self.repaired)

    @cached_property
    def _evidence(self) -> tuple[Point, ...]:
        return tuple(finding.point for finding in self.findings)

    @cached_property
    def _views(self) -> tuple[Point, ...]:
        return tuple(point for points in self.check_points.values() for point, _ in points)

    @cached_property
    def _key(self) -> object:
        """What the engine for reports and all checks depends on; without repairs, on the reports alone."""
        views = frozenset(self._views) if self.repaired else frozenset()
        older = tuple(point for point in self._evidence if point not in views) if self.repaired else ()
        return (self.symptoms, self.repaired, older)

    @cached_property
    def _whole(self) -> Plan | None:
        """One exact engine for the reports and all checks, where it fits: then a case compiles once."""
        return shelf_of(self.frame).whole(self._key, lambda: [*self._evidence, *self._views], self.limits)

    @property
    def _shared(self) -> Plan | None:
        """The same where the evidence reaches most of the library anyhow, so that no engine of its own is lighter."""
        if 2 * len(self.implicated) > len(self.frame.prior.roots):
            return self._whole
        return None

    @cached_property
    def core(self) -> Plan:
        """The engine for what follows from the evidence alone: a light one, since much is asked of it.

        Where all is of one situation and the evidence reaches most of it, nothing lighter could be made.
        """
        shared = self._shared
        if shared is not None and (shared.size <= LIGHT or len({point.world for point in shared.points}) == 1):
            return shared
        return shelf_of(self.frame).parted(self._evidence, (), self.limits)

    @cached_property
    def plan(self) -> Plan:
        """The engines for every check, given the evidence."""
        return self._whole or shelf_of(self.frame).parted(self._evidence, self._views, self.limits)

    @cached_property
    def result(self) -> Result:
        """Posteriors of all causes."""
        return self.core.run(self.findings) if self._shared is None else self.view

    @cached_property
    def view(self) -> Result:
        """Posteriors of every point of the plan."""
        return self.plan.run(self.findings)

    def log_z_of(self, steps: Sequence[Step], *further: Finding) -> float:
        """The log of P(reports and what these of the steps said), every repair done all the same."""
        kept = [finding(one) for one in self.readings if one.step is None or one.step in steps]
        return float(self.core.run([*kept, *further]).log_z)

    def log_z_given(self, given: Given) -> float:
        """The log of P(evidence and the given values)."""
        return self.log_z_of(self.steps, given)

    def best_given(self, given: Given) -> tuple[float, frozenset[str]]:
        """The likeliest fault set with the given values: its log weight and its causes."""
        return self.core.engines[0].best([*self.findings, given])

    def company_of(self, cause: str, tries: int = 12) -> frozenset[str]:
        """The heaviest explanation that cannot do without a cause, among the first few with it; empty if none."""
        found = self.explanations(tries, within=Region(frozenset({cause}), frozenset()))
        return next((frozenset(one.causes) for one in found if cause in one.causes), frozenset())

    def explanations(self, limit: int, least: float = 0.0, within: Region = EVERYTHING) -> Iterator[Explanation]:
        """Minimal consistent fault sets (minimal parts of the sets of a region), heaviest first."""
        engine = self.core.engines[0]
        search = Search(self.frame, engine, self.findings, self.readings, float(self.result.log_z))
        return search.run(limit, least, within)

    def allows(self, reply: Reply, answer: str, given: Given) -> bool:
        """Whether, by the reports alone, the given values leave room for another answer to a check."""
        other = finding(reading_of(self.frame, Reply(reply.check, answer), self.repaired))
        return self.plan.log_z([*self.findings[: len(self.symptoms)], other, given]) > float("-inf")

    def predicted(self, check: str, causes: Sequence[str]) -> list[list[float]]:
        """P(answer would be right / cause present, evidence): one row for each answer, one entry for each cause."""
        engine = self.plan.engines[self.plan.owner[self.check_points[check][0][0]]]
        columns = [[self.present(cause)] for cause in causes]
        result = engine.run(self.findings, columns) if columns else None
        rows = []
        for point, turned in self.check_points[check]:
            found = [] if result is None else result.points[engine.points.index(point)].tolist()
            rows.append([1.0 - one if turned else one for one in found])
        return rows

    def present(self, cause: str) -> Given:
        """The finding that a cause is present."""
        root, value = self.frame.prior.seat[cause]
        size = len(self.frame.prior.roots[root].probabilities)
        return Given(root, tuple(float(one == value) for one in range(size)))

    @property
    def possible(self) -> bool:
        """Whether some fault set explains everything, or may do so among those that a bounded engine leaves out."""
        return bool(self.result.log_z > float("-inf") or self.result.bound > 0.0)

    @cached_property
    def bound(self) -> float:
        """No probability is off by more than this; 0.0 where the engine is exact."""
        return max(float(self.result.bound), float(self.view.bound))

    def probability(self, point: tuple[Point, bool]) -> float:
        """P(point is true / evidence)."""
        place, turned = self.plan.place[point[0]], point[1]
        found = min(max(float(self.view.points[place]), 0.0), 1.0)  # rounding may lead out of the range
        return 1.0 - found if turned else found

    def ranking(self, causes: Sequence[float] | None = None) -> tuple[Suspect, ...]:
        """All causes, likeliest first (equal ones in the order of the files, those of one item together)."""
        listed = self.frame.prior.listed
        found = np.array(self.result.causes if causes is None else causes)
        for root in self.repaired:
            first, end = listed.spans[root]
            found[first:end] = 0.0
        inside = [root in self.implicated for root in listed.roots]
        rows = zip(listed.causes, listed.items, found.tolist(), listed.priors, inside, strict=True)
        suspects = list(map(Suspect._make, rows))
        return tuple([suspects[place] for place in np.argsort(-_rounded(found), kind="stable").tolist()])

    @cached_property
    def implicated(self) -> frozenset[int]:
        """Roots that the evidence reaches: those that can change what was read, in its world."""
        roots = 0
        for reading in self.readings:
            roots |= self.frame.reached(reading.point)
        return _numbers(roots)

    def unit_probability(self, root: int) -> float:
        """P(unit is at fault / evidence), by its root's index."""
        first, end = self.frame.prior.listed.spans[root]
        return float(self.result.causes[first:end].sum())

    def clears(self, *roots: int) -> float:
        """P(every report is gone once these roots are made good / evidence); of none, that it is gone already.

        The world in which they are good is one more world of the same network, so this is exact
        where the engine is.
        """
        after = self.repaired.union(roots)
        seen = [self.frame.seen[name] for name in self.symptoms]
        places = [self.frame.world(self.frame.library.symptoms[name].situation, after) for name in self.symptoms]
        views = [even(Point(literal, world)) for literal, world in zip(seen, places, strict=True)]
        evidence = [*self._evidence, *(point for point, _ in views)]
        plan = shelf_of(self.frame).parted(evidence, [], self.limits)
        gone = [On(point, 0.0, 1.0) if turned else On(point, 1.0, 0.0) for point, turned in views]
        before = float(plan.run(self.findings).log_z)
        if before == float("-inf"):  # a bounded engine that has found no explanation yet
            return 0.0
        return exp(float(plan.run([*self.findings, *gone]).log_z) - before)


def _rounded(values: NDArray[np.float64]) -> NDArray[np.float64]:
    """Values to 40 binary digits, so that those which differ only by rounding are equal."""
    mantissa, exponent = np.frexp(values)
    return np.asarray(np.ldexp(np.round(mantissa * 2.0**40), exponent))


def reach(frame: Frame, point: Point) -> frozenset[int]:
    """Roots that can matter to a point in its world."""
    return _numbers(frame.reached(point))


def _numbers(bits: int) -> frozenset[int]:
    """The places of the bits that are set."""
    return frozenset([place for place, bit in enumerate(reversed(f"{bits:b}")) if bit == "1"])
