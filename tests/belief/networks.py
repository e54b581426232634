"""Random small networks of variables and relations, their states listed one by one, and the way to a circuit."""

from __future__ import annotations

import random
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray

from faultree.belief.circuit import Circuit
from faultree.belief.layout import circuit_of
from faultree.belief.order import Clique, eliminate
from faultree.belief.response import Network, Relation
from faultree.belief.tables import tables_of

Floats = NDArray[np.float64]
Query = tuple[int, NDArray[np.bool_]]
Factors = tuple[int, Floats]


@dataclass(frozen=True)
class Net:
    """A network, the prior of each of its root variables, and how many roots it has (they come first)."""

    network: Network
    priors: dict[int, tuple[float, ...]]

    @property
    def cliques(self) -> list[Clique]:
        """The junction tree that the order of elimination makes."""
        return eliminate(self.network.sizes, [relation[:3] for relation in self.network.relations])

    def circuit(self, queries: Sequence[Query]) -> Circuit:
        """The network compiled."""
        return circuit_of(tables_of(self.network, self.cliques), self.priors, queries)

    def states(self) -> NDArray[np.intp]:
        """Every state that the relations allow: a row for each, a column for each variable."""
        rows = []
        for values in product(*(range(self.network.sizes[root]) for root in self.priors)):
            state = dict(zip(self.priors, values, strict=True))
            for relation in self.network.relations:  # a relation's inputs come before it
                state[relation.output] = relation.table[state[relation.first]][state[relation.second]]
            rows.append([state[variable] for variable in range(len(self.network.sizes))])
        return np.array(rows, dtype=np.intp).reshape(len(rows), len(self.network.sizes))

    def weights(self, evidence: Iterable[Factors] = ()) -> Floats:
        """Prior times evidence of each state, in the order of `states`."""
        states = self.states()
        weights = np.ones(len(states))
        for variable, factors in [*((root, np.array(prior)) for root, prior in self.priors.items()), *evidence]:
            weights *= np.asarray(factors)[states[:, variable]]
        return weights

    def marginals(self, queries: Sequence[Query], evidence: Iterable[Factors] = ()) -> Floats:
        """The share of the states in which each query counts; zeros where nothing is possible."""
        states, weights = self.states(), self.weights(evidence)
        total = weights.sum()
        found = [weights[counts[states[:, variable]]].sum() for variable, counts in queries]
        return np.array(found) / (total if total > 0.0 else 1.0)


def random_net(rng: random.Random, roots: int = 5, gates: int = 7) -> Net:
    """Some roots of two or three values, and gates of two inputs over them and over each other.

    Sometimes a value of a gate can never occur, because its inputs are not free of each other.
    """
    network, priors = Network(), {}
    for _ in range(rng.randint(1, roots)):
        size = rng.choice([2, 2, 3])
        shares = [rng.uniform(0.05, 1.0) for _ in range(size)]
        priors[network.variable(size)] = tuple(share / sum(shares) for share in shares)
    for _ in range(rng.randint(0, gates) if len(priors) > 1 else 0):
        first, second = rng.sample(range(len(network.sizes)), 2)
        rows, columns = network.sizes[first], network.sizes[second]
        size = rng.randint(2, min(3, rows * columns))
        cells = list(range(size)) + [rng.randrange(size) for _ in range(rows * columns - size)]
        rng.shuffle(cells)
        table = tuple(tuple(cells[row * columns : (row + 1) * columns]) for row in range(rows))
        network.relations.append(Relation(first, second, network.variable(size), table))
    return Net(network, priors)


def random_queries(rng: random.Random, net: Net) -> list[Query]:
    """For each variable one or two questions about some of its values, in no order."""
    sizes = net.network.sizes
    asked = [variable for variable in range(len(sizes)) for _ in range(rng.randint(1, 2))]
    queries = [(variable, np.array([rng.random() < 0.5 for _ in range(sizes[variable])])) for variable in asked]
    rng.shuffle(queries)
    return queries


def random_evidence(rng: random.Random, net: Net, most: int = 4) -> list[Factors]:
    """Factors on a few variables; some of them rule values out, sometimes all that is possible."""
    found = []
    for _ in range(rng.randint(0, most)):
        variable = rng.randrange(len(net.network.sizes))
        size = net.network.sizes[variable]
        found.append((variable, np.array([rng.choice([0.0, 1.0, rng.uniform(1e-6, 1.0)]) for _ in range(size)])))
    return found


def nets() -> st.SearchStrategy[Net]:
    """A Hypothesis strategy over random networks."""
    return st.randoms(use_true_random=False).map(random_net)
