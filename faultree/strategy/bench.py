"""What repairs cost, how likely each ends the search, and what a row of them takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.posterior import Posterior

    Floats = NDArray[np.float64]

BARELY = 1e-4
"""A unit less likely than this to have to do with the report is not looked at closely."""


@dataclass(frozen=True, eq=False)
class Bench:
    """What repairs cost: for each unit that could be at fault, its minutes and its access.

    `certain` says that the reports are there for certain: none can be wrong, and none may be gone already because
    nobody could tell what came of the last repair. Else what the units do not account for takes no more time.
    """

    units: tuple[str, ...]
    rows: NDArray[np.intp]
    minutes: Floats
    access: tuple[Mapping[str, float], ...]
    clearing: Floats
    prior: Floats
    certain: bool = True

    def costs(self, opened: Iterable[str]) -> Floats:
        """Minutes to put each unit right and look again, given the access already open."""
        done = frozenset(opened)
        extra = [sum(cost for name, cost in needs.items() if name not in done) for needs in self.access]
        return np.asarray(self.minutes + np.array(extra))

    def shares(self, units: Floats) -> Floats:
        """How likely each unit's repair ends the search, from P(at fault) (columns kept).

        Where several faults are there at once, one repair is not enough. What they take beyond the first is left out:
        with reports that are certain the shares sum to 1 at least, so that such cases count like the others.
        """
        found = self.concerned(units) * self.clearing.reshape(-1, *(1,) * (units.ndim - 1))
        return found * self.scale(found) if self.certain else found

    def open_share(self, shares: Floats) -> Floats:
        """P(there is still something to repair) for each column of shares."""
        whole = np.minimum(shares.sum(axis=0), 1.0)
        return np.ones_like(whole) if self.certain else whole

    @staticmethod
    def scale(shares: Floats) -> Floats:
        """What shares are multiplied by so that they sum to 1 at least (one factor for each column)."""
        total = shares.sum(axis=0)
        return np.asarray(1.0 / np.where((total > 0.0) & (total < 1.0), total, 1.0))

    def suspected(self, units: Floats) -> NDArray[np.intp]:
        """The units that may have to do with the report, by their place on the bench."""
        return np.flatnonzero(self.concerned(units) > BARELY)

    def concerned(self, units: Floats) -> Floats:
        """How likely each unit has to do with the report, from P(at fault) (columns kept).

        A unit may be at fault by coincidence, as likely as ever, and then its repair clears nothing. With x the
        chance that it has to do with the report, P(at fault) = x + (1 - x) prior; so x is what P(at fault)
        exceeds the prior by, over 1 - prior.
        """
        prior = self.prior.reshape(-1, *(1,) * (units.ndim - 1))
        return np.clip((units - prior) / (1.0 - prior), 0.0, 1.0)


def unit_probabilities(posterior: Posterior, bench: Bench, causes: Floats) -> Floats:
    """P(unit is at fault) for the units of a bench, from those of all causes (columns kept)."""
    sizes = [len(root.causes) for root in posterior.frame.prior.roots]
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.intp)
    return np.asarray(np.add.reduceat(causes, starts, axis=0)[bench.rows])


def repair_minutes(shares: Floats, costs: Floats, whole: Floats | float = 1.0) -> Floats:
    """Expected minutes of repairs in order of share over cost, for each column of shares (and costs).

    `whole` is the chance, for each column, that there is something to repair at all.
    """
    order = np.argsort(-shares / costs, axis=0, kind="stable")
    sorted_shares = np.take_along_axis(shares, order, axis=0)
    sorted_costs = np.take_along_axis(costs, order, axis=0)
    before = np.cumsum(sorted_shares, axis=0) - sorted_shares
    left = np.maximum(whole - before, 0.0)
    left[left < 1e-12] = 0.0
    return np.asarray((sorted_costs * left).sum(axis=0))
