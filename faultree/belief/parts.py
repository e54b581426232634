"""One clique's configurations while they are being found: as a dense mask, or as a list where it is wide.

Both kinds take supports (the combinations of values that occur next door) and give their own.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import prod
from typing import TYPE_CHECKING, Protocol

import numpy as np

from faultree.belief.joins import (
    Budget,
    Listed,
    agreeing,
    join_all,
    listed_domain,
    listed_relation,
    listed_support,
    marked,
    ordered,
    project,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.joins import Combinations
    from faultree.belief.response import Relation

    Mask = NDArray[np.bool_]
    Scope = tuple[int, ...]

Support = tuple["Scope", "Combinations"]
"""Some variables and the combinations of their values that occur."""


class Part(Protocol):
    """What both kinds answer to."""

    @property
    def ready(self) -> bool:
        """Whether the configurations are known; until then it gives no support."""

    def build(self, supports: Sequence[Support], budget: Budget) -> None:
        """Find the configurations, if the budget allows it."""

    def meet(self, support: Support) -> None:
        """Drop the configurations that do not agree with a support."""

    def support(self, onto: Scope) -> Support:
        """The combinations of some variables that occur."""

    def values(self) -> NDArray[np.intp]:
        """The configurations in row-major order, one row for each variable of the scope."""


class SmallPart:
    """A clique whose dense table is small: a mask says which cells are possible."""

    ready = True

    def __init__(self, scope: Scope, sizes: Sequence[int], relations: Sequence[Relation]) -> None:
        self.scope = scope
        self.mask = np.ones([sizes[variable] for variable in scope], dtype=np.bool_)
        for relation in relations:
            self._restrict(relation)

    def _restrict(self, relation: Relation) -> None:
        """Take out every cell that a relation forbids."""
        table = np.array(relation.table, dtype=np.intp)
        output = np.arange(self.mask.shape[self.scope.index(relation.output)])
        self.meet((relation[:3], table[:, :, None] == output))

    def build(self, supports: Sequence[Support], budget: Budget) -> None:
        """Nothing is left to do."""

    def meet(self, support: Support) -> None:
        """Take out every cell that does not agree."""
        variables, allowed = support
        shape = [self.mask.shape[self.scope.index(variable)] for variable in variables]
        marks = allowed if allowed.dtype == np.bool_ else marked(allowed.astype(np.intp), prod(shape))
        self.mask &= _spread(marks.reshape(shape), variables, self.scope)

    def support(self, onto: Scope) -> Support:
        """A mask with axes in the order of `onto`."""
        places = [self.scope.index(variable) for variable in onto]
        rest = tuple(axis for axis in range(self.mask.ndim) if axis not in places)
        kept = np.asarray(self.mask.any(axis=rest))
        order = sorted(places)
        return onto, np.asarray(kept.transpose([order.index(place) for place in places]))

    def values(self) -> NDArray[np.intp]:
        """The cells that are left."""
        return np.array(np.nonzero(self.mask), dtype=np.intp).reshape(self.mask.ndim, -1)


class WidePart:
    """A clique whose dense table would be large: its configurations are listed, once joins can find them."""

    def __init__(self, scope: Scope, sizes: Sequence[int], relations: Sequence[Relation]) -> None:
        self.scope, self.sizes = scope, sizes
        self.relations = [listed_relation(relation) for relation in relations]
        self.found: Listed | None = None

    @property
    def ready(self) -> bool:
        """Whether the joins were small enough by now."""
        return self.found is not None

    def build(self, supports: Sequence[Support], budget: Budget) -> None:
        """Join the relations with the supports known so far."""
        if self.found is not None:
            return
        parts = self.relations + [listed_support(*support, self.sizes) for support in supports]
        covered = {variable for part in parts for variable in part.scope}
        parts += [listed_domain(one, self.sizes[one]) for one in self.scope if one not in covered]
        self.found = join_all(parts, self.sizes, budget)

    def meet(self, support: Support) -> None:
        """Drop what does not agree, once there is something."""
        if self.found is not None:
            self.found = agreeing(self.found, *support, self.sizes)

    def support(self, onto: Scope) -> Support:
        """The distinct combinations."""
        assert self.found is not None, "a part that is not ready gives no support"
        return onto, project(self.found, onto, self.sizes)

    def values(self) -> NDArray[np.intp]:
        """The configurations listed, in order."""
        assert self.found is not None, "a part that is not ready has no values"
        return ordered(self.found, self.scope, self.sizes)


def _spread(part: Mask, variables: Sequence[int], scope: Sequence[int]) -> Mask:
    """An array over some variables, shaped so that it broadcasts over a scope that holds them."""
    places = [scope.index(variable) for variable in variables]
    turned = part.transpose(sorted(range(len(places)), key=places.__getitem__))
    shape = [1] * len(scope)
    for place, length in zip(sorted(places), turned.shape, strict=True):
        shape[place] = length
    return turned.reshape(shape)
