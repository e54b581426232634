"""Listed configurations of some variables, and natural joins of such lists that stop before they grow too large.

A list has a scope (variables) and one row of values for each of them, a column for each configuration,
no configuration twice. Joins are those of relational algebra (Codd 1970): the configurations over both
scopes that agree with one of each list. Combinations of a few variables are marked cell by cell in an
array of truth values, or, where there would be too many cells, given by their row-major numbers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.response import Relation

    Places = NDArray[np.intp]
    Values = NDArray[np.int32]
    Combinations = NDArray[np.bool_] | NDArray[np.intp]


MARKED = 1 << 22
"""Up to so many cells, combinations are marked; beyond that they are numbered."""


class Listed(NamedTuple):
    """Configurations: `values[k]` holds the value of `scope[k]` in each of them."""

    scope: tuple[int, ...]
    values: Values

    @property
    def length(self) -> int:
        """How many configurations there are."""
        return int(self.values.shape[1])


@dataclass
class Budget:
    """How many configurations one join may make (`most`), and all joins together (`left`)."""

    most: int
    left: int

    def allows(self, made: int) -> bool:
        """Whether so many more may be made; if so, they are taken off."""
        if made > min(self.most, self.left):
            return False
        self.left -= made
        return True


def ravel(values: Values | Places, sizes: Sequence[int]) -> Places:
    """The row-major number of each configuration, the first variable counting most.

    >>> ravel(np.array([[0, 1, 1], [2, 0, 2]]), (2, 3)).tolist()
    [2, 3, 5]
    """
    number = np.zeros(values.shape[1], dtype=np.intp)
    for row, size in zip(values, sizes, strict=True):
        number *= size
        number += row
    return number


def unravel(numbers: Places, sizes: Sequence[int]) -> Values:
    """The configurations of row-major numbers; the inverse of `ravel`."""
    values = np.empty((len(sizes), len(numbers)), dtype=np.int32)
    for place in range(len(sizes) - 1, -1, -1):
        numbers, values[place] = np.divmod(numbers, sizes[place])
    return values


def listed_relation(relation: Relation) -> Listed:
    """All configurations that a relation allows."""
    table = np.array(relation.table, dtype=np.int32)
    first, second = np.indices(table.shape, dtype=np.int32)
    return Listed(relation[:3], np.stack([first.ravel(), second.ravel(), table.ravel()]))


def listed_domain(variable: int, size: int) -> Listed:
    """A variable that may have any of its values."""
    return Listed((variable,), np.arange(size, dtype=np.int32)[None, :])


def join(one: Listed, two: Listed, sizes: Sequence[int], budget: Budget) -> Listed | None:
    """The natural join; None where the budget does not allow it (nothing is made then).

    `sizes` gives every variable's number of values.
    """
    shared = [variable for variable in one.scope if variable in two.scope]
    fresh = [place for place, variable in enumerate(two.scope) if variable not in shared]
    ours, theirs = numbered(one, shared, sizes), numbered(two, shared, sizes)
    order = np.argsort(theirs, kind="stable")
    ranked = theirs[order]
    first = np.searchsorted(ranked, ours, side="left")
    counts = np.searchsorted(ranked, ours, side="right") - first
    total = int(counts.sum())
    if not budget.allows(total):
        return None
    left = np.repeat(np.arange(one.length), counts)
    inside = np.arange(total) - np.repeat(np.cumsum(counts) - counts, counts)
    right = order[np.repeat(first, counts) + inside]
    scope = one.scope + tuple(two.scope[place] for place in fresh)
    return Listed(scope, np.concatenate([one.values.take(left, axis=1), two.values[fresh].take(right, axis=1)]))


def join_all(parts: Sequence[Listed], sizes: Sequence[int], budget: Budget) -> Listed | None:
    """The natural join of some lists, those first that add least; None where the budget ends."""
    waiting = sorted(parts, key=lambda part: part.length)
    joined = waiting.pop(0)
    while waiting:
        growth = [_growth(joined, part, sizes) for part in waiting]
        made = join(joined, waiting.pop(growth.index(min(growth))), sizes, budget)
        if made is None:
            return None
        joined = made
    return joined


def _growth(joined: Listed, part: Listed, sizes: Sequence[int]) -> float:
    """By how much joining a part would multiply the list, if values were spread evenly."""
    growth = float(part.length)
    for variable in part.scope:
        if variable in joined.scope:
            growth /= sizes[variable]
    return growth


def numbered(listed: Listed, onto: Sequence[int], sizes: Sequence[int]) -> Places:
    """The row-major number of each configuration seen through some of its variables."""
    number = np.zeros(listed.length, dtype=np.intp)
    for variable in onto:
        number *= sizes[variable]
        number += listed.values[listed.scope.index(variable)]
    return number


def project(listed: Listed, onto: tuple[int, ...], sizes: Sequence[int]) -> Combinations:
    """The combinations of some of the variables that occur."""
    numbers, cells = numbered(listed, onto, sizes), prod(sizes[variable] for variable in onto)
    return marked(numbers, cells) if cells <= MARKED else np.unique(numbers)


def agreeing(listed: Listed, scope: tuple[int, ...], support: Combinations, sizes: Sequence[int]) -> Listed:
    """The configurations whose values of some variables are among these combinations (a semijoin)."""
    ours = numbered(listed, scope, sizes)
    kept = support.ravel()[ours] if support.dtype == np.bool_ else np.isin(ours, support)
    return listed if kept.all() else Listed(listed.scope, listed.values.take(np.flatnonzero(kept), axis=1))


def listed_support(scope: tuple[int, ...], support: Combinations, sizes: Sequence[int]) -> Listed:
    """Combinations of some variables as a list."""
    numbers = np.flatnonzero(support) if support.dtype == np.bool_ else support.astype(np.intp)
    return Listed(scope, unravel(numbers, [sizes[variable] for variable in scope]))


def marked(numbers: Places, cells: int) -> NDArray[np.bool_]:
    """For each of some cells whether its number is among these."""
    marks = np.zeros(cells, dtype=np.bool_)
    marks[numbers] = True
    return marks


def ordered(listed: Listed, scope: tuple[int, ...], sizes: Sequence[int]) -> Places:
    """The values with rows in the order of `scope` and configurations in row-major order."""
    values = listed.values[[listed.scope.index(variable) for variable in scope]]
    order = np.argsort(ravel(values, [sizes[variable] for variable in scope]))
    return values.take(order, axis=1).astype(np.intp)
