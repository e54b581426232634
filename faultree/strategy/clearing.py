"""How far a repair clears the report, where several faults at once are likely enough to matter."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.posterior import Posterior

MATTERS = 1.02
"""Where the units' probabilities sum to less, several faults at once are too unlikely to matter."""

MOST = 6
"""For this many of the likeliest units the exact value is worked out; the others count as clearing."""


def clearing_of(posterior: Posterior, units: Sequence[str]) -> NDArray[np.float64]:
    """For each unit P(report gone once it is put right / it is at fault, evidence), or 1 where that is near."""
    index = posterior.frame.prior.index
    chance = {unit: posterior.unit_probability(index[unit]) for unit in units}
    clearing = np.ones(len(units))
    if sum(chance.values()) < MATTERS:
        return clearing
    likely = sorted((unit for unit in units if chance[unit] > 0.01), key=lambda unit: -chance[unit])[:MOST]
    for unit in likely:
        clearing[units.index(unit)] = min(1.0, posterior.clears(index[unit]) / chance[unit])
    return clearing
