"""The consistent configurations of every clique: what the relations leave possible.

A gate's output is settled by its inputs, so most cells of a clique's dense table are impossible. Only
the possible ones are kept. Supports travel up the junction tree and down again; after that every
configuration kept is part of a state of the whole network (pairwise consistency is global
consistency on a junction tree; Beeri, Fagin, Maier & Yannakakis 1983).

Wide cliques are put off while finding their configurations would take large joins: supports from the
other side of the tree often make them small later.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.joins import Budget
from faultree.belief.order import Clique, TooWide
from faultree.belief.parts import Part, SmallPart, WidePart

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.response import Network, Relation

DENSE = 1 << 12
"""Cliques of up to so many cells start from a dense table, wider ones from lists."""

FIRST, GROWTH = 30_000, 4
"""How many configurations a join may make at first, and how much more it may each time around."""


@dataclass(frozen=True, slots=True)
class Table:
    """One clique's possible configurations, sorted by those of its separator.

    `values[k]` holds the value of scope variable k (`separator` first, then `own`) in each
    configuration; `parent` is the index of the parent table or -1.
    """

    clique: Clique
    values: NDArray[np.intp]
    sizes: tuple[int, ...]

    @property
    def scope(self) -> tuple[int, ...]:
        """The variables, in the order of `values`."""
        return self.clique.separator + self.clique.own


def dense_cells(sizes: Sequence[int], clique: Clique) -> int:
    """How many cells the dense table of a clique would have."""
    return prod(sizes[variable] for variable in clique.separator + clique.own)


def tables_of(network: Network, cliques: Sequence[Clique], most: int = 1_000_000) -> list[Table]:
    """The possible configurations of every clique, in the order of `cliques`.

    Raises TooWide where they come to more than `most`, or where finding them would take a join of twice as
    many or joins of eight times as many together.
    """
    sizes = network.sizes
    values = _Reduction(network, cliques, Budget(min(FIRST, most), 8 * most)).run(2 * most)
    if sum(one.shape[1] for one in values) > most:
        raise TooWide
    scopes = [clique.separator + clique.own for clique in cliques]
    return [
        Table(clique, found, tuple(sizes[variable] for variable in scope))
        for clique, scope, found in zip(cliques, scopes, values, strict=True)
    ]


class _Reduction:
    """Supports on their way up and down the tree, as often as wide cliques need it."""

    def __init__(self, network: Network, cliques: Sequence[Clique], budget: Budget) -> None:
        self.cliques, self.budget = cliques, budget
        self.order = top_down(cliques)
        self.parts = _parts(network, cliques, self.order)
        self.children: list[list[int]] = [[] for _ in cliques]
        for index, clique in enumerate(cliques):
            if clique.parent >= 0:
                self.children[clique.parent].append(index)

    def run(self, most: int) -> list[NDArray[np.intp]]:
        """The values of every part, when a way up has reached all of them and one down has followed.

        No join makes more than `most` configurations.
        """
        while True:
            self._upward()
            ready = all(part.ready for part in self.parts)
            self._downward()
            if ready:
                return [part.values() for part in self.parts]
            if self.budget.most >= most and not all(part.ready for part in self.parts):
                raise TooWide
            self.budget.most = min(most, self.budget.most * GROWTH)

    def _upward(self) -> None:
        for index in reversed(self.order):
            self._build(index)
            parent = self.cliques[index].parent
            if parent >= 0 and self.parts[index].ready:
                self.parts[parent].meet(self.parts[index].support(self.cliques[index].separator))

    def _downward(self) -> None:
        for index in self.order:
            parent = self.cliques[index].parent
            if parent >= 0 and self.parts[parent].ready:
                self.parts[index].meet(self.parts[parent].support(self.cliques[index].separator))
            self._build(index)

    def _build(self, index: int) -> None:
        """Build a part that is not ready from what its neighbours know."""
        if self.parts[index].ready:
            return
        links = [(child, child) for child in self.children[index]]
        if self.cliques[index].parent >= 0:
            links.append((self.cliques[index].parent, index))
        known = [
            self.parts[near].support(self.cliques[lower].separator) for near, lower in links if self.parts[near].ready
        ]
        self.parts[index].build(known, self.budget)


def _parts(network: Network, cliques: Sequence[Clique], order: Sequence[int]) -> list[Part]:
    """Each clique with the relations that it is the first to hold."""
    place = {variable: index for index, clique in enumerate(cliques) for variable in clique.own}
    depth = {index: number for number, index in enumerate(order)}
    relations: list[list[Relation]] = [[] for _ in cliques]
    for relation in network.relations:
        # the deepest clique among those that eliminate one of the three holds all of them
        relations[max((place[variable] for variable in relation[:3]), key=depth.__getitem__)].append(relation)
    parts: list[Part] = []
    for clique, own in zip(cliques, relations, strict=True):
        kind = SmallPart if dense_cells(network.sizes, clique) <= DENSE else WidePart
        parts.append(kind(clique.separator + clique.own, network.sizes, own))
    return parts


def top_down(cliques: Sequence[Clique]) -> list[int]:
    """Indices of the cliques, parents before children, level by level."""
    children: list[list[int]] = [[] for _ in cliques]
    front: list[int] = []
    for index, clique in enumerate(cliques):
        (front if clique.parent < 0 else children[clique.parent]).append(index)
    order: list[int] = []
    while front:
        order += front
        front = [child for index in front for child in children[index]]
    return order
