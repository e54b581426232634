"""What is in a family of cause sets: how many, of what size, how likely, and the likeliest first."""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import count, islice, takewhile
from math import log, prod
from typing import NamedTuple

from faultree.logic.diagram import deep
from faultree.logic.families import EMPTY, NOTHING, Families

Chosen = tuple[int, "Chosen"] | None
"""Causes chosen so far, as a linked list from the last to the first."""


class Share(NamedTuple):
    """What the sets with one cause in them are: how many, the size of the smallest, and the sum of their weights."""

    sets: int
    order: int
    weight: float


def below(families: Families, family: int) -> list[int]:
    """All families that one is made of, itself included and the two ends not, each after those it is made of."""
    seen: set[int] = set()
    pending = [family]
    while pending:
        one = pending.pop()
        if one > EMPTY and one not in seen:
            seen.add(one)
            pending += (families.high[one], families.low[one])
    return sorted(seen)


def orders(families: Families, family: int) -> dict[int, int]:
    """How many sets there are of each size, smallest size first."""
    known: dict[int, dict[int, int]] = {NOTHING: {}, EMPTY: {0: 1}}
    for one in below(families, family):
        sizes = dict(known[families.low[one]])
        for size, number in known[families.high[one]].items():
            sizes[size + 1] = sizes.get(size + 1, 0) + number
        known[one] = sizes
    return dict(sorted(known[family].items()))


def total(families: Families, family: int, weights: Sequence[float]) -> float:
    """The sum over all sets of the product of their causes' weights."""
    return _sums(families, below(families, family), weights)[family]


def _sums(families: Families, nodes: Sequence[int], weights: Sequence[float]) -> dict[int, float]:
    sums = {NOTHING: 0.0, EMPTY: 1.0}
    for one in nodes:
        sums[one] = weights[families.var[one]] * sums[families.high[one]] + sums[families.low[one]]
    return sums


def shares(families: Families, family: int, weights: Sequence[float]) -> dict[int, Share]:
    """For each cause that is in some set, what the sets with it are."""
    nodes = below(families, family)
    sums = _sums(families, nodes, weights)
    numbers = _sums(families, nodes, [1] * len(weights))  # exact: whole numbers all the way
    least = _least(families, nodes)
    above: dict[int, tuple[float, int, int]] = {family: (1.0, 1, 0)}
    found: dict[int, Share] = {}
    for one in reversed(nodes):
        weight, number, size = above[one]
        cause, high = families.var[one], families.high[one]
        before = found.get(cause, Share(0, 1 << 60, 0.0))
        found[cause] = Share(
            before.sets + number * int(numbers[high]),
            min(before.order, size + 1 + least[high]),
            before.weight + weight * weights[cause] * sums[high],
        )
        _reach(above, high, (weight * weights[cause], number, size + 1))
        _reach(above, families.low[one], (weight, number, size))
    return found


def _reach(above: dict[int, tuple[float, int, int]], family: int, way: tuple[float, int, int]) -> None:
    weight, number, size = above.get(family, (0.0, 0, 1 << 60))
    above[family] = (weight + way[0], number + way[1], min(size, way[2]))


def _least(families: Families, nodes: Sequence[int]) -> dict[int, int]:
    """The size of the smallest set of each family."""
    least = {NOTHING: 1 << 60, EMPTY: 0}
    for one in nodes:
        least[one] = min(1 + least[families.high[one]], least[families.low[one]])
    return least


class Listing:
    """The sets of a family, heaviest first, found one by one.

    A family is a row of alternatives, one for each cause that may come first; the row is sorted by the best
    that each can lead to. The search holds, for every beginning, only the best alternative not yet taken.
    """

    def __init__(self, families: Families, family: int, weights: Sequence[float]) -> None:
        self.families = families
        self.family = family
        self.weights = weights
        self.logs = [log(weight) for weight in weights]
        self._best = {NOTHING: float("-inf"), EMPTY: 0.0}
        for one in below(families, family):
            high = self.logs[families.var[one]] + self._best[families.high[one]]
            self._best[one] = max(high, self._best[families.low[one]])
        self._rows: dict[int, list[tuple[float, int, int]]] = {}

    def __iter__(self) -> Iterator[tuple[float, tuple[int, ...]]]:
        """The product of a set's weights, and its causes in their order."""
        ticket = count()
        ready: list[tuple[float, int, float, Chosen, int, int]] = []
        self._push(ready, next(ticket), 0.0, None, self.family, 0)
        while ready:
            _, _, base, chosen, family, place = heapq.heappop(ready)
            self._push(ready, next(ticket), base, chosen, family, place + 1)
            _, cause, rest = self._row(family)[place]
            if cause >= 0:
                chosen, base = (cause, chosen), base + self.logs[cause]
            if rest == EMPTY:
                causes = _unlinked(chosen)
                yield prod(self.weights[one] for one in causes), causes
            else:
                self._push(ready, next(ticket), base, chosen, rest, 0)

    def _push(
        self,
        ready: list[tuple[float, int, float, Chosen, int, int]],
        ticket: int,
        base: float,
        chosen: Chosen,
        family: int,
        place: int,
    ) -> None:
        row = self._row(family)
        if place < len(row):
            heapq.heappush(ready, (-(base + row[place][0]), ticket, base, chosen, family, place))

    def _row(self, family: int) -> list[tuple[float, int, int]]:
        """The alternatives of a family, best first: what it can lead to, its first cause (or -1), and what is left."""
        if family not in self._rows:
            row = []
            one = family
            while one > EMPTY:
                cause, high = self.families.var[one], self.families.high[one]
                row.append((self.logs[cause] + self._best[high], cause, high))
                one = self.families.low[one]
            if one == EMPTY:
                row.append((0.0, -1, EMPTY))
            self._rows[family] = sorted(row, key=lambda one: -one[0])
        return self._rows[family]


@dataclass(frozen=True, eq=False)
class Family:
    """A family of sets of named causes, each cause with its probability."""

    families: Families
    root: int
    names: tuple[str, ...]
    weights: tuple[float, ...]

    @cached_property
    def orders(self) -> dict[int, int]:
        """How many sets there are of each size, smallest size first."""
        return orders(self.families, self.root)

    @property
    def count(self) -> int:
        """How many sets there are."""
        return sum(self.orders.values())

    @cached_property
    def total(self) -> float:
        """The sum over all sets of P(all causes of the set are present)."""
        return total(self.families, self.root, self.weights)

    @cached_property
    def shares(self) -> dict[str, Share]:
        """For each cause that is in some set, what the sets with it are."""
        found = shares(self.families, self.root, self.weights)
        return {self.names[cause]: share for cause, share in found.items()}

    def limited(self, order: int) -> Family:
        """The sets with at most `order` causes; raises TooLarge."""
        with deep(len(self.names)):
            return replace(self, root=self.families.limited(self.root, order))

    def first(self, most: int, least: float = 0.0) -> list[tuple[frozenset[str], float]]:
        """Up to `most` sets, likeliest first, none less likely than `least`, each with its probability."""
        listing = islice(Listing(self.families, self.root, self.weights), most)
        named = ((frozenset(self.names[one] for one in causes), weight) for weight, causes in listing)
        return list(takewhile(lambda one: one[1] >= least, named))


def _unlinked(chosen: Chosen) -> tuple[int, ...]:
    causes = []
    while chosen is not None:
        cause, chosen = chosen
        causes.append(cause)
    return tuple(reversed(causes))
