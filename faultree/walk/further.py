"""A further report in a case that has begun: added with all answers kept, and taken back again."""

from __future__ import annotations

from dataclasses import replace

from faultree.base.errors import CaseError, Contradiction
from faultree.base.words import listing
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.walk import events as ev
from faultree.walk import titles
from faultree.walk.onward import proceed
from faultree.walk.state import Added, Told, Turn, Walk
from faultree.walk.table import Phase

GONE = (
    "the symptom went away with what was put right in this case; what was reported besides is a case of its own, or "
    "undo takes that back"
)
APART = "“{new}” cannot be true together with what was reported ({old}); it is a case of its own"
AGAINST = (
    "“{new}” cannot be true together with these answers: {steps}. Nothing was changed. Take the one that may be wrong "
    "up again (check and some words of it) and add the report then, or make it a case of its own"
)


def also(walk: Walk, event: ev.Also) -> Turn:
    """Add reports to the case; CaseError where one is there already, or cannot be true together with the rest."""
    case = walk.open_case
    if walk.conflict is not None:
        raise CaseError("the answers still contradict each other; carry on takes you back to them")
    if any(isinstance(one, Repair) and one.gone for one in case.steps):
        raise CaseError(GONE)
    names = dict.fromkeys(walk.library.symptom_id(one) for one in event.symptoms)
    new = [name for name in names if name not in case.symptoms]
    if not new:
        raise CaseError("this case has that report already" if names else "no report is named")
    taken = replace(
        walk,
        case=_with(case, new),
        added=(*walk.added, *(Added(len(case.steps), name) for name in new)),
    )
    return Turn(_onward(taken), (Told(f"Added: {_named(walk.library, new)}. All answers are kept."),))


def _with(case: Case, new: list[str]) -> Case:
    """The case with further reports; CaseError says what contradicts them."""
    try:
        made = replace(case, symptoms=(*case.symptoms, *new))
        made.ranking()
    except Contradiction as error:
        library = case.library
        steps = [titles.sentence(library, one) for one in error.steps if isinstance(one, Reply | Repair)]
        if steps:
            raise CaseError(AGAINST.format(new=_named(library, new), steps="; ".join(steps))) from error
        raise CaseError(APART.format(new=_named(library, new), old=_named(library, case.symptoms))) from error
    return made


def _named(library: Library, names: list[str] | tuple[str, ...]) -> str:
    return listing(library.symptoms[name].title for name in names)


def _onward(walk: Walk) -> Walk:
    """To the best next step for what is known now; the notice is still to be read where it was."""
    return walk if walk.phase is Phase.NOTICE else proceed(walk)


def newest(walk: Walk) -> Added | None:
    """The report that came in after the last step; None where a step came after every report.

    None too where it is the only one left, as others no longer fit the tree: a case is never without a report.
    """
    case = walk.open_case
    last = walk.added[-1] if walk.added and len(case.symptoms) > 1 else None
    return last if last is not None and last.after >= len(case.steps) else None


def before(walk: Walk) -> Case:
    """The case before the report that came in last."""
    assert walk.added  # one came in
    case, name = walk.open_case, walk.added[-1].symptom
    return replace(case, symptoms=tuple(one for one in case.symptoms if one != name))


def taken_back(walk: Walk) -> Turn:
    """The walk without the report that came in last."""
    name = walk.added[-1].symptom
    without = replace(walk, case=before(walk), added=walk.added[:-1], conflict=None, reason=None)
    return Turn(_onward(without), (Told(f"Taken back: the report “{walk.library.symptoms[name].title}”."),))
