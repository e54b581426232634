"""Repairs of which nobody could tell what they did: that the symptom may be gone already is said and counted."""

from __future__ import annotations

from collections.abc import Iterator

from faultree.base.words import listing, percent
from faultree.belief.evidence import Repair
from faultree.strategy.case import Case
from faultree.walk import titles


def untold(case: Case) -> tuple[Repair, ...]:
    """The repairs since the symptom was last seen to be there or gone, where nobody could tell what came of them."""
    found: list[Repair] = []
    for step in case.steps:
        if isinstance(step, Repair):
            found = [*found, step] if step.gone is None else []
    return tuple(found)


def maybe_gone(case: Case) -> str:
    """How likely the symptom is gone already, as a sentence; empty where every repair was seen to fail."""
    repairs = untold(case)
    if not repairs:
        return ""
    what = _named(case, repairs)
    return f"The symptom may be gone already ({percent(case.cured)}): nobody could tell what putting right {what} did."


def next_to(case: Case, last: Repair) -> Iterator[str]:
    """What may have cleared the symptom as well as the last repair, which was the first after which that was seen."""
    before = untold(Case(case.library, case.symptoms, case.steps[: case.steps.index(last)], case.limits))
    if before:
        yield (
            f"It may have been {_named(case, before)} as well, put right before: what that did, nobody could tell "
            "at the time."
        )


def _named(case: Case, repairs: tuple[Repair, ...]) -> str:
    return listing(titles.unit_title(case.library, one.unit) for one in repairs)
