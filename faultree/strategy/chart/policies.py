"""Ways to choose the next step of a chart: the least by search, and the simple rules that it is held against."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart.search import Search
from faultree.strategy.chart.space import Key, Option, Space, State

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Move

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
                found = (self.space.rest(state), None)
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
    """Simple rules over the moves of a space."""

    search: Search
    _made: dict[tuple[Key, str], Option] = field(default_factory=dict)

    @property
    def space(self) -> Space:
        """The space."""
        return self.search.space

    def by_bits(self, state: State) -> Option:
        """The check that tells most bits about what is to be told apart, whatever its minutes."""
        return self._best(state, self._bits(state))

    def by_bits_per_minute(self, state: State) -> Option:
        """The check that tells most bits a minute."""
        return self._best(state, self._bits(state) / np.maximum(self._minutes(state), 1e-9))

    def by_likelihood(self, state: State) -> Option:
        """What goes straight for the likeliest hypothesis: its repair, or the check that parts it from most others.

        Of several such the one with the fewest minutes.
        """
        top = int(np.argmax(state.weights))
        parted = np.array([self._against(state, move, top) for move in state.useful])
        return self._best(state, np.round(parted, 9) - 1e-12 * self._minutes(state))

    def repairing(self, state: State) -> Option:
        """One step ahead, then repairs alone: the move after which they take the fewest minutes."""
        return self._best(state, self._repaired(state))

    def quick(self, state: State) -> Option:
        """What needs no looking ahead: for `restore` the repair that helps most often a minute, else the usual."""
        repairs = [move for move in state.useful if not move.is_check]
        if not repairs:
            return self.plain(state)
        made = [self.space.repairs.place[move.name] for move in repairs]
        worth = [
            float(helped) / max(self.space.minutes(state, move), 1e-9)
            for move, helped in zip(repairs, self.space.repairs.helps[made] @ state.weights, strict=True)
        ]
        return self._option(state, repairs[int(np.argmax(worth))])

    def few(self, state: State, count: int) -> list[Option]:
        """The first few moves by the simple rule for the task, best first."""
        restore = self.space.task.restore
        gains = self._repaired(state) if restore else self._bits(state) / np.maximum(self._minutes(state), 1e-9)
        order = np.argsort(-np.round(gains, 12), kind="stable")[:count]
        return [self._option(state, state.useful[place]) for place in order.tolist()]

    def _repaired(self, state: State) -> Floats:
        """Less the minutes of each move and the repairs after it."""
        space, task = self.space, self.space.task
        rows = [row for move in state.useful for row in move.rows]
        opened = [state.key.opened | move.access for move in state.useful for _ in move.rows]
        ended = [not move.is_check and row == move.rows[0] for move in state.useful for row in move.rows]
        weights = state.weights * task.shows[rows] * ~np.array(ended)[:, None]
        later = np.add.reduceat(space.repairs.chains(weights, opened)[0], self._starts(state))
        return np.asarray(-(later + self._minutes(state) * state.total))

    def plain(self, state: State) -> Option:
        """The better of the simple rules for the task."""
        return self.repairing(state) if self.space.task.restore else self.by_bits_per_minute(state)

    def _best(self, state: State, gains: Floats) -> Option:
        """The option with the most gain, the first of equals."""
        place = int(np.argmax(gains >= gains.max() - 1e-12 * abs(gains.max())))
        return self._option(state, state.useful[place])

    def _option(self, state: State, move: Move) -> Option:
        key = (state.key, move.name)
        if key not in self._made:
            cost = self.space.minutes(state, move) * state.total
            self._made[key] = Option(move, cost, cost)
        return self._made[key]

    def _minutes(self, state: State) -> Floats:
        return np.array([self.space.minutes(state, move) for move in state.useful])

    @staticmethod
    def _starts(state: State) -> list[int]:
        """Where the rows of each useful move begin, when they stand one after the other."""
        return np.cumsum([0, *(len(move.rows) for move in state.useful)])[:-1].tolist()  # type: ignore[no-any-return]

    def _bits(self, state: State) -> Floats:
        """The bits that each move tells about the labels; where none tells any, about the hypotheses."""
        labels = self.space.task.label_numbers
        gains = self._told(state, labels)
        if gains.max() < 1e-9:
            gains = self._told(state, np.arange(len(labels)))
        return gains

    def _told(self, state: State, labels: NDArray[np.intp]) -> Floats:
        """H(label) + H(outcome) - H(label and outcome) for each useful move."""
        there = np.flatnonzero(state.weights)
        there = there[np.argsort(labels[there], kind="stable")]
        first = np.flatnonzero(np.diff(labels[there], prepend=-1))  # where each label begins
        inside = state.weights[there] / state.total
        rows = np.array([row for move in state.useful for row in move.rows])
        joint = np.add.reduceat(self.space.task.shows[rows[:, None], there] * inside, first, axis=1)
        starts = self._starts(state)
        both = -np.add.reduceat(_x_log_x(joint).sum(axis=1), starts)
        outcome = -np.add.reduceat(_x_log_x(joint.sum(axis=1)), starts)
        label = -float(_x_log_x(np.add.reduceat(inside, first)).sum())
        return np.asarray(label + outcome - both)

    def _against(self, state: State, move: Move, top: int) -> float:
        """The chance of the other hypotheses that a check parts from one of them; 2 for the repair that clears it."""
        task, rows = self.space.task, list(move.rows)
        if not move.is_check:
            return 2.0 if task.right[rows[0], top] else 0.0
        own = rows[int(np.argmax(task.shows[rows, top]))]
        return float(state.weights @ (1.0 - task.shows[own]) / state.total)


def _x_log_x(values: Floats) -> Floats:
    return np.asarray(values * np.log2(np.where(values > 0.0, values, 1.0)))


@dataclass(eq=False)
class Best:
    """The best that is known: by the search where it has finished, elsewhere the best of a few options.

    There each of the likely options is followed to its end by a simple policy (a rollout, as Tesauro and Galperin
    1996 call it). `hurried` says that there is no time left for that; then the simple policy's own option is taken.
    """

    search: Search
    simple: Followed
    hurried: Callable[[], bool] = field(default=lambda: False)
    rules: Rules | None = None
    width: int = WIDTH

    def __call__(self, state: State) -> Option:
        """The option to take."""
        if state.done and state.queue is not None:
            return min(state.queue)[2]
        best = self.simple.choice(state)
        if best is None or self.hurried():
            return best or self.simple.policy(state)
        least = self.simple.value(state)
        for option in self._others(state, best):
            cost = option.cost + self.simple.later(state, option)
            if cost < least:
                best, least = option, cost
            if self.hurried():
                break
        return best

    def _others(self, state: State, usual: Option) -> list[Option]:
        """The few options to try besides the usual one."""
        options = [option for _, _, option in sorted(self.search.queue(state))[: self.width]]
        if self.rules is not None:
            options = [*self.rules.few(state, self.width), *options]
        distinct = {option.move.name: option for option in reversed(options)}
        distinct.pop(usual.move.name, None)
        return list(distinct.values())
