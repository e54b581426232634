"""What a walk proposes next, and when a search is over; the ranking itself is the case's alone."""

from __future__ import annotations

from collections.abc import Iterator

from faultree.belief.evidence import Repair
from faultree.strategy.advice import Advice
from faultree.strategy.case import Case
from faultree.strategy.worth import Worth
from faultree.walk import figures
from faultree.walk.follow import charted
from faultree.walk.reach import seen_by_checks
from faultree.walk.state import CheckStep, Pending, Reason, RepairStep, Walk
from faultree.walk.today import Today, waiting

SURE = 0.9
"""An item this likely stands out, where replacing it is also the best advice."""

LIKELY = 0.5
"""An item this likely stands out where, besides, no check left is worth its time."""

WORTH = 0.05
"""Bits below which a check is not worth its time beside an item that is already likely."""

QUICK = 3.0
"""A check of so many minutes, with all access open, is made in passing."""

TELLS = 1e-3
"""Bits below which a check tells nothing: a thousand of them would hardly halve what is possible."""

POINTED = 0.005
"""The evidence points to a suspect whose probability it raised by this much or more."""

APART = 0.01
"""A check tells something where its answer is expected to move such a suspect by this much or more."""


def proposal(walk: Walk) -> Pending | Reason:
    """The next step for this walk, or the reason why its search is over."""
    case, today = walk.open_case, walk.today
    if case.steps and isinstance(case.steps[-1], Repair) and case.steps[-1].gone:
        return Reason.RESTORED
    on_chart = charted(walk)
    if on_chart is not None and _possible(walk, on_chart):
        return on_chart
    units = standing_out(case, today)
    if units and units != walk.declined:
        return Reason.STANDS_OUT
    check = next_check(case, today)
    if check is None:
        return Reason.NOTHING_LEFT
    best = _best(case, today)
    return check if units or best is None or not today.repairs or _overtaken(walk, best) else best


def _possible(walk: Walk, planned: Pending | Reason) -> bool:
    """Whether a step of a chart can be done with what is there today."""
    if isinstance(planned, Reason):
        return True
    name = planned.check if isinstance(planned, CheckStep) else planned.unit
    return name not in waiting(walk.library, walk.lacks)


def standing_out(case: Case, today: Today) -> tuple[str, ...]:
    """The unit that is likely enough to end the search and best replaced next, or units that are bad together."""
    causes = next((causes for causes, probability in figures.together(case, SURE) if probability >= SURE), ())
    if causes:
        return tuple(case.unit_id(cause) for cause in causes)
    best = _best(case, today, units_wait=False)
    if not isinstance(best, RepairStep):
        return ()
    probability = next((unit.probability for unit in case.units() if unit.unit == best.unit), 0.0)
    worth_making = (one for one in telling(case, today) if one.bits >= WORTH)
    enough = probability >= SURE or (probability >= LIKELY and next(worth_making, None) is None)
    # a unit may be certain to be bad and yet have no part in the report: then the search goes on
    return (best.unit,) if enough and case.clears(best.unit) >= LIKELY else ()


def _overtaken(walk: Walk, best: Pending) -> bool:
    """Whether this is a repair that is only best because a likelier unit cannot be put right today."""
    if not isinstance(best, RepairStep):
        return False
    out = waiting(walk.library, walk.lacks)
    order = (unit.unit for unit in walk.open_case.units())
    return next((unit for unit in order if unit == best.unit or unit in out), best.unit) != best.unit


def _best(case: Case, today: Today, *, units_wait: bool = True) -> Pending | None:
    best = next(sensible(case, today, units_wait=units_wait), None)
    return step_of(best) if best else None


def sensible(case: Case, today: Today, *, quick: bool = False, units_wait: bool = True) -> Iterator[Advice]:
    """The advice of the case, best first, without what the evidence gives no reason for.

    `quick` takes the first look at a check (`concerns`) for enough, and costs next to nothing; `units_wait` as in
    `figures.advice`.
    """
    known = {worth.check: worth for worth in figures.checks(case, today)}
    units = {case.unit_id(cause) for cause in pointed_to(case)}
    reason = concerns if quick else tells
    for one in figures.advice(case, today, units_wait=units_wait):
        if one.item in units if one.check is None else reason(case, known[one.check]):
            yield one


def step_of(advice: Advice) -> Pending:
    """A piece of advice as a step of the walk."""
    return CheckStep(advice.check) if advice.check is not None else RepairStep(advice.item or "")


def alternatives(case: Case, today: Today, shown: Pending | None, count: int) -> tuple[Advice, ...]:
    """The best pieces of advice other than the step on view, with one replacement at most where checks are left.

    The last of them is the quick check that tells most for its time, where that is not among them: it costs next to
    nothing, and whoever stands in the cockpit makes it first whatever comes next.
    """
    possible = [one for one in sensible(case, today) if step_of(one) != shown and (today.repairs or one.check)]
    found: list[Advice] = []
    spare: list[Advice] = []
    for one in possible:
        replaces = one.check is None and any(other.check is None for other in found)
        (spare if replaces else found).append(one)
    first = [*found, *spare][:count]
    quick = max((one for one in possible if _quick(one) and one not in first), key=_rate, default=None)
    if quick is not None and len(first) == count and first[-1].check is not None and _rate(first[-1]) < _rate(quick):
        first[-1] = quick
    return tuple(first)


def _quick(one: Advice) -> bool:
    return one.check is not None and one.minutes <= QUICK and one.bits >= WORTH


def _rate(one: Advice) -> float:
    return one.bits / max(one.minutes, 1e-9)


# --- checks that tell something ----------------------------------------------------------------


def next_check(case: Case, today: Today) -> CheckStep | None:
    """The best check, passing over replacements; by bits per minute where the advice holds none; None without any."""
    for one in sensible(case, today):
        if one.check is not None:
            return CheckStep(one.check)
    best = max(telling(case, today), key=lambda worth: worth.bits / max(worth.minutes, 1e-9), default=None)
    return CheckStep(best.check) if best else None


def telling(case: Case, today: Today) -> Iterator[Worth]:
    """The checks that tell something about this case, most bits first."""
    return (worth for worth in figures.checks(case, today) if tells(case, worth))


def tells(case: Case, worth: Worth) -> bool:
    """True where the answer is expected to move a suspect that the evidence points to.

    Bits alone do not say so: a check of something that may well be broken, but has no part in the
    report, has bits too. The expected move of a suspect is the sum over the answers of
    P(answer) |P(suspect / answer) - P(suspect)|. A check that sees no such suspect is left out at once:
    it could only clear one by finding another, and that other would be pointed to as well.
    """
    if not concerns(case, worth):
        return False
    pointed = pointed_to(case)
    moved = dict.fromkeys(pointed, 0.0)
    for leaf in figures.outlook(case, worth.check).values():
        for one in leaf.ranking:
            if one.cause in pointed:
                moved[one.cause] += leaf.probability * abs(one.probability - pointed[one.cause])
    return any(move >= APART for move in moved.values())


def concerns(case: Case, worth: Worth) -> bool:
    """True where a check has bits to tell and sees a suspect that the evidence points to: a quick first look."""
    seen = seen_by_checks(case.library)[worth.check]
    return worth.bits >= TELLS and not seen.isdisjoint(pointed_to(case))


def pointed_to(case: Case) -> dict[str, float]:
    """The suspects that the evidence has made likelier, with their probabilities now."""
    return {
        one.cause: one.probability
        for one in case.ranking()
        if one.implicated and one.probability - one.prior >= POINTED
    }
