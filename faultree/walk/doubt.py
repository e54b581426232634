"""Answers that cannot all be true: which they are, and what believing the others would mean."""

from __future__ import annotations

from collections.abc import Collection

from faultree.base.errors import Contradiction
from faultree.belief.evidence import Repair, Reply, Step
from faultree.strategy.case import Case
from faultree.walk import steps
from faultree.walk.state import Conflict


def doubted(conflict: Conflict) -> tuple[Reply | Repair, ...]:
    """The steps that contradict each other, the newest among them, likeliest wrong first."""
    return conflict.steps if conflict.newest in conflict.steps else (*conflict.steps, conflict.newest)


def presupposed(case: Case, newest: Step, named: Collection[Step]) -> tuple[Repair, ...]:
    """The repairs that are not named among the contradicting steps, though without one of them nothing contradicts.

    What was found after a repair rests on the new part being good, which nobody has looked at.
    """
    done = (one for one in case.steps if isinstance(one, Repair) and one not in named)
    return tuple(one for one in done if _fits(case, one, newest))


def _fits(case: Case, left_out: Step, newest: Step) -> bool:
    try:
        steps.add(steps.without(case, left_out), newest)
    except Contradiction:
        return False
    return True


def if_wrong(case: Case, conflict: Conflict, step: Reply | Repair) -> tuple[str, float] | None:
    """The likeliest suspect (title, probability) with every step but this one; None where that contradicts too."""
    try:
        believed = case if step == conflict.newest else steps.add(steps.without(case, step), conflict.newest)
    except Contradiction:
        return None
    lead = believed.ranking()[0]
    return (case.library.causes[lead.cause].title, lead.probability)
