"""The last resort among engines: a table of the likeliest fault sets, with an honest bound.

Bound of a table (follows from the definition of the posterior): with e the prior mass that is not
listed, S the listed mass times likelihood and L the largest likelihood that a set can have, no
posterior probability is off by more than e L / (S + e L).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations
from math import fsum, log, log1p, prod
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.engine import Finding, Given, Limits, Result, Wiring, mass_left, stacked
from faultree.belief.segments import Segments
from faultree.logic.simulate import evaluate_many, pack, unpack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.evidence import Point
    from faultree.belief.frame import Frame

    Floats = NDArray[np.float64]

    Places = NDArray[np.intp]

Fault = tuple[int, int]
"""A root's index and a value of it that is not 0."""

FaultSet = tuple[Fault, ...]
"""Faults of different roots."""


@dataclass(frozen=True, eq=False)
class Table:
    """Listed fault sets with their prior mass, who is in them, and which points hold in them.

    `holders[c]` are the numbers of the sets that hold the c-th cause of the network, `shown[q]` those in
    which point q is true.
    """

    wiring: Wiring
    sets: tuple[FaultSet, ...]
    mass: Floats
    holders: tuple[Places, ...]
    shown: tuple[Places, ...]

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it knows."""
        return self.wiring.points

    @property
    def size(self) -> int:
        """Memberships and true points in all sets."""
        return len(self.mass) + sum(map(len, self.holders)) + sum(map(len, self.shown))

    @cached_property
    def left_out(self) -> float:
        """The prior mass that is not listed."""
        roots = self.wiring.frame.prior.roots
        every = prod(len(roots[root].probabilities) for root in self.wiring.network.roots)
        return mass_left(self.mass, complete=len(self.sets) == every)

    def run(self, findings: Sequence[Finding], columns: Sequence[Sequence[Finding]] | None = None) -> Result:
        """Posteriors over the listed sets, and how far they can be off."""
        likelihood, top = self._weigh(findings)
        weight = self.mass * likelihood
        if columns is None:
            return self._sum(weight, top)
        further = [self._weigh(column) for column in columns]
        found = [self._sum(weight * more, top * above) for more, above in further]
        return stacked(found, *map(len, self.wiring.resting))

    def best(self, findings: Sequence[Finding]) -> tuple[float, frozenset[str]]:
        """The heaviest listed fault set."""
        weight = self.mass * self._weigh(findings)[0]
        index = int(np.argmax(weight))
        if weight[index] <= 0.0:
            return float("-inf"), frozenset()
        inside, roots = self.wiring.network.roots, self.wiring.frame.prior.roots
        outside = [root.probabilities[0] for number, root in enumerate(roots) if number not in inside]
        causes = {roots[root].causes[value - 1] for root, value in self.sets[index]}
        return log(weight[index]) + fsum(map(log, outside)), frozenset(causes)

    def _weigh(self, findings: Sequence[Finding]) -> tuple[Floats, float]:
        """The likelihood of every set, and the largest that any set can have."""
        likelihood, top = np.ones_like(self.mass), 1.0
        for finding in findings:
            if isinstance(finding, Given):
                factors, most = self._given(finding)
                likelihood *= factors
                top *= most
            else:
                factors = np.full(len(self.mass), finding.off)
                factors[self.shown[self.wiring.place[finding.point]]] = finding.on
                likelihood *= factors
                top *= max(finding.on, finding.off)
        return likelihood, top

    def _given(self, given: Given) -> tuple[Floats, float]:
        probabilities = self.wiring.frame.prior.roots[given.root].probabilities
        if given.root not in self.wiring.network.roots:
            # independent of all that is listed: the same factor for every set
            share = float(np.dot(probabilities, given.factors))
            return np.full(len(self.mass), share), share
        factors = np.full(len(self.mass), given.factors[0])
        first = self._first_cause[given.root]
        for value, factor in enumerate(given.factors[1:]):
            factors[self.holders[first + value]] = factor
        return factors, max(given.factors)

    @cached_property
    def _first_cause(self) -> dict[int, int]:
        """For each root of the network, where its causes begin in `holders`."""
        first, place = {}, 0
        for index, root in enumerate(self.wiring.frame.prior.roots):
            if index in self.wiring.network.roots:
                first[index] = place
                place += len(root.causes)
        return first

    @cached_property
    def _sums(self) -> tuple[Segments, Segments]:
        """How causes and points are read from the sets; place `len(mass)` holds 0 for what is never true."""
        void = np.array([len(self.mass)], dtype=np.intp)
        return _groups(self.holders, void), _groups(self.shown, void)

    def _sum(self, weight: Floats, top: float) -> Result:
        total = float(weight.sum())
        if total == 0.0:
            unknown = float(self.left_out * top > 0.0)
            return Result(np.asarray(float("-inf")), *self.wiring.resting, np.asarray(unknown))
        share = np.append(weight / total, 0.0)
        causes = self.wiring.resting[0].copy()
        by_cause, by_point = self._sums
        causes[self.wiring.causes[0]] = by_cause.sum(share)
        missed = self.left_out * top
        bound = missed / (total + missed) if missed > 0.0 else 0.0
        return Result(np.asarray(log(total)), causes, by_point.sum(share), np.asarray(bound))


def _groups(places: Sequence[Places], void: Places) -> Segments:
    """Groups of places; an empty one reads the void."""
    filled = [one if len(one) else void for one in places]
    lengths = np.array([len(one) for one in filled], dtype=np.intp)
    return Segments.of(lengths, np.concatenate(filled) if filled else void[:0])


def table_of(frame: Frame, wiring: Wiring, limits: Limits) -> Table:
    """A table of as many fault sets as the limits allow: all singles, then the likeliest pairs and triples."""
    inner = tuple(sorted(wiring.network.roots))
    sets = tuple(_listed(frame, inner, limits.sets))
    holders = _holders(frame, inner, sets)
    return Table(wiring, sets, _mass(frame, inner, sets), holders, _simulate(frame, wiring, holders, len(sets)))


def _holders(frame: Frame, inner: Sequence[int], sets: Sequence[FaultSet]) -> tuple[Places, ...]:
    found: dict[Fault, list[int]] = {
        (root, value): [] for root in inner for value in range(1, len(frame.prior.roots[root].probabilities))
    }
    for number, faults in enumerate(sets):
        for fault in faults:
            found[fault].append(number)
    return tuple(np.array(numbers, dtype=np.intp) for numbers in found.values())


def _listed(frame: Frame, inner: Sequence[int], most: int) -> Iterator[FaultSet]:
    roots = frame.prior.roots
    faults = [(root, value) for root in inner for value in range(1, len(roots[root].probabilities))]
    faults.sort(key=lambda fault: -roots[fault[0]].probabilities[fault[1]] / roots[fault[0]].probabilities[0])
    yield ()
    yield from ((fault,) for fault in faults)
    left = most - len(faults)
    pairs = int((2 * max(left, 0)) ** 0.5)
    yield from _apart(combinations(faults[:pairs], 2))
    left -= min(pairs, len(faults)) ** 2 // 2
    yield from _apart(combinations(faults[: int((6 * max(left, 0)) ** (1 / 3))], 3))


def _apart(sets: Iterator[FaultSet]) -> Iterator[FaultSet]:
    """Only the sets whose faults are of different roots."""
    return (faults for faults in sets if len({root for root, _ in faults}) == len(faults))


def _mass(frame: Frame, inner: Sequence[int], sets: Sequence[FaultSet]) -> Floats:
    roots = frame.prior.roots
    good = {root: log1p(-fsum(roots[root].probabilities[1:])) for root in inner}
    rest = fsum(good.values())
    odds = {
        (root, value): log(p) - good[root]
        for root in inner
        for value, p in enumerate(roots[root].probabilities)
        if value
    }
    return np.exp([rest + sum(odds[fault] for fault in faults) for faults in sets])


def _simulate(frame: Frame, wiring: Wiring, holders: Sequence[Places], count: int) -> tuple[Places, ...]:
    """For each point, the sets in which it is true."""
    shown: dict[Point, Places] = {}
    for number in dict.fromkeys(point.world for point in wiring.points):
        world = frame.worlds[number]
        wanted = [point.literal for point in wiring.points if point.world == number]
        present = {}
        causes = (cause for root in sorted(wiring.network.roots) for cause in frame.prior.roots[root].causes)
        for cause, sets in zip(causes, holders, strict=True):
            if frame.prior.seat[cause][0] not in world.repaired:
                bits = np.zeros(count, dtype=np.bool_)
                bits[sets] = True
                present[cause] = pack(bits)
        found = evaluate_many(frame.graph, dict(world.settings), present, -(-count // 64), wanted)
        for literal, words in found.items():
            shown[wiring.points[0]._replace(literal=literal, world=number)] = np.flatnonzero(unpack(words, count))
    return tuple(shown[point] for point in wiring.points)
