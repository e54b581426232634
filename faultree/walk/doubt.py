"""Answers that cannot all be true: which they are, and what believing the others would mean."""

from __future__ import annotations

from faultree.base.errors import Contradiction
from faultree.belief.evidence import Repair, Reply
from faultree.strategy.case import Case
from faultree.walk import steps
from faultree.walk.state import Conflict


def doubted(conflict: Conflict) -> tuple[Reply | Repair, ...]:
    """The steps that contradict each other, the newest among them, likeliest wrong first."""
    return conflict.steps if conflict.newest in conflict.steps else (*conflict.steps, conflict.newest)


def if_wrong(case: Case, conflict: Conflict, step: Reply | Repair) -> tuple[str, float] | None:
    """The likeliest suspect (title, probability) with every step but this one; None where that contradicts too."""
    try:
        believed = case if step == conflict.newest else steps.add(steps.without(case, step), conflict.newest)
    except Contradiction:
        return None
    lead = believed.ranking()[0]
    return (case.library.causes[lead.cause].title, lead.probability)
