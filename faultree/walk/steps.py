"""Steps added to a case and taken out of it again, whether they are answers or replacements."""

from __future__ import annotations

from faultree.belief.evidence import Repair, Reply
from faultree.strategy.case import Case


def add(case: Case, step: Reply | Repair) -> Case:
    """The case with one more step; raises Contradiction where nothing explains it then."""
    if isinstance(step, Repair):
        return case.repair(step.unit, gone=step.gone)
    return case.cannot_tell(step.check) if step.answer is None else case.answer(step.check, step.answer)


def without(case: Case, dropped: Reply | Repair) -> Case:
    """The case as if one step had not been taken; the others stay in order."""
    kept = Case.open(case.library, case.symptoms)
    for step in case.steps:
        if step != dropped:
            kept = add(kept, step)
    return kept
