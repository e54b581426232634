"""Repairs one after the other, in order of probability over minutes, each followed by the operational check."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart.task import bits_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Move, Task


@dataclass(frozen=True, eq=False)
class Repairs:
    """The repairs of a task as arrays.

    For one fault and repairs alone the order by probability over minutes is the best (an exchange argument; Kadane
    and Simon 1977). Access that repairs share, and faults that several repairs clear, make it a rule of thumb.
    """

    task: Task

    @cached_property
    def moves(self) -> tuple[Move, ...]:
        """The repairs."""
        return tuple(move for move in self.task.moves if not move.is_check)

    @cached_property
    def place(self) -> dict[str, int]:
        """Where each repair stands among them."""
        return {move.name: place for place, move in enumerate(self.moves)}

    @cached_property
    def clears(self) -> NDArray[np.bool_]:
        """Which repair clears which hypothesis (repairs x n)."""
        return self.task.right[[move.rows[0] for move in self.moves]]

    @cached_property
    def helps(self) -> NDArray[np.bool_]:
        """Which repair clears a hypothesis or leaves less of it (repairs x n)."""
        eased = bits_of([self.task.eased.get(move.name, 0) for move in self.moves], len(self.task.chances))
        return np.asarray(self.clears | eased)

    @cached_property
    def minutes(self) -> Floats:
        """Minutes of each with its operational check."""
        return np.array([move.minutes for move in self.moves])

    @cached_property
    def needs(self) -> NDArray[np.bool_]:
        """Which repair needs which access (repairs x access)."""
        return bits_of([move.access for move in self.moves], len(self.task.access))

    def chains(self, weights: Floats, opened: Sequence[int]) -> tuple[Floats, NDArray[np.intp]]:
        """For each row of weights the minutes until all is clear, times the row's sum, and the order of repairs.

        `opened` is the access open for each row. Repairs that can clear nothing come last and cost nothing.
        """
        access = self.task.minutes_of_access
        open_now = bits_of(opened, len(access))
        whole = self.minutes + (~open_now[:, None, :] & self.needs[None, :, :]) @ access
        order = np.argsort(-(weights @ self.helps.T) / np.maximum(whole, 1e-9), axis=1, kind="stable")
        there = np.flatnonzero(weights.any(axis=0))
        alive, now = weights[:, there], np.broadcast_to(there, (len(weights), len(there)))
        spent = np.zeros(len(weights))
        for chosen in order.T:
            if not alive.any():
                break
            some = (alive * self.helps[chosen[:, None], now]).any(axis=1)
            fresh = self.needs[chosen] & ~open_now & some[:, None]
            spent += np.where(some, alive.sum(axis=1) * (self.minutes[chosen] + fresh @ access), 0.0)
            open_now |= fresh
            alive, now = self._left(alive, now, chosen[:, None])
        return spent, order

    def _left(self, alive: Floats, now: NDArray[np.intp], chosen: NDArray[np.intp]) -> tuple[Floats, NDArray[np.intp]]:
        """What is left of weights and what they now stand for (rows x some), each row after a repair of its own."""
        left = np.where(self.clears[chosen, now], 0.0, alive)
        return left, self.leads[chosen, now] if self.task.shifts else now

    @cached_property
    def leads(self) -> NDArray[np.intp]:
        """What each repair leaves of each hypothesis that it does not clear (repairs x n)."""
        same = np.arange(len(self.task.chances))
        return np.array([(self.task.shifts or {}).get(move.name, same) for move in self.moves]).reshape(-1, len(same))

    def chain(self, weights: Floats, opened: int) -> tuple[float, tuple[Move, ...]]:
        """The same for one row: minutes times its sum, and the repairs that are made."""
        spent, order = self.chains(weights[None, :], [opened])
        made, now = [], np.flatnonzero(weights)
        for place in order[0].tolist():
            if self.helps[place, now].any():
                made.append(self.moves[place])
                now = self.leads[place, now[~self.clears[place, now]]]
        return float(spent[0]), tuple(made)
