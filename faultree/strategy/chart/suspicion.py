"""The fault sets that a chart tells apart: those that explain the reports and hold nothing superfluous."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations, product
from math import exp, fsum, isfinite, log
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.engine import Given
from faultree.belief.explain import Search, log_prior, shown_by
from faultree.belief.plan import finding
from faultree.belief.posterior import Posterior
from faultree.belief.shelf import shelf_of

if TYPE_CHECKING:
    from faultree.belief.engine import Finding, Result
    from faultree.belief.evidence import Reading
    from faultree.belief.plan import Plan

RARE = 1e-4
"""A fault set with less than this share of the heaviest kind of its fellows is not charted."""

MOST = 120
"""So many fault sets are charted at most, the heaviest."""

SOFT = 3
"""Up to so many reports that may be false, every combination of true and false ones is explained."""

PAIRED = 12
"""So many of the larger fault sets are paired for the bound on what is left out."""


@dataclass(frozen=True)
class Suspicion:
    """Fault sets, heaviest first, and their chances (sum 1).

    `left_out` is an upper bound on P(the faults that are there include none of these sets / reports). That one
    of them is there together with a fault that has nothing to do with it is not counted as left out.
    """

    sets: tuple[frozenset[str], ...]
    chances: tuple[float, ...]
    left_out: float


@dataclass(frozen=True, eq=False)
class Reports:
    """Some reports, and an engine for them alone: with all checks it could be far larger."""

    posterior: Posterior

    @cached_property
    def plan(self) -> Plan:
        """The engine."""
        posterior = self.posterior
        evidence = [one.point for one in posterior.findings]
        return shelf_of(posterior.frame).parted(evidence, (), posterior.limits)

    @cached_property
    def result(self) -> Result:
        """Posteriors of all causes; `log_z` is -inf where nothing explains the reports."""
        return self.plan.run(self.posterior.findings)

    @property
    def log_z(self) -> float:
        """The log of P(reports)."""
        return float(self.result.log_z)

    def log_z_of(self, findings: Sequence[Finding]) -> float:
        """The log of P(some findings)."""
        return float(self.plan.run(findings).log_z)

    def share(self, findings: Sequence[Finding]) -> float:
        """P(some findings / reports)."""
        found = self.log_z_of([*self.posterior.findings, *findings])
        return exp(min(found - self.log_z, 0.0)) if isfinite(found) else 0.0


def suspicion_of(reports: Reports, rare: float = RARE, most: int = MOST) -> Suspicion:
    """The fault sets that explain some reports and hold nothing superfluous, by P(exactly this set).

    These are the minimal sets that show what was reported. Where a report may be false, the sets that do
    without it are there too, and so may "nothing is wrong" be. Reports that say nothing about causes (a routine
    look) suspect nothing and every single cause. Sets below the share `rare`, or beyond the first `most`, are left out.
    """
    frame, readings = reports.posterior.frame, reports.posterior.readings
    found = list(dict.fromkeys(_candidates(reports, rare, most)))
    likely = np.ones(len(found))
    for reading, shown in zip(readings, shown_by(frame, readings, found), strict=True):
        likely *= np.where(shown, reading.on, reading.off)
    weights = {
        one: min(exp(log_prior(frame, one) + log(chance) - reports.log_z), 1.0)
        for one, chance in zip(found, likely.tolist(), strict=True)
        if chance > 0.0
    }
    ordered = sorted(weights, key=lambda one: (-weights[one], tuple(sorted(one))))
    total = fsum(weights.values())
    kept = [one for one in ordered if weights[one] >= rare * total][:most]
    mass = fsum(weights[one] for one in kept)
    chances = tuple(weights[one] / mass for one in kept)
    return Suspicion(tuple(kept), chances, _left_out(reports, kept))


def _candidates(reports: Reports, rare: float, most: int) -> Iterator[frozenset[str]]:
    """Minimal sets for every combination of true reports, and the special ones."""
    readings = reports.posterior.readings
    soft = [number for number, one in enumerate(readings) if one.off > 0.0]
    options = list(product((False, True), repeat=len(soft))) if len(soft) <= SOFT else []
    for pattern in options or [(False,) * len(soft), (True,) * len(soft)]:
        true = {number for number, hard in zip(soft, pattern, strict=True) if hard}
        found = _minimal(
            reports, [one._replace(off=0.0) if n in true else one for n, one in enumerate(readings)], rare, most
        )
        yield from found
        if found == [frozenset()] and len(true) == len(soft):
            yield from (frozenset({cause}) for cause in reports.posterior.frame.prior.seat)


def _minimal(reports: Reports, readings: Sequence[Reading], rare: float, most: int) -> list[frozenset[str]]:
    findings = [finding(one) for one in readings]
    log_z = reports.log_z_of(findings)
    if not isfinite(log_z):
        return []
    search = Search(reports.posterior.frame, reports.plan.engines[0], findings, readings, log_z)
    return [frozenset(one.causes) for one in search.run(2 * most, rare / 8.0)]


def _left_out(reports: Reports, kept: Sequence[frozenset[str]]) -> float:
    """An upper bound on P(the faults include none of these sets / reports).

    With none of the single causes there, P(some larger set is there) is at least the sum over the heaviest of
    them less the sum over their pairs (Bonferroni's inequality).
    """
    if frozenset() in kept:  # every fault set includes it
        return float(reports.result.bound)
    single = {cause for one in kept if len(one) == 1 for cause in one}
    larger = [one for one in kept if len(one) > 1][:PAIRED]
    found = reports.share(_given(reports, frozenset(), single))
    left = found - fsum(reports.share(_given(reports, one, single)) for one in larger)
    for one, two in combinations(larger, 2):
        if _compatible(reports, one | two):
            left += reports.share(_given(reports, one | two, single))
    return min(max(left, 0.0), found) + float(reports.result.bound)


def _compatible(reports: Reports, causes: frozenset[str]) -> bool:
    """Whether no two of these causes are of one unit."""
    seat = reports.posterior.frame.prior.seat
    return len({seat[cause][0] for cause in causes}) == len(causes)


def _given(reports: Reports, present: frozenset[str], absent: Collection[str]) -> list[Given]:
    """Causes that are there and causes that are not, as findings on units."""
    prior = reports.posterior.frame.prior
    found = []
    for root in sorted({prior.seat[cause][0] for cause in (*present, *absent)}):
        causes = prior.roots[root].causes
        forced = present.intersection(causes)
        factors = [float(one in forced if forced else one not in absent) for one in causes]
        found.append(Given(root, (float(not forced), *factors)))
    return found
