"""Where a walk goes next: to a step with its cautions first, to the best next step, or to its end."""

from __future__ import annotations

from dataclasses import replace

from faultree.base.errors import CaseError
from faultree.walk import cautions
from faultree.walk.judge import proposal
from faultree.walk.state import CheckStep, Pending, Reason, Walk
from faultree.walk.table import Phase


def pending_of(walk: Walk) -> Pending:
    """The step on view; CaseError where there is none."""
    if walk.pending is None:
        raise CaseError("no step is on view")
    return walk.pending


def enter(walk: Walk, pending: Pending) -> Walk:
    """Put a step on view, its cautions first where one of them has not been read."""
    unread = any(caution.id not in walk.read for caution in cautions.before(walk.open_case, pending))
    asked = Phase.CHECK if isinstance(pending, CheckStep) else Phase.REPAIR
    phase = Phase.CAUTIONS if unread else asked
    return replace(walk, phase=phase, pending=pending, conflict=None, reason=None)


def proceed(walk: Walk) -> Walk:
    """Put the best next step on view, or end the search."""
    found = proposal(walk)
    if isinstance(found, Reason):
        return replace(walk, phase=Phase.OVER, pending=None, conflict=None, reason=found)
    return enter(walk, found)
