"""How checks that err lower a bound: along the path on which nothing errs, later steps are reached more rarely."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Task

TINY = 1e-9


@dataclass(frozen=True, eq=False)
class Fading:
    """What is surely spent, on average, on a path that costs a given number of minutes.

    After x minutes nothing has erred with a chance of S(x) or more: S falls fastest where the checks with the most
    error a minute come first. Steps that cost x minutes together cost at least the integral of S up to x, as each
    is reached with at least S of the minutes before it. `minutes` (checks) are those of the checks that err, `loss`
    (checks x hypotheses) is -log P(no error / hypothesis).
    """

    minutes: Floats
    loss: Floats

    @cached_property
    def _knots(self) -> tuple[Floats, Floats, Floats]:
        """For the worst hypothesis: minutes, S there, and the integral, which is concave, so that chords lie below."""
        loss = self.loss.max(axis=1, initial=0.0)
        order = np.argsort(-loss / self.minutes, kind="stable")
        loss, minutes = loss[order], self.minutes[order]
        chance = np.exp(-np.cumsum(np.concatenate([[0.0], loss])))
        pieces = chance[:-1] * minutes * _mean_left(loss)
        return np.cumsum([0.0, *minutes]), chance, np.cumsum([0.0, *pieces])

    def worst(self, minutes: Floats) -> Floats:
        """What paths of these minutes surely cost, whatever the hypothesis."""
        knots, chance, spent = self._knots
        return np.asarray(np.interp(minutes, knots, spent) + np.maximum(minutes - knots[-1], 0.0) * chance[-1])

    def each(self, minutes: Floats) -> Floats:
        """The same, with an own S for every hypothesis (one value each)."""
        order = np.argsort(-self.loss / self.minutes[:, None], axis=0, kind="stable")
        loss = np.take_along_axis(self.loss, order, axis=0)
        lengths = self.minutes[order]
        begins = np.cumsum(lengths, axis=0) - lengths
        chance = np.exp(loss - np.cumsum(loss, axis=0))
        inside = np.clip((minutes[None, :] - begins) / lengths, 0.0, 1.0)
        spent = (chance * lengths * inside * _mean_left(loss * inside)).sum(axis=0)
        beyond = np.maximum(minutes - lengths.sum(axis=0), 0.0)
        return np.asarray(spent + beyond * np.exp(-loss.sum(axis=0)))

    def reach(self, weights: Floats, least: float) -> Floats:
        """How many minutes a hypothesis of some weight surely is followed before its branch can be cut off."""
        if not least:
            return np.full(weights.shape, np.inf)
        knots, chance, _ = self._knots
        kept = weights[..., None] * chance >= least
        last = kept.sum(axis=-1) - 1
        found = np.where(last >= 0, knots[np.maximum(last, 0)], 0.0)
        return np.where(kept[..., -1], np.inf, found)


def _mean_left(loss: Floats) -> Floats:
    """The mean of exp(-x) for x from 0 to `loss`."""
    safe = np.maximum(loss, TINY)
    return np.asarray(np.where(loss > TINY, -np.expm1(-safe) / safe, 1.0 - safe / 2.0))


def fading(task: Task, places: NDArray[np.intp], minutes: Floats, members: NDArray[np.intp]) -> Fading | None:
    """How some moves (by number) fade for some hypotheses, each made once at most; None where nothing errs."""
    noisy = task.errs[places]
    if not noisy.any():
        return None
    return Fading(np.maximum(minutes[noisy], TINY), task.loss[np.ix_(places[noisy], members)])
