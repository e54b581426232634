"""Follows a rule while there is time for it, from the likeliest states on, and after that something quicker."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count

from faultree.strategy.chart.policies import Policy
from faultree.strategy.chart.space import Key, Option, Space, State


@dataclass(eq=False)
class Timely:
    """A policy: a rule, and where `over` says that there is no time for it, what is `quick`."""

    space: Space
    rule: Policy
    quick: Policy
    over: Callable[[], bool]
    known: dict[Key, Option] = field(default_factory=dict)

    def unfold(self, over: Callable[[], bool]) -> None:
        """Work out what the rule does at the states to which it leads, the likeliest first, until it is over.

        So a chart that must be had at once is good where most walks go. It may be called again.
        """
        root, number = self.space.root, count()
        waiting: list[tuple[float, int, State]] = [(-root.total, next(number), root)]
        seen = {root.key}
        while waiting and not over():
            _, _, state = heappop(waiting)
            if self.space.finished(state):
                continue
            if state.key not in self.known:
                self.known[state.key] = self.rule(state)
            for one in self.space.after(state, self.known[state.key]):
                if one is not None and one.key not in seen:
                    seen.add(one.key)
                    heappush(waiting, (-one.total, next(number), one))

    def __call__(self, state: State) -> Option:
        """What is done at a state; once told, it stays."""
        if state.key not in self.known:
            self.known[state.key] = self.quick(state) if self.over() else self.rule(state)
        return self.known[state.key]
