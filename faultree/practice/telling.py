"""What a check tells about the suspects: its bits, unless no answer of it could move a suspect that is still open."""

from __future__ import annotations

from collections.abc import Sequence
from math import log2

from faultree.belief.posterior import Suspect
from faultree.strategy.case import Case

OPEN = 0.005
"""A suspect that is likelier than this (and than before the report) is still open."""

NOTHING = 1e-6
"""What is moved by less than this is not changed."""


def open_suspects(case: Case) -> tuple[str, ...]:
    """The causes that the evidence points to, likeliest first."""
    return tuple(one.cause for one in case.ranking() if one.implicated and one.probability - one.prior > OPEN)


def suspect_bits(case: Case, check: str) -> float:
    """What a check could tell with these answers: 0 where no answer could move a suspect that is open.

    A check of something that has no part in the report has bits too, but they are about that thing alone.
    """
    told = next((one.bits for one in case.checks() if one.check == check), 0.0)
    return told if told > 0.0 and _can_move(case, check) else 0.0


def _can_move(case: Case, check: str) -> bool:
    still = frozenset(open_suspects(case))
    suspects = {one.cause: one.probability for one in case.ranking() if one.cause in still}
    return any(
        abs(one.probability - suspects[one.cause]) > NOTHING
        for leaf in case.outlook(check).values()
        for one in leaf.ranking
        if one.cause in suspects
    )


def missing(case: Case, doubt: float = 0.0) -> float:
    """Bits that are missing to know which unit to put right, each unit weighed by how far the evidence points to it.

    The entropy of which unit it is, were it one; `doubt` is the chance that the report is wrong and it is none.
    """
    return _unknown(case.ranking(), doubt)


def narrows(case: Case, check: str) -> float:
    """By how many bits a check can be expected to lessen what is missing.

    Less than it tells where it tells mostly of things that have no part in the report.
    """
    after = case.outlook(check).values()
    return max(missing(case) - sum(one.probability * _unknown(one.ranking) for one in after), 0.0)


def _unknown(ranking: Sequence[Suspect], doubt: float = 0.0) -> float:
    """The entropy of which unit of a ranking it is."""
    pointed: dict[str, float] = {}
    for one in ranking:
        if one.implicated:
            unit = one.item or one.cause
            pointed[unit] = pointed.get(unit, 0.0) + one.probability - one.prior
    weights = [max(one, 0.0) for one in pointed.values()]
    total = sum(weights)
    if total <= 0.0:
        return 0.0
    shares = [(1.0 - doubt) * weight / total for weight in weights] + [doubt]
    return -sum(share * log2(share) for share in shares if share > 0.0)
