"""The consistent configurations of every clique: what the relations leave possible.

A gate's output is settled by its inputs, so most cells of a clique's dense table are impossible. Only
the possible ones are kept. Supports travel up the junction tree and down again; after that every
configuration kept is part of a state of the whole network (pairwise consistency is global
consistency on a junction tree; Beeri, Fagin, Maier & Yannakakis 1983).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.order import Clique
    from faultree.belief.response import Network, Relation


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


def tables_of(network: Network, cliques: Sequence[Clique]) -> list[Table]:
    """The possible configurations of every clique, in the order of `cliques`."""
    order = top_down(cliques)
    masks = _upward(network, cliques, order)
    for index in order:
        clique = cliques[index]
        if clique.parent >= 0:
            outer = cliques[clique.parent]
            support = _project(masks[clique.parent], outer.separator + outer.own, clique.separator)
            masks[index] &= support.reshape(support.shape + (1,) * len(clique.own))
    made = []
    for clique, mask in zip(cliques, masks, strict=True):
        values = np.array(np.nonzero(mask), dtype=np.intp).reshape(mask.ndim, -1)
        made.append(Table(clique, values, mask.shape))
    return made


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


def _upward(network: Network, cliques: Sequence[Clique], order: Sequence[int]) -> list[NDArray[np.bool_]]:
    place = {variable: index for index, clique in enumerate(cliques) for variable in clique.own}
    masks = [
        np.ones([network.sizes[variable] for variable in clique.separator + clique.own], dtype=np.bool_)
        for clique in cliques
    ]
    depth = {index: number for number, index in enumerate(order)}
    for relation in network.relations:
        # the deepest clique among those that eliminate one of the three holds all of them
        index = max((place[variable] for variable in relation[:3]), key=depth.__getitem__)
        clique = cliques[index]
        _restrict(masks[index], clique.separator + clique.own, relation)
    for index in reversed(order):
        clique = cliques[index]
        if clique.parent >= 0:
            outer = cliques[clique.parent]
            support = np.asarray(masks[index].any(axis=tuple(range(len(clique.separator), masks[index].ndim))))
            scope = outer.separator + outer.own
            masks[clique.parent] &= _spread(support, clique.separator, scope)
    return masks


def _restrict(mask: NDArray[np.bool_], scope: tuple[int, ...], relation: Relation) -> None:
    """Take out every cell that a relation forbids."""
    table = np.array(relation.table, dtype=np.intp)
    output = np.arange(mask.shape[scope.index(relation.output)])
    allowed = table[:, :, None] == output
    mask &= _spread(allowed, relation[:3], scope)


def _spread(part: NDArray[np.bool_], variables: Sequence[int], scope: Sequence[int]) -> NDArray[np.bool_]:
    """An array over some variables, shaped so that it broadcasts over a scope that holds them."""
    places = [scope.index(variable) for variable in variables]
    turned = part.transpose(sorted(range(len(places)), key=places.__getitem__))
    shape = [1] * len(scope)
    for place, length in zip(sorted(places), turned.shape, strict=True):
        shape[place] = length
    return turned.reshape(shape)


def _project(mask: NDArray[np.bool_], scope: Sequence[int], onto: Sequence[int]) -> NDArray[np.bool_]:
    """Which combinations of some variables occur in a mask, axes in the order of `onto`."""
    places = [scope.index(variable) for variable in onto]
    rest = tuple(axis for axis in range(mask.ndim) if axis not in places)
    kept = np.asarray(mask.any(axis=rest))
    ranks = np.argsort(np.argsort(places))
    return np.asarray(kept.transpose([int(rank) for rank in ranks]))
