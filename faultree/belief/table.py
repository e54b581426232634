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
from math import fsum, log, log1p
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.engine import Finding, Given, Limits, Result, Wiring
from faultree.logic.simulate import evaluate_many, pack, unpack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.evidence import Point
    from faultree.belief.frame import Frame

    Floats = NDArray[np.float64]

Fault = tuple[int, int]
"""A root's index and a value of it that is not 0."""


@dataclass(frozen=True, eq=False)
class Table:
    """Listed fault sets with their prior mass, and the truth of every point in each.

    `values[r, f]` is the value of inner root r in set f, `shows[q, f]` whether point q holds there.
    """

    wiring: Wiring
    inner: tuple[int, ...]
    mass: Floats
    values: NDArray[np.int16]
    shows: NDArray[np.bool_]

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it knows."""
        return self.wiring.points

    @property
    def size(self) -> int:
        """Fault sets times points."""
        return int(self.shows.size)

    @cached_property
    def left_out(self) -> float:
        """The prior mass that is not listed."""
        return max(0.0, 1.0 - fsum(self.mass))

    def run(self, findings: Sequence[Finding], columns: Sequence[Sequence[Finding]] | None = None) -> Result:
        """Posteriors over the listed sets, and how far they can be off."""
        likelihood, top = self._weigh(findings)
        weight = self.mass * likelihood
        if columns is None:
            return self._sum(weight[:, None], np.array([top]), flat=True)
        further = [self._weigh(column) for column in columns]
        joint = weight[:, None] * np.array([one for one, _ in further]).T
        return self._sum(joint, top * np.array([one for _, one in further]), flat=False)

    def best(self, findings: Sequence[Finding]) -> tuple[float, frozenset[str]]:
        """The heaviest listed fault set."""
        weight = self.mass * self._weigh(findings)[0]
        index = int(np.argmax(weight))
        if weight[index] <= 0.0:
            return float("-inf"), frozenset()
        roots = self.wiring.frame.prior.roots
        outside = [root.probabilities[0] for number, root in enumerate(roots) if number not in self.inner]
        present = np.flatnonzero(self.values[:, index])
        causes = {roots[self.inner[row]].causes[self.values[row, index] - 1] for row in present}
        return log(weight[index]) + fsum(map(log, outside)), frozenset(causes)

    def _weigh(self, findings: Sequence[Finding]) -> tuple[Floats, float]:
        """The likelihood of every set, and the largest that any set can have."""
        likelihood, top = np.ones_like(self.mass), 1.0
        for finding in findings:
            if isinstance(finding, Given):
                factors = np.array(finding.factors)
                if finding.root in self.inner:
                    likelihood *= factors[self.values[self.inner.index(finding.root)]]
                    top *= float(factors.max())
                else:  # independent of all that is listed: the same factor for every set
                    share = float(np.dot(self.wiring.frame.prior.roots[finding.root].probabilities, factors))
                    likelihood *= share
                    top *= share
            else:
                shown = self.shows[self.wiring.place[finding.point]]
                likelihood *= np.where(shown, finding.on, finding.off)
                top *= max(finding.on, finding.off)
        return likelihood, top

    def _sum(self, joint: Floats, top: Floats, *, flat: bool) -> Result:
        total = joint.sum(axis=0)
        share = joint / np.where(total > 0.0, total, 1.0)
        resting, _ = self.wiring.resting
        causes = np.repeat(resting[:, None], joint.shape[1], axis=1)
        number = 0
        seats = {root: row for row, root in enumerate(self.inner)}
        for index, root in enumerate(self.wiring.frame.prior.roots):
            for value in range(1, len(root.probabilities)):
                if index in seats:
                    causes[number] = share[self.values[seats[index]] == value].sum(axis=0)
                number += 1
        points = np.stack([share[shown].sum(axis=0) for shown in self.shows]) if len(self.shows) else share[:0]
        missed = self.left_out * top
        bound = np.where(total + missed > 0.0, missed / np.where(total + missed > 0.0, total + missed, 1.0), 0.0)
        with np.errstate(divide="ignore"):
            found = Result(np.log(total), causes, points, bound)
        return Result(*(array[..., 0] for array in found)) if flat else found


def table_of(frame: Frame, wiring: Wiring, limits: Limits) -> Table:
    """A table of as many fault sets as the limits allow: all singles, then the likeliest pairs and triples."""
    inner = tuple(sorted(wiring.network.roots))
    sets = list(_listed(frame, inner, limits.sets))
    row = {root: number for number, root in enumerate(inner)}
    values = np.zeros((len(inner), len(sets)), dtype=np.int16)
    for number, faults in enumerate(sets):
        for root, value in faults:
            values[row[root], number] = value
    return Table(wiring, inner, _mass(frame, inner, values), values, _simulate(frame, wiring, inner, values))


def _listed(frame: Frame, inner: Sequence[int], most: int) -> Iterator[tuple[Fault, ...]]:
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


def _apart(sets: Iterator[tuple[Fault, ...]]) -> Iterator[tuple[Fault, ...]]:
    """Only the sets whose faults are of different roots."""
    return (faults for faults in sets if len({root for root, _ in faults}) == len(faults))


def _mass(frame: Frame, inner: Sequence[int], values: NDArray[np.int16]) -> Floats:
    total = np.zeros(values.shape[1])
    for row, root in enumerate(inner):
        probabilities = frame.prior.roots[root].probabilities
        logs = np.array([log1p(-fsum(probabilities[1:])), *map(log, probabilities[1:])])
        total += logs[values[row]]
    return np.exp(total)


def _simulate(frame: Frame, wiring: Wiring, inner: Sequence[int], values: NDArray[np.int16]) -> NDArray[np.bool_]:
    shows = np.zeros((len(wiring.points), values.shape[1]), dtype=np.bool_)
    for number in dict.fromkeys(point.world for point in wiring.points):
        world = frame.worlds[number]
        wanted = [point.literal for point in wiring.points if point.world == number]
        present = {
            cause: pack(values[row] == value)
            for row, root in enumerate(inner)
            if root not in world.repaired
            for value, cause in enumerate(frame.prior.roots[root].causes, start=1)
        }
        words = -(-values.shape[1] // 64)
        found = evaluate_many(frame.graph, dict(world.settings), present, words, wanted)
        for place, point in enumerate(wiring.points):
            if point.world == number:
                shows[place] = unpack(found[point.literal], values.shape[1])
    return shows
