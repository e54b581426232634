"""Exact probabilities from a decision diagram, of the top and of the top given each cause present or absent.

One pass from the ends up gives P(top / place reached) for every place, one pass down P(place reached); both
add and multiply positive numbers alone, so that tiny probabilities keep all their digits. What passes a group
by without asking it is gathered exactly (Shewchuk 1997), so that a zero is a zero.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum
from typing import NamedTuple

from faultree.logic.decisions import ALWAYS, NEVER, Decisions, Split


class Given(NamedTuple):
    """P(top) with a cause present, with it absent, and their difference (more exact than by subtraction)."""

    present: float
    absent: float
    difference: float


@dataclass(frozen=True)
class Weighed:
    """P(top), and for each cause, by its number, P(top / present) and P(top / absent)."""

    top: float
    causes: tuple[Given, ...]


def weigh(decisions: Decisions, probabilities: Sequence[float]) -> Weighed:
    """The figures for some probabilities of the causes (by number); those of one group exclude each other.

    With a cause absent, the other states of its group keep their shares among themselves.

    >>> from faultree.logic.decisions import Question, decide
    >>> from faultree.logic.graph import Graph
    >>> graph = Graph()
    >>> a, b = graph.name("cause", "a"), graph.name("cause", "b")
    >>> question = Question(graph, graph.gate("any", [a, b]), (("a",), ("b",)))
    >>> weigh(decide(question, 100), [1e-6, 1e-12]).top
    1.000000999999e-06
    """
    return _Weighing(decisions, tuple(probabilities)).weighed()


class _Way(NamedTuple):
    """One way out of a place: its probability, and where it leads."""

    share: float
    leads: int


@dataclass
class _Weighing:
    decisions: Decisions
    probabilities: tuple[float, ...]

    def __post_init__(self) -> None:
        self.ways = [self._ways(split) for split in self.decisions.splits]
        self.values = [0.0, 1.0]
        for ways in self.ways[2:]:
            self.values.append(fsum(share * self.values[leads] for share, leads in ways))
        self.reach = self._reached()

    def _ways(self, split: Split) -> list[_Way]:
        """The ways out of a place: each cause that leads elsewhere, then everything else."""
        ways = [_Way(self.probabilities[cause], leads) for cause, leads in split.bad]
        return [*ways, _Way(1.0 - fsum(share for share, _ in ways), split.good)]

    def _reached(self) -> list[float]:
        reach = [0.0] * len(self.ways)
        reach[self.decisions.top] = 1.0
        for place in range(len(self.ways) - 1, ALWAYS, -1):
            for share, leads in self.ways[place]:
                reach[leads] += reach[place] * share
        return reach

    def weighed(self) -> Weighed:
        top = self.values[self.decisions.top]
        if self.decisions.top in (NEVER, ALWAYS):
            return Weighed(top, tuple(Given(top, top, 0.0) for _ in self.probabilities))
        asked: list[list[int]] = [[] for _ in self.decisions.groups]
        for place, split in enumerate(self.decisions.splits[2:], start=2):
            asked[split.group].append(place)
        passing = self._passing()
        found: list[Given] = []
        for group, names in enumerate(self.decisions.groups):
            first = len(found)
            found += [self._given(cause, asked[group], passing[group]) for cause in range(first, first + len(names))]
        return Weighed(top, tuple(found))

    def _given(self, cause: int, places: Sequence[int], passing: float) -> Given:
        """Both values of one cause, from the places that ask its group and what passes the group by."""
        present, absent, difference = [passing], [passing], []
        for place in places:
            reach = self.reach[place]
            with_it, without = self._both(place, cause)
            present.append(reach * with_it)
            absent.append(reach * without)
            difference.append(reach * (with_it - without))
        return Given(fsum(present), fsum(absent), fsum(difference))

    def _both(self, place: int, cause: int) -> tuple[float, float]:
        """P(top) from a place on, with a cause present and with it absent."""
        leads = dict(self.decisions.splits[place].bad)
        if cause not in leads:
            return self.values[self.decisions.splits[place].good], self._without_same(place, cause)
        others = [way for way, (number, _) in zip(self.ways[place], leads.items(), strict=False) if number != cause]
        rest = [*others, self.ways[place][-1]]
        left = 1.0 - self.probabilities[cause]
        return self.values[leads[cause]], fsum(share * self.values[end] for share, end in rest) / left

    def _without_same(self, place: int, cause: int) -> float:
        """The same with a cause absent that leads where the good state does."""
        *bad, (share, good) = self.ways[place]
        gone = self.probabilities[cause]
        parts = [one * self.values[end] for one, end in bad]
        return fsum([*parts, (share - gone) * self.values[good]]) / (1.0 - gone)

    def _passing(self) -> list[float]:
        """For each group, P(top, and the group is not asked on the way)."""
        last = len(self.decisions.groups)
        changes: list[list[float]] = [[] for _ in range(last + 1)]
        top = self.decisions.splits[self.decisions.top].group
        self._note(changes, -1, top, self.values[self.decisions.top])
        for place in range(2, len(self.ways)):
            group = self.decisions.splits[place].group
            for share, leads in self.ways[place]:
                weight = self.reach[place] * share * self.values[leads]
                self._note(changes, group, self.decisions.splits[leads].group, weight)
        running: list[float] = []
        found = []
        for group in range(last):
            for change in changes[group]:
                running = _added(running, change)
            found.append(fsum(running))
        return found

    @staticmethod
    def _note(changes: list[list[float]], before: int, after: int, weight: float) -> None:
        """A way from one group to another passes all groups between by."""
        if weight and after > before + 1:
            changes[before + 1].append(weight)
            changes[after].append(-weight)


def _added(parts: Sequence[float], number: float) -> list[float]:
    """An exact sum, kept as parts that do not overlap, with one more number in it."""
    kept = []
    for part in parts:
        small, large = (part, number) if abs(part) < abs(number) else (number, part)
        number = large + small
        left = small - (number - large)
        if left:
            kept.append(left)
    return [*kept, number]
