"""A second lower bound: what it takes to part each hypothesis from every other, whatever the tree looks like.

On the path of a hypothesis there is, for every other one that calls for something else, a check that parts the two. So
the path costs at least the cheapest check for the dearest pair, and at least any solution of the dual of the covering
problem (a price for each other hypothesis, such that no check parts more than it costs), which is raised
greedily here, the dearest first. Weak where checks are many and alike, strong where some pair needs a dear one.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Task

ROUNDS = 4
"""So many other hypotheses get a price."""


def parting(task: Task, places: NDArray[np.intp], members: NDArray[np.intp]) -> NDArray[np.bool_]:
    """Which moves (by number) part which hypotheses (moves x members x members) that call for different things."""
    labels = task.label_numbers[members]
    differ = labels[:, None] != labels[None, :]
    return np.asarray(task.apart[np.ix_(places, members, members)] & differ)


def dearest(apart: NDArray[np.bool_], minutes: Floats) -> Floats:
    """For each pair of members the minutes of the cheapest move that parts them (0 where none does or need do)."""
    pairs = np.where(apart, minutes[:, None, None], np.inf).min(axis=0, initial=np.inf)
    return np.where(np.isfinite(pairs), pairs, 0.0)


class Cover(NamedTuple):
    """What the path of each member needs: minutes for its dearest pair, and the prices of the moves (moves x members).

    The moves on a path have prices of `total` together, and none is above the minutes of its move.
    """

    single: Floats
    total: Floats
    prices: Floats

    @property
    def least(self) -> Floats:
        """The least minutes of the path of each member."""
        return np.asarray(np.maximum(self.single, self.total))


def covering(apart: NDArray[np.bool_], shared: Floats, whole: Floats) -> Cover:
    """What it takes to part each member (second axis) from each of the others (third axis).

    `shared` are the minutes of the moves with access divided among them, which add up, `whole` those with all access.
    """
    single = dearest(apart, whole).max(axis=1, initial=0.0)
    prices = np.zeros(apart.shape[:2])
    total = np.zeros(apart.shape[1])
    every = np.arange(apart.shape[1])
    for _ in range(ROUNDS):
        left = shared[:, None] - prices
        pairs = np.where(apart, left[:, :, None], np.inf).min(axis=0, initial=np.inf)
        pairs = np.where(np.isfinite(pairs), pairs, 0.0)
        other = pairs.argmax(axis=1)
        price = pairs[every, other]
        if not price.any():
            break
        total += price
        prices += np.where(apart[:, every, other], price, 0.0)
    return Cover(single, total, prices)
