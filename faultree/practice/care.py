"""Which cautions stand before a step of an exercise: all of them, in full, before every step that has some.

There is one rule, the safe one: what was read before another step is shown and acknowledged again. Which breaker is
"the breaker of the circuit", and who stands near "the surfaces", differs from step to step.
"""

from __future__ import annotations

from dataclasses import dataclass

from faultree.library.model import Caution
from faultree.strategy.case import Case
from faultree.walk import cautions
from faultree.walk.state import CheckStep, RepairStep


@dataclass(frozen=True, slots=True)
class LookStep:
    """The operational check is repeated, so the situation of what was reported is set up."""


Step = CheckStep | RepairStep | LookStep


def before(case: Case, step: Step) -> tuple[Caution, ...]:
    """Every caution of a step, warnings first, each once."""
    if not isinstance(step, LookStep):
        return cautions.before(case, step)
    library = case.library
    names = [one for report in case.symptoms for one in cautions.of_situation(library, _situation(case, report))]
    found = [library.cautions[name] for name in dict.fromkeys(names)]
    return tuple(sorted(found, key=lambda one: cautions.LEVELS[one.level]))


def _situation(case: Case, report: str) -> str | None:
    return case.library.symptoms[report].situation
