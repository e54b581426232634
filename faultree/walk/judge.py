"""What a walk proposes next, and when a search is over; the ranking itself is the case's alone."""

from __future__ import annotations

from faultree.belief.evidence import Repair
from faultree.strategy.advice import Advice
from faultree.strategy.case import Case, Unit
from faultree.strategy.worth import Worth
from faultree.walk import figures
from faultree.walk.state import CheckStep, Pending, Reason, RepairStep, Walk

SURE = 0.9
"""An item this likely stands out, where replacing it is also the best advice."""

LIKELY = 0.5
"""An item this likely stands out where, besides, no check left is worth its time."""

TELLS = 1e-6
"""Bits below which a check tells nothing (the rounding of the engine lies far below)."""

WORTH = 0.05
"""Bits below which a check is not worth its time beside an item that is already likely."""


def proposal(walk: Walk) -> Pending | Reason:
    """The next step for this walk, or the reason why its search is over."""
    case = walk.open_case
    if case.steps and isinstance(case.steps[-1], Repair) and case.steps[-1].gone:
        return Reason.RESTORED
    telling = [worth for worth in figures.checks(case, walk.by) if worth.bits > TELLS]
    advice = figures.advice(case, walk.by)
    units = case.units()
    lead = units[0] if units else None
    if lead is not None and lead.unit != walk.declined and _stands_out(lead, advice, telling):
        return Reason.STANDS_OUT
    if not telling:
        return Reason.NOTHING_LEFT
    if lead is not None and lead.unit == walk.declined:
        return next_check(advice, telling)
    return step_of(advice[0]) if advice else next_check(advice, telling)


def _stands_out(lead: Unit, advice: tuple[Advice, ...], telling: list[Worth]) -> bool:
    if not advice or step_of(advice[0]) != RepairStep(lead.unit):
        return False
    return lead.probability >= SURE or (lead.probability >= LIKELY and all(worth.bits < WORTH for worth in telling))


def step_of(advice: Advice) -> Pending:
    """A piece of advice as a step of the walk."""
    return CheckStep(advice.check) if advice.check is not None else RepairStep(advice.item or "")


def next_check(advice: tuple[Advice, ...], telling: list[Worth]) -> Pending:
    """The best check, passing over replacements; by bits per minute where the advice holds none."""
    for one in advice:
        if one.check is not None and any(worth.check == one.check for worth in telling):
            return CheckStep(one.check)
    best = max(telling, key=lambda worth: worth.bits / max(worth.minutes, 1e-9))
    return CheckStep(best.check)


def alternatives(case: Case, by: tuple[str, ...] | None, shown: Pending | None, count: int) -> tuple[Advice, ...]:
    """The best pieces of advice other than the step on view."""
    others = [one for one in figures.advice(case, by) if step_of(one) != shown]
    return tuple(one for one in others if one.check is None or one.bits > TELLS)[:count]
