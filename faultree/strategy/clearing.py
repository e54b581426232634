"""How far a repair clears the report, where several faults at once are the likeliest explanation."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.explain import shown_by

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.posterior import Posterior

MATTERS = 1.02
"""Where the units' probabilities sum to less, several faults at once are too unlikely to matter."""

MOST = 8
"""So many explanations are looked at."""


def clearing_of(posterior: Posterior, units: Sequence[str]) -> NDArray[np.float64]:
    """For each unit, what its repair does for an explanation that it is part of: 1 where it clears the report.

    Where an explanation takes several faults, any one repair may clear the report (all were needed to
    show it), or it goes only when m units are put right (each was enough): then a repair counts 1/m. The
    values are means over the heaviest explanations that hold the unit; they are 1 for every unit unless the
    likeliest fault set has several faults. `Posterior.clears` gives the exact chance of one repair.
    """
    clearing = np.ones(len(units))
    index = posterior.frame.prior.index
    if sum(posterior.unit_probability(index[unit]) for unit in units) < MATTERS:
        return clearing
    if len(posterior.core.engines[0].best(posterior.findings)[1]) < 2:
        return clearing
    explanations = tuple(posterior.explanations(MOST))
    for place, unit in enumerate(units):
        causes = frozenset(posterior.frame.prior.roots[index[unit]].causes)
        holding = [one for one in explanations if causes.intersection(one.causes)]
        if holding:
            weights = [one.probability for one in holding]
            values = [1.0 / _repairs(posterior, frozenset(one.causes), causes) for one in holding]
            clearing[place] = np.average(values, weights=weights)
    return clearing


def _repairs(posterior: Posterior, faults: frozenset[str], causes: frozenset[str]) -> int:
    """How many units must be put right, one of them given, until these faults no longer show the report."""
    reports = posterior.readings[: len(posterior.symptoms)]
    rest = sorted(faults - causes)
    parts = [frozenset(part) for size in range(len(rest) + 1) for part in combinations(rest, size)]
    still = np.any(shown_by(posterior.frame, reports, [faults - causes - part for part in parts]), axis=0)
    return 1 + len(parts[int(np.argmin(still))])
