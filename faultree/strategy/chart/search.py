"""The best chart by best-first search on an and/or graph of states, with a lower bound that only grows.

This is AO* (Martelli and Montanari 1973; Nilsson 1980) in the depth-first form that keeps to one line as
long as no other option could be better (as recursive best-first search does: Korf 1993). Values are lower bounds
until a state is done; then they are exact. Whenever the search stops, the root's value bounds every chart.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from faultree.strategy.chart.space import ROUNDING, Space, State

if TYPE_CHECKING:
    from faultree.strategy.chart.space import Option

SLACK = 1e-3
"""A line is kept to until it is worse than the next one by this share, so that the search does not flutter."""


class Stopped(Exception):
    """The search was told to stop."""


@dataclass(eq=False)
class Search:
    """A search in a space; `poll` is called before each state is worked on and may raise Stopped."""

    space: Space
    poll: Callable[[], None] = field(default=lambda: None)

    def run(self) -> bool:
        """Search until the root is done; False where the search was stopped before."""
        try:
            self._raise(self.space.root, float("inf"))
        except Stopped:
            return False
        return True

    def _raise(self, state: State, limit: float) -> None:
        """Raise a state's lower bound above a limit, or work it out."""
        if state.done:
            return
        self.poll()
        if self.space.bound_closely(state) > limit:
            return
        queue = self.queue(state)
        while True:
            value, place, option = queue[0]
            fresh = self.value(state, option)
            if fresh > value + ROUNDING:
                heapq.heapreplace(queue, (fresh, place, option))
                continue
            state.low = max(state.low, value)
            weakest = self._undone(option)
            if weakest is None:
                state.done, state.low = True, fresh
                return
            if state.low > limit:
                return
            second = min((queue[place][0] for place in (1, 2) if place < len(queue)), default=float("inf"))
            room = min(limit, second) - value
            self._raise(weakest, weakest.low + max(room, 0.0) + SLACK * state.low)

    def queue(self, state: State) -> list[tuple[float, int, Option]]:
        """The options of a state as a heap by their lower bounds."""
        if state.queue is None:
            queue = [(option.value, place, option) for place, option in enumerate(self.space.options(state))]
            heapq.heapify(queue)
            state.queue = queue
        return state.queue

    def value(self, state: State, option: Option) -> float:
        """The lower bound of an option as far as its outcomes are known."""
        value = option.cost
        for one in self.space.after(state, option):
            if one is not None:
                value += self.space.bound(one)
        option.value = max(option.value, value)
        return option.value

    @staticmethod
    def _undone(option: Option) -> State | None:
        """The outcome that is not done and weighs most."""
        best = None
        for one in option.nodes or ():
            if one is not None and not one.done and (best is None or one.low > best.low):
                best = one
        return best
