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

    def needing(self, single: Floats, total: Floats, prices: Floats) -> Floats:
        """What surely is spent for every hypothesis that needs a step of `single` minutes, and `total` of prices.

        `prices` (checks x hypotheses) are those of the checks that err. A path may hold such checks besides, to lose
        the hypothesis before what it needs; that pays only for those that lose much a minute. A path spends
        least where what loses most a minute comes first, so the least is summed up from the last step to the first.
        """
        alone = self._with_others(single, np.repeat(self.minutes[:, None], len(single), axis=1), self.loss)
        needed = prices > 0.0
        size = np.where(needed, prices, self.minutes[:, None])
        order = np.argsort(-self.loss / size, axis=0, kind="stable")
        size, loss, needed = (np.take_along_axis(one, order, axis=0) for one in (size, self.loss, needed))
        asked = np.where(needed, size, 0.0)
        before = np.cumsum(asked, axis=0) - asked
        share = np.where(needed, np.clip((total[None, :] - before) / size, 0.0, 1.0), 0.0)
        later = np.maximum(total - asked.sum(axis=0), 0.0)
        for place in range(len(size) - 1, -1, -1):
            part, rest = share[place], 1.0 - share[place]
            later = np.minimum(later, _step(size[place] * rest, loss[place] * rest, later))
            later = np.where(part > 0.0, _step(size[place] * part, loss[place] * part, later), later)
        return np.asarray(np.maximum(alone, later))

    def _with_others(self, needed: Floats, size: Floats, loss: Floats) -> Floats:
        """A last step of some minutes, with any checks before it that lower its mean."""
        order = np.argsort(-loss / size, axis=0, kind="stable")
        size, loss = np.take_along_axis(size, order, axis=0), np.take_along_axis(loss, order, axis=0)
        later = needed
        for place in range(len(size) - 1, -1, -1):
            later = np.minimum(later, _step(size[place], loss[place], later))
        return later

    def before(self, minutes: Floats) -> Floats:
        """What surely is spent, whatever the hypothesis, where one step of these minutes is needed in the end.

        Checks that err may come before it: some of those that lose most a minute, if any.
        """
        _, chance, spent = self._knots
        return np.asarray((spent + chance * minutes[..., None]).min(axis=-1))

    def only(self, kept: NDArray[np.intp]) -> Fading:
        """The same for some of the hypotheses."""
        return Fading(self.minutes, self.loss[:, kept])

    def reach(self, weights: Floats, least: float) -> Floats:
        """How many minutes a hypothesis of some weight surely is followed before its branch can be cut off.

        That is where every answer to the next check would be below `least`, the one without error too.
        """
        if not least:
            return np.full(weights.shape, np.inf)
        knots, chance, _ = self._knots
        chance = chance * np.exp(-self.loss.max(initial=0.0))
        kept = weights[..., None] * chance >= least
        last = kept.sum(axis=-1) - 1
        found = np.where(last >= 0, knots[np.maximum(last, 0)], 0.0)
        return np.where(kept[..., -1], np.inf, found)


def _step(minutes: Floats, loss: Floats, later: Floats) -> Floats:
    """Minutes of a step that loses evenly while it lasts, and of what comes after it."""
    return np.asarray(minutes * _mean_left(loss) + np.exp(-loss) * later)


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
