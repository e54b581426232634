"""Bounds that enclose the probability of a symptom, from the minimal cut sets that are known of it."""

from __future__ import annotations

from collections.abc import Collection
from math import exp, expm1, fsum, log1p
from typing import TYPE_CHECKING

from faultree.logic.graph import negate
from faultree.logic.polarity import rising

if TYPE_CHECKING:
    from faultree.logic.cut_sets import MinimalSets


def enclose(sets: MinimalSets) -> tuple[float, float]:
    """A lower and an upper bound on P(symptom).

    Lower: a cause that is enough alone stays enough, whatever else is wrong, as long as nothing is wrong that
    can hinder the symptom. Upper: the symptom needs a cause that is enough alone, or another of the known sets,
    or, where not all are known, as many faults as an unknown set has causes.
    """
    family, reach = sets.known
    single = {name for name, share in family.shares.items() if share.order == 1}
    hinders = rising(sets.question.graph, negate(sets.question.literal))
    some = -expm1(_none(sets, single))
    lower = -exp(_none(sets, hinders)) * expm1(_none(sets, single | hinders) - _none(sets, hinders))
    others = family.total - fsum(sets.probabilities[name] for name in single)
    more = sets.many_faults(reach + 1) if reach is not None else 0.0
    rounding = 1e-12 * family.total
    return lower * (1.0 - 1e-12), min(some + max(others, 0.0) + more + rounding, 1.0)


def _none(sets: MinimalSets, names: Collection[str]) -> float:
    """The log of P(none of some causes is present)."""
    return fsum(
        log1p(-fsum(sets.probabilities[name] for name in group if name in names)) for group in sets.question.groups
    )
