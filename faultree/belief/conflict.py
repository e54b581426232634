"""Contradictions: which answers cannot all be true, the likeliest wrong one first."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from faultree.base.errors import Contradiction
from faultree.base.words import listing
from faultree.belief.evidence import Reply, Step

if TYPE_CHECKING:
    from faultree.library.model import Library

LogZ = Callable[[Sequence[Step]], float]
"""The log of P(reports and some steps); -inf where nothing explains them."""


def contradiction(library: Library, symptoms: Sequence[str], steps: Sequence[Step], log_z: LogZ) -> Contradiction:
    """The error that names a minimal set of steps that cannot all be true.

    Steps are dropped one by one as long as the rest still contradicts itself: what is left is minimal
    (Marques-Silva 2010 calls this deletion-based extraction). The order within it is by
    P(reports and the others): with errors equally likely beforehand, the step whose absence makes the rest
    most likely is the likeliest wrong one.
    """
    if log_z(()) == float("-inf"):
        return Contradiction(_no_cause(library, symptoms), (), ())
    found = minimal_core(steps, log_z)
    core = sorted(found, key=lambda step: -log_z(_without(found, step)))
    answers = [(step.check, step.answer) for step in core if isinstance(step, Reply) and step.answer is not None]
    return Contradiction(_words(library, core), answers, tuple(core))


def minimal_core(steps: Sequence[Step], log_z: LogZ) -> list[Step]:
    """A minimal part of some steps that is still impossible, in the order in which they came."""
    core = [step for step in steps if not (isinstance(step, Reply) and step.answer is None)]
    for step in list(core):
        rest = _without(core, step)
        if log_z(rest) == float("-inf"):
            core = rest
    return core


def _without(steps: Sequence[Step], step: Step) -> list[Step]:
    return [one for one in steps if one is not step]


def _no_cause(library: Library, symptoms: Sequence[str]) -> str:
    titles = listing(f"“{library.symptoms[name].title}”" for name in symptoms)
    if len(symptoms) == 1:
        return f"no fault in the library can produce the report {titles}"
    return f"no set of faults in the library can produce all these reports: {titles}"


def _words(library: Library, core: Sequence[Step]) -> str:
    parts = [step_words(library, step) for step in core]
    if len(parts) == 1:
        return f"no set of faults explains the report together with {parts[0]}; look at it again"
    return f"no set of faults explains {listing(parts)} together; look again at the first of these"


def step_words(library: Library, step: Step) -> str:
    """A step as a phrase: the check's title with the answer given, or the repair."""
    if isinstance(step, Reply):
        check = library.checks[step.check]
        said = "cannot tell" if step.answer is None else check.answer(step.answer).text
        return f"“{check.asked(step.answer)}” answered “{said}”"
    title = (library.items.get(step.unit) or library.causes[step.unit]).title
    return f"the report {'gone' if step.gone else 'still there'} after “{title}” was put right"
