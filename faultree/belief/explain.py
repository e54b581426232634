"""Explanations: minimal consistent fault sets, heaviest first, by best-first search.

A region holds the fault sets with some causes forced in and some units kept from some values. The
heaviest set of a region comes from one upward pass with maxima, so its weight bounds everything in
the region. After a minimal set G is found, the region is divided into parts that together hold all
its sets that are not supersets of G (Lawler 1972 divides so); supersets can hold no other minimal
set. So a fault set of any order is found, in order of weight, without listing what is not minimal.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations, count
from math import exp, fsum, isfinite, log
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.belief.engine import Finding, Given
from faultree.belief.evidence import Point, Reading
from faultree.logic.simulate import evaluate_many, pack, unpack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.engine import Engine
    from faultree.belief.frame import Frame


MOST_PARTS = 14
"""Sets of up to this many causes have all their parts tried for minimality."""


class Explanation(NamedTuple):
    """A minimal consistent fault set and P(exactly this set / evidence), the rest good."""

    causes: tuple[str, ...]
    probability: float


class Region(NamedTuple):
    """Causes that must be present, and causes that must not."""

    present: frozenset[str]
    absent: frozenset[str]


EVERYTHING = Region(frozenset(), frozenset())
"""The region that holds every fault set."""


@dataclass
class Search:
    """One search over an engine that knows the points of all readings."""

    frame: Frame
    engine: Engine
    findings: Sequence[Finding]
    readings: Sequence[Reading]
    log_z: float
    _found: dict[frozenset[str], float] = field(default_factory=dict)

    def run(self, limit: int, least: float, within: Region = EVERYTHING) -> Iterator[Explanation]:
        """Explanations with probability `least` or more, heaviest first, `limit` at most.

        They are the minimal parts of the consistent sets `within` a region: all explanations, unless told
        otherwise.
        """
        regions: list[tuple[float, int, Region, frozenset[str]]] = []
        ready: list[tuple[float, tuple[str, ...]]] = []
        ticket = count()
        self._open(within, regions, ticket)
        given = 0
        while given < limit and (regions or ready):
            if ready and (not regions or ready[0][0] <= regions[0][0]):
                weight, causes = heapq.heappop(ready)
                probability = min(exp(-weight - self.log_z), 1.0)
                if probability < least:
                    return
                given += 1
                yield Explanation(causes, probability)
                continue
            weight, _, region, heaviest = heapq.heappop(regions)
            if exp(-weight - self.log_z) < least:
                regions.clear()
                continue
            minimal = self._minimal(heaviest)
            if minimal not in self._found:
                self._found[minimal] = self._weight(minimal)
                heapq.heappush(ready, (-self._found[minimal], tuple(sorted(minimal))))
            for part in _parts(region, minimal):
                self._open(part, regions, ticket)

    def _open(
        self, region: Region, regions: list[tuple[float, int, Region, frozenset[str]]], ticket: Iterator[int]
    ) -> None:
        weight, heaviest = self.engine.best([*self.findings, *self._bounds(region)])
        if isfinite(weight):
            heapq.heappush(regions, (-weight, next(ticket), region, heaviest))

    def _bounds(self, region: Region) -> list[Finding]:
        """The region as evidence on roots."""
        prior = self.frame.prior
        roots = {prior.seat[cause][0] for cause in region.present | region.absent}
        bounds: list[Finding] = []
        for root in sorted(roots):
            causes = prior.roots[root].causes
            forced = [cause for cause in causes if cause in region.present]
            factors = [float(not forced)]
            factors += [float(cause in forced if forced else cause not in region.absent) for cause in causes]
            bounds.append(Given(root, tuple(factors)))
        return bounds

    def _weight(self, causes: frozenset[str]) -> float:
        """The log of the joint weight of exactly this set."""
        return log_prior(self.frame, causes) + log_likelihood(self.frame, self.readings, causes)

    def _minimal(self, causes: frozenset[str]) -> frozenset[str]:
        """A smallest consistent part of a consistent set."""
        if len(causes) <= MOST_PARTS:
            return smallest_part(self.frame, self.readings, causes)
        kept = causes  # too many parts to try them all: drop what can be dropped, one by one
        for cause in sorted(causes):
            if isfinite(log_likelihood(self.frame, self.readings, kept - {cause})):
                kept = kept - {cause}
        return kept


def log_prior(frame: Frame, causes: frozenset[str]) -> float:
    """The log prior of exactly this fault set, every other unit good."""
    faulty = dict(frame.prior.seat[cause] for cause in causes)
    return fsum(log(root.probabilities[faulty.get(index, 0)]) for index, root in enumerate(frame.prior.roots))


def log_likelihood(frame: Frame, readings: Sequence[Reading], causes: frozenset[str]) -> float:
    """The log of the chance that a fault set gives the readings; -inf where it cannot."""
    shown = shown_by(frame, readings, [causes])
    factors = [reading.on if column[0] else reading.off for reading, column in zip(readings, shown, strict=True)]
    return fsum(map(log, factors)) if all(factors) else float("-inf")


def shown_by(frame: Frame, readings: Sequence[Reading], sets: Sequence[frozenset[str]]) -> list[NDArray[np.bool_]]:
    """For each reading, whether its point is true under each fault set."""
    causes = sorted(frozenset().union(*sets))
    membership = {cause: np.array([cause in one for one in sets]) for cause in causes}
    shown: dict[Point, NDArray[np.bool_]] = {}
    for number in {reading.point.world for reading in readings}:
        world = frame.worlds[number]
        left = {
            cause: pack(bits) for cause, bits in membership.items() if frame.prior.seat[cause][0] not in world.repaired
        }
        wanted = [reading.point.literal for reading in readings if reading.point.world == number]
        found = evaluate_many(frame.graph, dict(world.settings), left, -(-len(sets) // 64), wanted)
        shown.update({Point(literal, number): unpack(words, len(sets)) for literal, words in found.items()})
    return [shown[reading.point] for reading in readings]


def smallest_part(frame: Frame, readings: Sequence[Reading], causes: frozenset[str]) -> frozenset[str]:
    """The first consistent part of a set, smallest first; all are tried, as logic may be non-coherent."""
    ordered = sorted(causes)
    parts = [frozenset(part) for size in range(len(ordered) + 1) for part in combinations(ordered, size)]
    fits = np.ones(len(parts), dtype=np.bool_)
    for reading, shown in zip(readings, shown_by(frame, readings, parts), strict=True):
        fits &= np.where(shown, reading.on > 0.0, reading.off > 0.0)
    return parts[int(np.argmax(fits))]


def _parts(region: Region, minimal: frozenset[str]) -> Iterator[Region]:
    """Parts of a region that hold all its sets that do not include a given set."""
    present = region.present
    for cause in sorted(minimal - region.present):
        yield Region(present, region.absent | {cause})
        present = present | {cause}
