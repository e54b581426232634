"""The check with which other people best go on where a chart for some people ends."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING

from faultree.strategy.chart.policies import Rules
from faultree.strategy.chart.search import Search, Stopped
from faultree.strategy.chart.space import Space

if TYPE_CHECKING:
    from faultree.strategy.chart.task import Floats, Task

LOOKS = 60
"""So many states are looked at for the best check to go on with."""


def best_check(task: Task, weights: Floats, opened: int, looks: int = LOOKS) -> str | None:
    """The first step of the best chart from here on, else what tells most a minute; None where nothing is left to do.

    `weights` are the chances of the hypotheses here (of any sum above 0), `opened` the access that is open.
    """
    moves = tuple(replace(move, access=move.access & ~opened) for move in task.moves)
    space = Space(replace(task, chances=weights / weights.sum(), moves=moves))
    left = count(looks, -1)

    def poll() -> None:
        if next(left) < 0:
            raise Stopped

    search = Search(space, poll)
    finished, root = search.run(), space.root
    if space.finished(root):
        return None
    option = search.queue(root)[0][2] if finished else Rules(search).by_bits_per_minute(root)
    return option.move.name
