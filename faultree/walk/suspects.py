"""The suspects of a case as lines to show, and what the last step did to them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from faultree.belief.evidence import Repair, Reply
from faultree.belief.posterior import Suspect
from faultree.strategy.case import Case
from faultree.walk import figures, titles
from faultree.walk.prompt import Change, SuspectLine, Suspects, Together

LINES = 6
"""At most so many suspects get a line of their own."""

FAINT = 0.005
"""A suspect less likely than this gets no line, unless there are fewer than three lines without it."""

NOTABLE = 0.05
"""Faults that act together are mentioned from this probability on."""

MOVED = 0.0005
"""A suspect moved where its probability changed by more than this, a twentieth of a percent."""

HARDLY = 0.2
"""An answer less likely than this that moves no suspect does not fit what is known: somebody may be mistaken."""

GONE = 1e-12
"""Below this a suspect counts as excluded: what is left there is rounding."""


def suspects(case: Case, *, before: Case | None = None, reported: str = "") -> Suspects:
    """The suspects of the case beside what they were before its last step.

    Where a further report (its title) came in last, `before` is the case without it.
    """
    if before is not None:
        change = Change(reported, "", _excluded(case, _alive(before), _alive(case), None), _moved(before, case))
        return replace(leading(case, LINES, _figures(before)), change=change)
    earlier = _figures(case.undo()) if case.steps else {}
    return replace(leading(case, LINES, earlier), change=_change(case) if case.steps else None)


def _figures(case: Case) -> dict[str, float]:
    return {one.cause: one.probability for one in case.ranking()}


def leading(case: Case, most: int, earlier: Mapping[str, float] | None = None) -> Suspects:
    """The likeliest suspects, `most` at most, with what they were earlier; faint ones get no line."""
    now = [one for one in case.ranking() if one.implicated and one.probability > GONE]
    count = max(min(3, len(now)), _lines(now[:most], ever_pointed_to(case)))
    return Suspects(
        lines=tuple(line(case, one, (earlier or {}).get(one.cause)) for one in now[:count]),
        more=len(now) - count,
        at_most=now[count].probability if len(now) > count else 0.0,
        change=None,
        together=together(case),
        bound=case.bound,
    )


def _lines(first: Sequence[Suspect], pointed: frozenset[str]) -> int:
    """So many of these get a line: down to the last that is not faint and that the evidence ever pointed to."""
    return max((n for n, one in enumerate(first, 1) if one.probability >= FAINT and one.cause in pointed), default=0)


def ever_pointed_to(case: Case) -> frozenset[str]:
    """The causes that the report alone, or the evidence now, makes likelier; others are faulty only by coincidence."""
    report = Case.open(case.library, case.symptoms)
    return frozenset(one.cause for at in (report, case) for one in at.ranking() if one.probability - one.prior >= FAINT)


def line(case: Case, suspect: Suspect, before: float | None = None) -> SuspectLine:
    """One suspect with the title and place of its item."""
    library = case.library
    item = library.items[suspect.item] if suspect.item else None
    return SuspectLine(
        cause=suspect.cause,
        title=library.causes[suspect.cause].title,
        item=item.title if item else "",
        place=item.place if item else "",
        probability=suspect.probability,
        before=before,
    )


def together(case: Case) -> tuple[Together, ...]:
    """The likeliest explanations that need more than one fault, where they matter."""
    return tuple(
        Together(tuple(case.library.causes[name].title for name in causes), probability)
        for causes, probability in figures.together(case, NOTABLE)
    )


def _change(case: Case) -> Change:
    step = case.steps[-1]
    before, after = _alive(case.undo()), _alive(case)
    title, outcome = titles.step_words(case.library, step)
    repaired = step.unit if isinstance(step, Repair) else None
    moved = _moved(case.undo(), case)
    return Change(
        title,
        outcome,
        excluded=_excluded(case, before, after, leaving_out=repaired),
        moved=moved,
        unlikely=1.0 if moved else _chance(case),
    )


def _chance(case: Case) -> float:
    """The chance that the last answer had before it was given, where it had hardly any; else 1."""
    step = case.steps[-1]
    if not isinstance(step, Reply) or step.answer is None:
        return 1.0
    chance = case.undo().outlook(step.check)[step.answer].probability
    return chance if chance < HARDLY else 1.0


def _moved(earlier: Case, later: Case) -> bool:
    """Whether any suspect moved from one case to the other."""
    before, after = _alive(earlier), _alive(later)
    both = before.keys() | after.keys()
    return any(abs(before.get(name, 0.0) - after.get(name, 0.0)) > MOVED for name in both)


def _alive(case: Case) -> dict[str, float]:
    """The suspects that are still possible, likeliest first."""
    return {one.cause: one.probability for one in case.ranking() if one.implicated and one.probability > GONE}


def _excluded(
    case: Case, before: dict[str, float], after: dict[str, float], leaving_out: str | None
) -> tuple[str, ...]:
    """The titles of those that were possible before and are no more; a unit just replaced goes without saying."""
    causes = case.library.causes
    gone = (name for name in before if name not in after)
    return tuple(
        causes[name].title for name in gone if leaving_out is None or (causes[name].item or name) != leaving_out
    )


def everyone(case: Case) -> Suspects:
    """Every suspect that is still possible, however unlikely."""
    now = [one for one in case.ranking() if one.implicated and one.probability > GONE]
    lines = tuple(line(case, one) for one in now)
    return Suspects(lines, 0, 0.0, None, together(case), case.bound)
