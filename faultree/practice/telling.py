"""What a check tells about the suspects: its bits, unless no answer of it could move a suspect that is still open."""

from __future__ import annotations

from math import log2

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
    weights = [max(unit.probability - sum(one.prior for one in unit.causes), 0.0) for unit in case.units()]
    total = sum(weights)
    if total <= 0.0:
        return 0.0
    shares = [(1.0 - doubt) * weight / total for weight in weights] + [doubt]
    return -sum(share * log2(share) for share in shares if share > 0.0)
