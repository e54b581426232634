"""What a person needs to know beside a step of a chart: situation, place, access, tools, manual and note."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from faultree.base.words import listing, minutes
from faultree.library.model import Library
from faultree.strategy.chart.value import Step


class Access(NamedTuple):
    """Work to get at something: its minutes, and whether it is done at this step or was done on the way."""

    title: str
    minutes: float
    new: bool


def accesses(library: Library, step: Step, opened: frozenset[str]) -> tuple[Access, ...]:
    """The access that a step needs: first what it opens, then what is open already."""
    item = library.items.get(step.target)
    needed = library.checks[step.target].access if step.action == "check" else item.access if item else ()
    names = (*step.opens, *(name for name in needed if name in opened and name not in step.opens))
    table = library.access
    return tuple(Access(table[name].title, table[name].minutes, name in step.opens) for name in names)


def facts_of_check(library: Library, name: str) -> tuple[tuple[str, str], ...]:
    """Labels and words for a check."""
    check = library.checks[name]
    pairs = (
        ("When", library.situations[check.situation].title if check.situation else ""),
        ("Tools", ", ".join(check.tools)),
        ("Manual", check.manual),
        ("Note", check.note),
    )
    return tuple(pair for pair in pairs if pair[1])


def facts_of_unit(library: Library, symptoms: Sequence[str], unit: str) -> tuple[tuple[str, str], ...]:
    """Labels and words for a replacement and the operational check behind it."""
    item = library.items.get(unit)
    found = [library.symptoms[name] for name in symptoms]
    retests = listing(f"{one.title} ({minutes(one.retest)})" for one in found)
    pairs = (
        ("Where", item.place if item else ""),
        ("Manual", item.manual if item else library.causes[unit].manual),
        ("Then", f"repeat the operational check and see whether it still holds: {retests}"),
    )
    return tuple(pair for pair in pairs if pair[1])
