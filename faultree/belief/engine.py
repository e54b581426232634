"""What every engine answers, and the exact one: a response network compiled into a circuit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import fsum, log
from typing import TYPE_CHECKING, NamedTuple, Protocol

import numpy as np

from faultree.belief.evidence import Point
from faultree.belief.layout import circuit_of
from faultree.belief.order import TooWide as TooWide
from faultree.belief.order import eliminate
from faultree.belief.peak import peak
from faultree.belief.response import Network, Target, network_of
from faultree.belief.tables import tables_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.circuit import Circuit, Evidence
    from faultree.belief.frame import Frame

    Floats = NDArray[np.float64]


class Limits(NamedTuple):
    """When a network counts as too wide, and how much the bounded engines may spend.

    `cells`: of one clique's dense table (few of which are possible); `size`: configurations of the
    whole circuit; `work`: configurations times columns that one run may touch; `sets`: fault sets in
    a table; `held_cells`, `settings`: of one clique, and how many, in the conditioned engine.
    """

    cells: int = 1 << 40
    size: int = 600_000
    work: int = 40_000_000
    sets: int = 60_000
    held_cells: int = 1 << 14
    settings: int = 4096


class On(NamedTuple):
    """Evidence on a point: one factor where it is false, one where it is true."""

    point: Point
    off: float
    on: float


class Given(NamedTuple):
    """Evidence on a root: one factor for each of its values (good first)."""

    root: int
    factors: tuple[float, ...]


Finding = On | Given


class Result(NamedTuple):
    """What an engine finds for one set of evidence, or for several (then a trailing axis).

    `log_z` is the log of P(evidence), -inf where it is impossible; `causes` holds the probability
    of each cause in the prior's order, `points` that of each point the engine was made for. No
    probability is off by more than `bound`.
    """

    log_z: Floats
    causes: Floats
    points: Floats
    bound: Floats


def mass_left(mass: Floats, *, complete: bool) -> float:
    """What some prior masses leave of 1: nothing where they are all there is, else never less than rounding."""
    return 0.0 if complete else max(1.0 - fsum(mass), 1e-15)


def stacked(results: Sequence[Result], causes: int, points: int) -> Result:
    """Results side by side along a trailing axis; the numbers of causes and points shape an empty one."""
    if not results:
        return Result(np.zeros(0), np.zeros((causes, 0)), np.zeros((points, 0)), np.zeros(0))
    return Result(*(np.stack([np.asarray(one[part]) for one in results], axis=-1) for part in range(4)))


class Engine(Protocol):
    """The face of every engine: made for some points of a frame, asked with findings on them."""

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it knows, in the order of `Result.points`."""

    @property
    def size(self) -> int:
        """How many numbers one run touches."""

    def run(self, findings: Sequence[Finding], columns: Sequence[Sequence[Finding]] | None = None) -> Result:
        """Posteriors given some findings, or given those and each of several further ones."""

    def best(self, findings: Sequence[Finding]) -> tuple[float, frozenset[str]]:
        """The likeliest fault set: the log of its joint weight with the evidence, and its causes."""


@dataclass(frozen=True, eq=False)
class Wiring:
    """A network with the names of what goes in and comes out of it."""

    frame: Frame
    points: tuple[Point, ...]
    network: Network

    @cached_property
    def place(self) -> dict[Point, int]:
        """Where each point stands among `points`."""
        return {point: number for number, point in enumerate(self.points)}

    @cached_property
    def causes(self) -> tuple[NDArray[np.intp], list[tuple[int, NDArray[np.bool_]]]]:
        """Numbers of the causes inside the network, and the query that reads each."""
        numbers, queries = [], []
        number = 0
        for index, root in enumerate(self.frame.prior.roots):
            for value in range(1, len(root.probabilities)):
                if index in self.network.roots:
                    numbers.append(number)
                    queries.append((self.network.roots[index], np.arange(len(root.probabilities)) == value))
                number += 1
        return np.array(numbers, dtype=np.intp), queries

    @cached_property
    def open_points(self) -> tuple[NDArray[np.intp], list[tuple[int, NDArray[np.bool_]]]]:
        """Numbers of the points that are not settled, and the query that reads each."""
        numbers, queries = [], []
        for number, (variable, vectors) in enumerate(self.network.targets):
            if variable >= 0:
                numbers.append(number)
                queries.append((variable, np.array(vectors, dtype=np.bool_)))
        return np.array(numbers, dtype=np.intp), queries

    @cached_property
    def resting(self) -> tuple[Floats, Floats]:
        """Causes and points as they are where no query reads them: priors and settled values."""
        causes = [p for root in self.frame.prior.roots for p in root.probabilities[1:]]
        points = [float(vectors[0]) for _, vectors in self.network.targets]
        return np.array(causes), np.array(points)

    @property
    def priors(self) -> dict[int, tuple[float, ...]]:
        """The prior of each root variable of the network."""
        return {variable: self.frame.prior.roots[root].probabilities for root, variable in self.network.roots.items()}

    def enter(self, findings: Sequence[Finding]) -> tuple[float, list[Evidence]]:
        """Findings as evidence on variables, and the log of the factors that settled points give."""
        settled, evidence = 0.0, []
        for finding in findings:
            if isinstance(finding, Given):
                variable = self.network.roots.get(finding.root, -1)
                factors = np.array(finding.factors)
                shown = self.frame.prior.roots[finding.root].probabilities
                weight = float(np.dot(shown, factors))
            else:
                variable, vectors = self.network.targets[self.place[finding.point]]
                factors = np.where(np.array(vectors, dtype=np.bool_), finding.on, finding.off)
                weight = float(factors[0])
            if variable >= 0:
                evidence.append((variable, factors))
            else:
                settled += log(weight) if weight > 0.0 else -np.inf
        return settled, evidence

    def read(self, marginals: Floats) -> tuple[Floats, Floats]:
        """Causes and points from the answers to all queries, causes first."""
        inside, _ = self.causes
        asked, _ = self.open_points
        causes, points = self.resting
        tail = marginals.shape[1:]
        causes = np.broadcast_to(causes.reshape(-1, *(1,) * len(tail)), (len(causes), *tail)).copy()
        points = np.broadcast_to(points.reshape(-1, *(1,) * len(tail)), (len(points), *tail)).copy()
        within = np.minimum(marginals, 1.0)  # rounding may lead just above
        causes[inside] = within[: len(inside)]
        points[asked] = within[len(inside) :]
        return causes, points


def wire(frame: Frame, points: Sequence[Point]) -> Wiring:
    """The response network for some points (literals must be even: ask the node itself)."""
    number: dict[int, int] = {}
    targets = [Target(literal, number.setdefault(world, len(number))) for literal, world in points]
    worlds = [frame.worlds[world] for world in number]
    return Wiring(frame, tuple(points), network_of(frame.graph, frame.prior, worlds, targets))


@dataclass(frozen=True, eq=False)
class Exact:
    """The exact engine: every probability is right to rounding."""

    wiring: Wiring
    circuit: Circuit

    @property
    def points(self) -> tuple[Point, ...]:
        """The points it knows."""
        return self.wiring.points

    @property
    def size(self) -> int:
        """Configurations of the circuit."""
        return self.circuit.size

    def run(self, findings: Sequence[Finding], columns: Sequence[Sequence[Finding]] | None = None) -> Result:
        """Exact posteriors."""
        settled, evidence = self.wiring.enter(findings)
        if columns is None:
            log_z, marginals = self.circuit.run(evidence)
        else:
            further = [self.wiring.enter(column) for column in columns]
            log_z, marginals = self.circuit.run(evidence, [one for _, one in further])
            log_z = log_z + np.array([weight for weight, _ in further])
        causes, points = self.wiring.read(marginals)
        return Result(np.asarray(log_z + settled), causes, points, np.zeros(np.shape(log_z)))

    def best(self, findings: Sequence[Finding]) -> tuple[float, frozenset[str]]:
        """The likeliest fault set; units outside the network are good in it."""
        settled, evidence = self.wiring.enter(findings)
        network, prior = self.wiring.network, self.wiring.frame.prior
        weight, values = peak(self.circuit, evidence, list(network.roots.values()))
        outside = [root.probabilities[0] for index, root in enumerate(prior.roots) if index not in network.roots]
        seats = {variable: index for index, variable in network.roots.items()}
        causes = {prior.roots[seats[variable]].causes[value - 1] for variable, value in values.items()}
        return settled + weight + fsum(map(log, outside)), frozenset(causes)


def compile_exact(frame: Frame, points: Sequence[Point], limits: Limits = Limits()) -> Exact:
    """The exact engine for some points; raises TooWide beyond the limits."""
    wiring = wire(frame, points)
    return Exact(wiring, circuit_for(wiring, limits))


def circuit_for(wiring: Wiring, limits: Limits) -> Circuit:
    """The circuit of a wired network; raises TooWide beyond the limits."""
    network = wiring.network
    cliques = eliminate(network.sizes, [relation[:3] for relation in network.relations], limits.cells)
    return circuit_of(tables_of(network, cliques, limits.size), wiring.priors, wiring.causes[1] + wiring.open_points[1])
