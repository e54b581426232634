"""The fault sets that a chart tells apart: those that explain the reports and hold nothing superfluous."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import exp, fsum, isfinite
from typing import TYPE_CHECKING

from faultree.belief.explain import Search, log_likelihood, log_prior
from faultree.belief.plan import finding
from faultree.belief.posterior import Posterior

if TYPE_CHECKING:
    from faultree.belief.engine import Given
    from faultree.belief.evidence import Reading

RARE = 1e-4
"""A fault set with less than this share of the heaviest kind of its fellows is not charted."""

MOST = 60
"""So many fault sets are charted at most, the heaviest."""

SOFT = 3
"""Up to so many reports that may be false, every combination of true and false ones is explained."""


@dataclass(frozen=True)
class Suspicion:
    """Fault sets, heaviest first, and their chances (sum 1).

    `left_out` is an upper bound on P(the faults that are there include none of these sets / reports). That one
    of them is there together with a fault that has nothing to do with it is not counted as left out.
    """

    sets: tuple[frozenset[str], ...]
    chances: tuple[float, ...]
    left_out: float


def suspicion_of(posterior: Posterior, rare: float = RARE, most: int = MOST) -> Suspicion:
    """The fault sets that explain the reports of a posterior and hold nothing superfluous, by P(exactly this set).

    These are the minimal sets that show what was reported. Where a report may be false, the sets that do
    without it are there too, and so may "nothing is wrong" be. Reports that say nothing about causes (a routine
    look) suspect nothing and every single cause. Sets below the share `rare`, or beyond the first `most`, are left out.
    """
    frame, readings, log_z = posterior.frame, posterior.readings, float(posterior.result.log_z)
    weights: dict[frozenset[str], float] = {}
    for one in _candidates(posterior, rare, most):
        log_weight = log_prior(frame, one) + log_likelihood(frame, readings, one)
        if isfinite(log_weight):
            weights[one] = min(exp(log_weight - log_z), 1.0)
    ordered = sorted(weights, key=lambda one: (-weights[one], tuple(sorted(one))))
    total = fsum(weights.values())
    kept = [one for one in ordered if weights[one] >= rare * total][:most]
    mass = fsum(weights[one] for one in kept)
    chances = tuple(weights[one] / mass for one in kept)
    return Suspicion(tuple(kept), chances, _left_out(posterior, kept, weights))


def _candidates(posterior: Posterior, rare: float, most: int) -> Iterator[frozenset[str]]:
    """Minimal sets for every combination of true reports, and the special ones."""
    soft = [number for number, one in enumerate(posterior.readings) if one.off > 0.0]
    options = list(product((False, True), repeat=len(soft))) if len(soft) <= SOFT else []
    for pattern in options or [(False,) * len(soft), (True,) * len(soft)]:
        true = {number for number, hard in zip(soft, pattern, strict=True) if hard}
        readings = [one._replace(off=0.0) if number in true else one for number, one in enumerate(posterior.readings)]
        found = _minimal(posterior, readings, rare, most)
        yield from found
        if found == [frozenset()] and len(true) == len(soft):
            yield from (frozenset({cause}) for cause in posterior.frame.prior.seat)


def _minimal(posterior: Posterior, readings: Sequence[Reading], rare: float, most: int) -> list[frozenset[str]]:
    findings = [finding(one) for one in readings]
    log_z = float(posterior.core.run(findings).log_z)
    if not isfinite(log_z):
        return []
    search = Search(posterior.frame, posterior.core.engines[0], findings, readings, log_z)
    return [frozenset(one.causes) for one in search.run(2 * most, rare / 8.0)]


def _left_out(posterior: Posterior, kept: Sequence[frozenset[str]], weights: dict[frozenset[str], float]) -> float:
    """P(none of the single causes is there / reports), less what the larger sets take of that."""
    if frozenset() in kept:  # every fault set includes it
        return 0.0
    singles = [cause for one in kept if len(one) == 1 for cause in one]
    absent = [_absent(posterior, cause) for cause in singles]
    without = float(posterior.core.run([*posterior.findings, *_merged(absent)]).log_z)
    share = exp(without - float(posterior.result.log_z)) if isfinite(without) else 0.0
    return max(0.0, share - fsum(weights[one] for one in kept if len(one) > 1)) + posterior.bound


def _absent(posterior: Posterior, cause: str) -> Given:
    present = posterior.present(cause)
    return present._replace(factors=tuple(1.0 - factor for factor in present.factors))


def _merged(findings: Sequence[Given]) -> list[Given]:
    """One finding for each root."""
    merged: dict[int, Given] = {}
    for one in findings:
        other = merged.get(one.root, one)
        factors = tuple(min(pair) for pair in zip(one.factors, other.factors, strict=True))
        merged[one.root] = one._replace(factors=factors)
    return list(merged.values())
