"""Learning from history, only when asked: the shares of a report's causes, updated by what was found before.

Shares within a report. Let pi be the author's shares of the causes (P(cause / report), scaled to sum 1), worth s
findings, and let every earlier case of the same report say how likely it was for each cause, L_e. Confirmed
findings point to one cause (or, where only the unit is known, to those of the unit). With n confirmed findings
for a cause and N in all the expected shares are (s pi + n) / (s + N): a Dirichlet prior with multinomial data
(Gelman et al., Bayesian Data Analysis, 3rd ed., section 3.4). A unit that was sent away and found good is no
confirmation: its causes keep the weight theta (1 - d), where d is the chance that the shop finds the fault, and
the shares are found by expectation and maximisation (Dempster, Laird & Rubin 1977).

Rates. With a Gamma(a, b) prior and k findings in T hours the expected rate is (a + k) / (b + T) (same book,
section 2.6).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import exp, lgamma, log
from typing import Literal, NamedTuple

from faultree.base.errors import FaultreeError
from faultree.library.model import Cause, Library
from faultree.strategy.case import Case

STRENGTH = 10.0
"""The author's shares count as so many findings."""

FOUND_IN_SHOP = 0.8
"""P(the shop finds the fault of a unit that has one): an assumption, as no study of such units is known to us."""

ROUNDS = 200
"""So many rounds of expectation and maximisation are enough for six digits."""


class Finding(NamedTuple):
    """What an earlier case of the same report ended with: a unit, perhaps the cause itself, and how.

    "confirmed": the fault was established; "not found": the unit was examined and nothing was wrong with it.
    """

    unit: str
    cause: str | None
    result: Literal["confirmed", "not found"]


class Share(NamedTuple):
    """A cause's share among those of the report: by the author, and with the history; and its confirmed findings."""

    cause: str
    before: float
    after: float
    confirmed: float


@dataclass(frozen=True, eq=False)
class Learnt:
    """A library whose likelihoods were updated for some reports, and what that rests on."""

    library: Library
    shares: tuple[Share, ...]
    confirmed: int
    not_found: int
    strength: float


def learn(
    library: Library,
    symptoms: Sequence[str],
    findings: Iterable[Finding],
    strength: float = STRENGTH,
    found_in_shop: float = FOUND_IN_SHOP,
) -> Learnt:
    """The library with the likelihoods of the causes of these reports updated by findings of the same reports.

    A cause's prior is multiplied by what its share grew or shrank by; the causes of an item are scaled back
    together where they would leave less than half for "good". Findings of causes and units that the library does
    not hold, or that the reports have nothing to do with, are passed over.
    """
    case = Case.open(library, symptoms)
    before = _shares_of(case)
    usable = [one for one in findings if _holds(library, one, before)]
    events = [_likelihood(library, one, before, found_in_shop) for one in usable]
    after = updated(list(before.values()), strength, events)
    ratios = {cause: new / old for (cause, old), new in zip(before.items(), after, strict=True)}
    counts = _confirmed(usable, before, library)
    shares = tuple(
        sorted(
            (Share(cause, old, new, counts[cause]) for (cause, old), new in zip(before.items(), after, strict=True)),
            key=lambda one: -one.after,
        )
    )
    confirmed = sum(one.result == "confirmed" for one in usable)
    return Learnt(_scaled(library, ratios), shares, confirmed, len(usable) - confirmed, strength)


def _shares_of(case: Case) -> dict[str, float]:
    """The share of each cause that the report points to, likeliest first."""
    pointed = {
        one.cause: one.probability for one in case.ranking() if one.implicated and one.probability > one.prior * 1.01
    }
    total = sum(pointed.values())
    return {cause: probability / total for cause, probability in pointed.items()} if total else {}


def _unit(library: Library, cause: str) -> str:
    return library.causes[cause].item or cause


def _holds(library: Library, finding: Finding, shares: Mapping[str, float]) -> bool:
    if finding.result == "confirmed" and finding.cause is not None:
        return finding.cause in shares
    return any(_unit(library, cause) == finding.unit for cause in shares)


def _likelihood(library: Library, finding: Finding, shares: Mapping[str, float], found: float) -> list[float]:
    """How likely what was found is under each cause."""
    if finding.result == "not found":
        return [1.0 - found if _unit(library, cause) == finding.unit else 1.0 for cause in shares]
    if finding.cause is not None:
        return [float(cause == finding.cause) for cause in shares]
    return [float(_unit(library, cause) == finding.unit) for cause in shares]


def updated(shares: Sequence[float], strength: float, events: Sequence[Sequence[float]]) -> list[float]:
    """The shares after some events, each the likelihood of what was seen under every cause.

    >>> [round(one, 3) for one in updated([.5, .3, .15, .05], 10, [[1, 0, 0, 0]] * 6 + [[0, 1, 0, 0]] * 9)]
    [0.44, 0.48, 0.06, 0.02]
    """
    if not events:
        return list(shares)
    counted: dict[tuple[float, ...], int] = {}
    for event in events:
        counted[tuple(event)] = counted.get(tuple(event), 0) + 1
    theta = list(shares)
    for _ in range(ROUNDS):
        mass = [strength * share for share in shares]
        for event, count in counted.items():
            weights = [one * likely for one, likely in zip(theta, event, strict=True)]
            total = sum(weights)
            for place, weight in enumerate(weights):
                mass[place] += count * weight / total if total else 0.0
        whole = sum(mass)
        later = [one / whole for one in mass]
        moved = max(abs(one - other) for one, other in zip(later, theta, strict=True))
        theta = later
        if moved < 1e-12:
            break
    return theta


def _confirmed(findings: Sequence[Finding], shares: Mapping[str, float], library: Library) -> dict[str, float]:
    """How many confirmed findings count for each cause; of a unit whose cause is not known, by share."""
    counts = dict.fromkeys(shares, 0.0)
    for one in findings:
        if one.result != "confirmed":
            continue
        some = [one.cause] if one.cause in shares else [c for c in shares if _unit(library, c) == one.unit]
        total = sum(shares[cause] for cause in some if cause)
        for cause in some:
            if cause:
                counts[cause] += shares[cause] / total
    return counts


MOST = 0.5
"""However much history speaks against an item, it stays good with at least this probability."""


def _scaled(library: Library, ratios: Mapping[str, float]) -> Library:
    raised = {cause: library.causes[cause].probability * ratio for cause, ratio in ratios.items()}
    units: dict[str, float] = {}
    for cause in library.causes.values():
        unit = cause.item or cause.id
        units[unit] = units.get(unit, 0.0) + raised.get(cause.id, cause.probability)
    causes: dict[str, Cause] = dict(library.causes)
    for name, probability in raised.items():
        most = max(
            MOST, sum(c.probability for c in library.causes.values() if (c.item or c.id) == _unit(library, name))
        )
        causes[name] = replace(causes[name], probability=probability * min(1.0, most / units[_unit(library, name)]))
    return replace(library, causes=causes)


# --- rates -------------------------------------------------------------------------------------


class Rate(NamedTuple):
    """An expected rate per hour, and the bounds between which it lies with 90 %."""

    mean: float
    low: float
    high: float


def rate(findings: int, hours: float, prior_findings: float, prior_hours: float) -> Rate:
    """The rate after some findings in some hours, with an author's rate worth `prior_findings` in `prior_hours`.

    Raises FaultreeError where nothing says anything about the rate: no findings on either side, or no hours.

    >>> round(rate(3, 8000.0, 0.5, 2000.0).mean, 6)
    0.00035
    """
    shape, scale = prior_findings + findings, prior_hours + hours
    if min(findings, hours, prior_findings, prior_hours) < 0 or not shape > 0.0 or not scale > 0.0:
        raise FaultreeError(
            f"no rate follows from {findings:g} findings in {hours:g} h and a prior of {prior_findings:g} in "
            f"{prior_hours:g} h; none may be negative, and some findings and some hours are needed on one of the sides"
        )
    return Rate(shape / scale, _quantile(shape, 0.05) / scale, _quantile(shape, 0.95) / scale)


def _quantile(shape: float, probability: float) -> float:
    """The value below which a Gamma(shape, 1) variable lies with this probability, by halving."""
    low, high = 0.0, shape + 20.0 * (float(shape**0.5) + 1.0)
    for _ in range(200):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _below(shape, middle) < probability else (low, middle)
    return (low + high) / 2.0


def _below(shape: float, value: float) -> float:
    """P(Gamma(shape, 1) <= value), by the series of the incomplete gamma function (Abramowitz & Stegun 6.5.29)."""
    if value <= 0.0:
        return 0.0
    term = total = 1.0 / shape
    count = shape
    while term > total * 1e-16:
        count += 1.0
        term *= value / count
        total += term
    return total * exp(shape * log(value) - value - lgamma(shape))
