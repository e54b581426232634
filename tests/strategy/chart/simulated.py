"""Hidden faults run through a chart: what really happens, answer by answer, by the oracle and not by the engine."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from graphlib import TopologicalSorter
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from faultree.library.model import Library
from faultree.strategy.chart.value import GONE, STILL, Chart, End, Step
from tests.oracles.brute import Brute, causes_of

Faults = frozenset[str]


class Walks(NamedTuple):
    """One value for each hidden fault set: minutes spent, checks and replacements made, and the end come to.

    `end` is 0 where an answer came that the chart holds for impossible.
    """

    minutes: NDArray[np.float64]
    steps: NDArray[np.intp]
    end: NDArray[np.intp]


@dataclass
class Aircraft:
    """Some fault sets, by number, as they answer checks and replacements; what a repair leaves is added to them."""

    library: Library
    symptoms: Sequence[str]
    sets: list[Faults]
    _answers: dict[tuple[str, int], int] = field(default_factory=dict)
    _after: dict[tuple[str, int], tuple[bool, int]] = field(default_factory=dict)

    @cached_property
    def brute(self) -> Brute:
        """The oracle that knows what is true."""
        return Brute(self.library, self.symptoms)

    def right(self, check: str, numbers: NDArray[np.intp]) -> NDArray[np.intp]:
        """The place of the right answer to a check for some of the sets."""
        names = [one.id for one in self.library.checks[check].answers]
        found = np.zeros(len(self.sets), dtype=np.intp)
        for number in np.unique(numbers).tolist():
            if (check, number) not in self._answers:
                self._answers[check, number] = names.index(self.brute.right_answer(check, self.sets[number]))
            found[number] = self._answers[check, number]
        return np.asarray(found[numbers])

    def given(self, check: str, right: NDArray[np.intp], rng: np.random.Generator | None) -> NDArray[np.intp]:
        """The answers given, wrong ones among them as often as the check errs; all right without `rng`."""
        names = [one.id for one in self.library.checks[check].answers]
        if rng is None:
            return right
        asked = self.library.checks[check]
        table = np.cumsum([[asked.confusion(one, other) for one in names] for other in names], axis=1)
        drawn = rng.random(len(right))
        return np.asarray(np.minimum((drawn[:, None] >= table[right]).sum(axis=1), len(names) - 1))

    def replaced(self, unit: str, numbers: NDArray[np.intp]) -> tuple[NDArray[np.bool_], NDArray[np.intp]]:
        """Whether the reports are gone after a unit was put right, and the numbers of what is left."""
        gone, left = np.zeros(len(numbers), dtype=np.bool_), numbers.copy()
        for number in np.unique(numbers).tolist():
            if (unit, number) not in self._after:
                rest = self.sets[number] - causes_of(self.library, unit)
                if rest not in self.sets:
                    self.sets.append(rest)
                seen = any(self.brute.sees(one, rest) for one in self.symptoms)
                self._after[unit, number] = (not seen, self.sets.index(rest))
            clear, after = self._after[unit, number]
            here = numbers == number
            gone[here], left[here] = clear, after
        return gone, left


def walked(aircraft: Aircraft, chart: Chart, hidden: NDArray[np.intp], rng: np.random.Generator | None) -> Walks:
    """Every hidden fault set (by number) taken through the chart; without `rng` no check errs."""
    count = len(hidden)
    hidden = hidden.copy()
    minutes, steps, end = np.zeros(count), np.zeros(count, dtype=np.intp), np.zeros(count, dtype=np.intp)
    here: dict[int, list[NDArray[np.intp]]] = {1: [np.arange(count)]}
    for number in _parents_first(chart):
        walkers = np.concatenate(here.pop(number, [np.zeros(0, dtype=np.intp)]))
        node = chart.nodes[number]
        if isinstance(node, End):
            end[walkers] = number
            minutes[walkers] += node.minutes
            continue
        minutes[walkers] += node.minutes
        steps[walkers] += 1
        for answer, some in _answered(aircraft, node, walkers, hidden, rng):
            to = next((one.to for one in node.exits if one.answer == answer), None)
            if to is not None:
                here.setdefault(to, []).append(some)
    return Walks(minutes, steps, end)


def _answered(
    aircraft: Aircraft, node: Step, walkers: NDArray[np.intp], hidden: NDArray[np.intp], rng: np.random.Generator | None
) -> list[tuple[str, NDArray[np.intp]]]:
    """The walkers of a step by the answers that they get."""
    if node.action == "replace":
        gone, left = aircraft.replaced(node.target, hidden[walkers])
        hidden[walkers] = left
        return [(GONE, walkers[gone]), (STILL, walkers[~gone])]
    given = aircraft.given(node.target, aircraft.right(node.target, hidden[walkers]), rng)
    answers = aircraft.library.checks[node.target].answers
    return [(one.id, walkers[given == place]) for place, one in enumerate(answers)]


def _parents_first(chart: Chart) -> list[int]:
    graph = {node.number: [one.to for one in node.exits] if isinstance(node, Step) else [] for node in chart}
    return list(reversed(list(TopologicalSorter(graph).static_order())))
