"""Families of cause sets as zero-suppressed decision diagrams, and the minimal ones that produce a symptom.

A family is a number: 0 holds nothing, 1 holds the empty set alone, any other stands for the sets of `high`
with `var` added, and those of `low` (Minato 1993). Minimal solutions follow Rauzy 1993, one unit at a time:
sets without the unit come from its good branch; to those of each cause's branch the cause is added, unless a
set without it is enough. That needs no coherence: the sets found are minimal among all that make the top true.
"""

from __future__ import annotations

from collections.abc import Iterable

from faultree.logic.decisions import ALWAYS, NEVER, Decisions
from faultree.logic.diagram import TooLarge, deep

NOTHING, EMPTY = 0, 1


class Families:
    """A store of families over numbered causes; nothing in it is ever freed.

    >>> families = Families(most=100)
    >>> pair = families.join(0, families.join(1, EMPTY, NOTHING), NOTHING)
    >>> families.without(pair, families.join(1, EMPTY, NOTHING)) == NOTHING
    True
    """

    def __init__(self, most: int) -> None:
        self.most = most
        self.var = [-1, -1]
        self.high = [NOTHING, NOTHING]
        self.low = [NOTHING, NOTHING]
        self._shared: dict[tuple[int, int, int], int] = {}
        self._known: dict[tuple[int, int], int] = {}
        self._short: dict[tuple[int, int], int] = {}

    def join(self, var: int, high: int, low: int) -> int:
        """The sets of `high` with a cause added, and those of `low`; raises TooLarge."""
        if high == NOTHING:
            return low
        key = (var, high, low)
        family = self._shared.get(key)
        if family is None:
            if len(self._shared) >= self.most:
                raise TooLarge
            family = self._shared[key] = len(self.var)
            self.var.append(var)
            self.high.append(high)
            self.low.append(low)
        return family

    def without(self, one: int, two: int) -> int:
        """The sets of one minimal family that include no set of another; raises TooLarge."""
        if two == NOTHING or one == NOTHING:
            return one
        if two == EMPTY or one == two:
            return NOTHING
        if one == EMPTY:
            return one
        key = (one, two)
        found = self._known.get(key)
        if found is None:
            if len(self._known) >= self.most:
                raise TooLarge
            found = self._known[key] = self._pruned(one, two)
        return found

    def _pruned(self, one: int, two: int) -> int:
        first, second = self.var[one], self.var[two]
        if first > second:
            return self.without(one, self.low[two])
        if first < second:
            return self.join(first, self.without(self.high[one], two), self.without(self.low[one], two))
        low = self.low[two]
        high = self.without(self.without(self.high[one], self.high[two]), low)
        return self.join(first, high, self.without(self.low[one], low))

    def minimal(self, decisions: Decisions, order: int | None = None) -> int:
        """The minimal sets that lead to the end `ALWAYS`, or those of at most `order` causes; raises TooLarge."""
        found = {NEVER: NOTHING, ALWAYS: EMPTY}
        with deep(2 * len(decisions.names)):
            for place, split in enumerate(decisions.splits[2:], start=2):
                without = found[split.good]
                family = without
                for cause, leads in reversed(split.bad):
                    sets = self.without(found[leads], without)
                    family = self.join(cause, sets if order is None else self.limited(sets, order - 1), family)
                found[place] = family
        return found[decisions.top]

    def limited(self, family: int, order: int) -> int:
        """The sets of a family with at most `order` causes; raises TooLarge."""
        if family <= EMPTY or order < 0:
            return family if order >= 0 else NOTHING
        key = (family, order)
        found = self._short.get(key)
        if found is None:
            high = self.limited(self.high[family], order - 1)
            found = self._short[key] = self.join(self.var[family], high, self.limited(self.low[family], order))
        return found

    def of(self, sets: Iterable[tuple[int, ...]]) -> int:
        """The family of some sets, each in ascending order, none of which includes another; raises TooLarge."""
        rests: dict[int, list[tuple[int, ...]]] = {}
        family = NOTHING
        for one in sets:
            if one:
                rests.setdefault(one[0], []).append(one[1:])
            else:
                family = EMPTY
        for first in sorted(rests, reverse=True):
            family = self.join(first, self.of(rests[first]), family)
        return family
