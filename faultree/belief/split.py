"""The conditioned engine: a few chosen variables are held at fixed values, many settings at once.

Every use of a chosen variable gets a copy of its own, which cuts the network there; holding the
variable and its copies at one value makes the cut exact for that value. So one circuit serves all
settings, each a column of evidence, and only settings that are not tried are missing. With e the
prior mass of those, S the tried mass times likelihood and L the largest likelihood that a fault set
can have, no posterior is off by more than e L / (S + e L) (bounded conditioning: Horvitz, Suermondt
& Cooper 1989).
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import log, prod
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.engine import Exact, Finding, Limits, Result, TooWide, Wiring, circuit_for, mass_left, stacked
from faultree.belief.order import Clique, eliminate
from faultree.belief.response import Network, Relation
from faultree.belief.tables import dense_cells

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.circuit import Circuit, Evidence
    from faultree.belief.evidence import Point

    Floats = NDArray[np.float64]

MOST_CHOSEN = 64
"""More variables than this are not held: too little of the prior would be covered."""

CHUNK = 3_000_000
"""Configurations times settings held in memory at once."""

WORK = 8_000_000
"""Configurations times settings that one question may touch, further sets of evidence included."""

PEAKS = 12
"""The likeliest fault set is looked for in so many of the likeliest settings."""

Setting = tuple[int, ...]
"""A value for each chosen variable."""


@dataclass(frozen=True, eq=False)
class Split:
    """One circuit and the settings that it is run with.

    `held[s]` is the evidence that makes setting s, `mass[s]` its prior probability; `complete` where no
    setting is missing.
    """

    wiring: Wiring
    circuit: Circuit
    held: tuple[tuple[Evidence, ...], ...]
    mass: Floats
    complete: bool

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it knows."""
        return self.wiring.points

    @property
    def size(self) -> int:
        """Configurations times settings."""
        return self.circuit.size * len(self.held)

    @property
    def left_out(self) -> float:
        """The prior probability of all settings that are not tried."""
        return mass_left(self.mass, complete=self.complete)

    def run(self, findings: Sequence[Finding], columns: Sequence[Sequence[Finding]] | None = None) -> Result:
        """Posteriors over the settings tried, and how far they can be off."""
        settled, evidence = self.wiring.enter(findings)
        if columns is None:
            return self.mixed(evidence, settled)
        part = self._likeliest(evidence, max(1, WORK // (self.circuit.size * max(1, len(columns)))))
        found = []
        for column in columns:
            more, further = self.wiring.enter(column)
            found.append(part.mixed([*evidence, *further], settled + more))
        return stacked(found, *map(len, self.wiring.resting))

    def best(self, findings: Sequence[Finding]) -> tuple[float, frozenset[str]]:
        """The heaviest fault set found in the likeliest settings."""
        _, evidence = self.wiring.enter(findings)
        likely = np.argsort(-self.weights(evidence))[:PEAKS]
        found = []
        for setting in likely:
            one = Exact(self.wiring, _held_circuit(self.circuit, self.held[setting]))
            found.append(one.best(findings))
        return max(found, key=lambda pair: pair[0])

    def _likeliest(self, evidence: Sequence[Evidence], most: int) -> Split:
        """The engine with only its likeliest settings given some evidence."""
        if most >= len(self.held):
            return self
        kept = np.argsort(-self.weights(evidence))[:most]
        held = tuple(self.held[index] for index in kept)
        return replace(self, held=held, mass=self.mass[kept], complete=False)

    def weights(self, evidence: Sequence[Evidence]) -> Floats:
        """The log of P(setting and evidence) of every setting tried."""
        parts = [self.circuit.log_z(evidence, part) for part in self._chunks()]
        return np.concatenate(parts)

    def _chunks(self) -> Iterator[Sequence[Sequence[Evidence]]]:
        width = max(1, CHUNK // self.circuit.size)
        for start in range(0, len(self.held), width):
            yield self.held[start : start + width]

    def mixed(self, evidence: Sequence[Evidence], settled: float) -> Result:
        """The settings weighed by what the evidence says of each; what is settled weighs all alike."""
        solutions = [self.circuit.run(evidence, part) for part in self._chunks()]
        logs = np.concatenate([solution.log_z for solution in solutions])
        peak = float(logs.max())
        if peak == float("-inf"):
            causes, points = self.wiring.resting
            return Result(np.asarray(peak), causes, points, np.asarray(float(self.left_out > 0.0)))
        weight = np.exp(logs - peak)
        marginals = np.concatenate([solution.marginals for solution in solutions], axis=1) @ (weight / weight.sum())
        causes, points = self.wiring.read(marginals)
        log_z = peak + log(float(weight.sum()))
        missed = self.left_out * _top(evidence)
        return Result(np.asarray(log_z + settled), causes, points, np.asarray(missed / (np.exp(log_z) + missed)))


def _top(evidence: Sequence[Evidence]) -> float:
    """The largest likelihood that any fault set can have."""
    return float(np.prod([factors.max() for _, factors in evidence]))


def _held_circuit(circuit: Circuit, held: Sequence[Evidence]) -> Circuit:
    return replace(circuit, base=circuit.enter(held))


def split_of(wiring: Wiring, limits: Limits) -> Split:
    """The conditioned engine for a network that is too wide; raises TooWide where it cannot be cut small."""
    chosen = _choose(wiring.network, limits)
    network, copies = cut(wiring.network, chosen)
    circuit = circuit_for(replace(wiring, network=network), limits)
    most = max(1, min(limits.settings, WORK // circuit.size))
    shares = _shares(wiring)
    settings = [setting for setting, _ in zip(_likeliest([shares[v] for v in chosen]), range(most), strict=False)]
    held = [_hold(chosen, copies, setting, network.sizes) for setting in settings]
    complete = len(settings) == prod(network.sizes[variable] for variable in chosen)
    engine = Split(wiring, circuit, tuple(held), np.zeros(0), complete)
    mass = np.exp(engine.weights(()))
    kept = np.flatnonzero(mass > 0.0)
    return replace(engine, held=tuple(held[index] for index in kept), mass=mass[kept])


def _choose(network: Network, limits: Limits) -> list[int]:
    """Variables whose holding makes every clique small, those in most of the too large cliques first."""
    chosen: list[int] = []
    while True:
        small, _ = cut(network, chosen)
        cliques = eliminate(small.sizes, [relation[:3] for relation in small.relations])
        large = [clique for clique in cliques if dense_cells(small.sizes, clique) > limits.held_cells]
        if not large:
            return chosen
        fresh = _cover(large, small, len(network.sizes), limits.held_cells)
        new = [variable for variable in fresh if variable not in chosen]
        chosen += new
        if len(chosen) > MOST_CHOSEN or not new:
            raise TooWide


def _cover(large: Sequence[Clique], network: Network, originals: int, most: int) -> list[int]:
    """Variables to take out of some cliques until none of them is too large, the most common first."""
    scopes = [[v for v in clique.separator + clique.own if v < originals] for clique in large]
    cells = [dense_cells(network.sizes, clique) for clique in large]
    picked: list[int] = []
    while any(one > most for one in cells) and len(picked) < MOST_CHOSEN:
        counts: dict[int, float] = {}
        for scope, size in zip(scopes, cells, strict=True):
            for variable in scope if size > most else ():
                counts[variable] = counts.get(variable, 0.0) + log(max(network.sizes[variable], 2))
        if not counts:
            break
        best = max(counts, key=lambda variable: (counts[variable], -variable))
        picked.append(best)
        for place, scope in enumerate(scopes):
            if best in scope:
                scope.remove(best)
                cells[place] //= network.sizes[best]
    return picked


def cut(network: Network, chosen: Sequence[int]) -> tuple[Network, dict[int, list[int]]]:
    """The network with every use of the chosen variables replaced by a copy, and the copies of each."""
    copies: dict[int, list[int]] = {variable: [] for variable in chosen}
    sizes = list(network.sizes)

    def used(variable: int) -> int:
        if variable not in copies:
            return variable
        sizes.append(sizes[variable])
        copies[variable].append(len(sizes) - 1)
        return len(sizes) - 1

    relations = [Relation(used(a), used(b), output, table) for a, b, output, table in network.relations]
    return replace(network, sizes=sizes, relations=relations), copies


def _hold(
    chosen: Sequence[int], copies: dict[int, list[int]], setting: Setting, sizes: Sequence[int]
) -> tuple[Evidence, ...]:
    held = []
    for variable, value in zip(chosen, setting, strict=True):
        factors = (np.arange(sizes[variable]) == value).astype(np.float64)
        held += [(one, factors) for one in (variable, *copies[variable])]
    return tuple(held)


def _shares(wiring: Wiring) -> list[Floats]:
    """A rough prior of every variable, as if the inputs of each gate were independent."""
    network = wiring.network
    shares = [np.zeros(size) for size in network.sizes]
    for variable, prior in wiring.priors.items():
        shares[variable] = np.array(prior)
    for first, second, output, table in network.relations:
        joint = np.outer(shares[first], shares[second])
        np.add.at(shares[output], np.array(table), joint)
    return shares


def _likeliest(shares: Sequence[Floats]) -> Iterator[Setting]:
    """All settings of independent variables, likeliest first."""
    orders = [np.argsort(-share, kind="stable") for share in shares]
    costs = [-np.log(np.maximum(share[order], 1e-300)) for share, order in zip(shares, orders, strict=True)]
    start = (0,) * len(shares)
    heap = [(float(sum(cost[0] for cost in costs)), start, 0)]
    while heap:
        cost, ranks, first = heapq.heappop(heap)
        yield tuple(int(order[rank]) for order, rank in zip(orders, ranks, strict=True))
        # each setting has one parent: the one with its last raised rank lowered
        for place in range(first, len(ranks)):
            rank = ranks[place] + 1
            if rank < len(costs[place]):
                step = float(costs[place][rank] - costs[place][rank - 1])
                heapq.heappush(heap, (cost + step, (*ranks[:place], rank, *ranks[place + 1 :]), place))
