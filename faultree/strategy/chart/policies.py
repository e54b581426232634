"""Ways to choose the next step of a chart: the least by search, and the simple rules that it is held against."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart.search import Search
from faultree.strategy.chart.space import Key, Option, Space, State

if TYPE_CHECKING:
    from faultree.strategy.chart.task import Floats

Policy = Callable[[State], Option]
"""From a state that is not finished to what is done there."""

WIDTH = 4
"""So many options, the best by their lower bounds, are compared where the search has not finished."""


@dataclass(eq=False)
class Followed:
    """What a policy costs from each state on, times the probability of the state."""

    space: Space
    policy: Policy
    known: dict[Key, tuple[float, Option | None]] = field(default_factory=dict)

    def value(self, state: State) -> float:
        """Minutes still to be spent when the policy is followed."""
        found = self.known.get(state.key)
        if found is None:
            if self.space.finished(state):
                found = (0.0, None)
            else:
                option = self.policy(state)
                found = (option.cost + self.later(state, option), option)
            self.known[state.key] = found
        return found[0]

    def later(self, state: State, option: Option) -> float:
        """Minutes behind an option."""
        return sum(self.value(one) for one in self.space.after(state, option) if one is not None)

    def choice(self, state: State) -> Option | None:
        """What is done at a state; None where a branch ends."""
        self.value(state)
        return self.known[state.key][1]


@dataclass(eq=False)
class Rules:
    """Simple rules over the options of a space."""

    search: Search

    def _ranked(self, state: State, gain: Callable[[State, list[Option]], Floats]) -> Option:
        options = [option for _, _, option in sorted(self.search.queue(state), key=lambda one: one[1])]
        return options[int(np.argmax(gain(state, options)))]

    def by_bits(self, state: State) -> Option:
        """The check that tells most bits about what is to be told apart, whatever its minutes."""
        return self._ranked(state, self._bits)

    def by_bits_per_minute(self, state: State) -> Option:
        """The check that tells most bits a minute."""
        return self._ranked(state, lambda at, some: self._bits(at, some) / np.maximum(_minutes(at, some), 1e-9))

    def by_likelihood(self, state: State) -> Option:
        """The quickest check (or the repair) that speaks for or against the likeliest hypothesis alone.

        Of the checks that single it out from as much as possible, the one with the fewest minutes.
        """
        top = int(np.argmax(state.weights))
        return self._ranked(state, lambda at, some: self._against(at, some, top))

    def _bits(self, state: State, options: list[Option]) -> Floats:
        """The bits that each option tells about the labels (about units, with repairs among the options)."""
        task = self.search.space.task
        prior = state.weights @ task.kinds / state.total
        found = []
        for option in options:
            joint = (task.shows[list(option.move.rows)] * state.weights) @ task.kinds / state.total
            found.append(_entropy(prior) + _entropy(joint.sum(axis=1)) - _entropy(joint.ravel()))
        gains = np.array(found)
        if gains.max() < 1e-12:  # nothing tells anything about labels: split the hypotheses
            gains = np.array([_entropy(self._chances(state, option)) for option in options])
        return gains

    def _chances(self, state: State, option: Option) -> Floats:
        task = self.search.space.task
        return np.asarray((task.shows[list(option.move.rows)] * state.weights).sum(axis=1) / state.total)

    def _against(self, state: State, options: list[Option], top: int) -> Floats:
        """How much of the other hypotheses' chance an option parts from one of them, then by minutes."""
        task = self.search.space.task
        parted = []
        for option in options:
            rows = list(option.move.rows)
            own = rows[int(np.argmax(task.shows[rows, top]))]
            if not option.move.is_check:
                parted.append(2.0 if task.right[rows[0], top] else 0.0)
                continue
            apart = state.weights @ (1.0 - task.shows[own])
            parted.append(float(apart / state.total))
        minutes = _minutes(state, options)
        return np.asarray(np.round(parted, 9) - 1e-12 * minutes)


def _minutes(state: State, options: list[Option]) -> Floats:
    return np.array([option.cost for option in options]) / state.total


def _entropy(chances: Floats) -> float:
    return float(-(chances * np.log2(np.where(chances > 0.0, chances, 1.0))).sum())


@dataclass(eq=False)
class Best:
    """The best that is known: by the search where it has finished, elsewhere the best of a few options.

    There each of the likely options is followed to its end by a simple rule (a rollout, as Tesauro and Galperin 1996
    call it), or, where `deep`, by this policy itself.
    """

    search: Search
    simple: Followed
    width: int = WIDTH

    def __call__(self, state: State) -> Option:
        """The option to take."""
        queue = sorted(self.search.queue(state))
        if state.done:
            return queue[0][2]
        options = [option for _, _, option in queue[: self.width]]
        usual = self.simple.choice(state)
        if usual is not None and usual not in options:
            options.append(usual)
        return min(options, key=lambda option: option.cost + self.simple.later(state, option))
