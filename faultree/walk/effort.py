"""What a step takes: its own work, the access still to be opened, and behind a repair the operational check.

There is this one definition: the advice, the walk, the lists, practice and the chart all show the sum of the three.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import NamedTuple

from faultree.base.words import listing, minutes
from faultree.belief.evidence import Reply, Step
from faultree.library.model import Library
from faultree.strategy.case import Case


class Effort(NamedTuple):
    """Minutes of a step: the work itself, the access that is not open yet, and the operational check behind it."""

    work: float
    access: float = 0.0
    retest: float = 0.0

    @property
    def total(self) -> float:
        """All of it.

        >>> Effort(20, 15, 5).total
        40
        """
        return self.work + self.access + self.retest


def of_check(library: Library, check: str, opened: Collection[str] = ()) -> Effort:
    """What a check takes, where some access is open already."""
    entry = library.checks[check]
    return Effort(entry.minutes, _access(library, entry.access, opened))


def of_repair(library: Library, unit: str, symptoms: Iterable[str], opened: Collection[str] = ()) -> Effort:
    """What it takes to put a unit right and to see whether the reports still hold."""
    item = library.items.get(unit)
    retest = sum(library.symptoms[name].retest for name in symptoms)
    if item is None:
        return Effort(library.causes[unit].minutes, 0.0, retest)
    return Effort(item.minutes, _access(library, item.access, opened), retest)


def spent(case: Case, further: Step | None = None) -> float:
    """Minutes that a case took, with one further step that was made and could not join it."""
    if further is None:
        return case.minutes
    if isinstance(further, Reply):
        return case.minutes + of_check(case.library, further.check, case.opened).total
    return case.minutes + of_repair(case.library, further.unit, case.symptoms, case.opened).total


def _access(library: Library, needed: Iterable[str], opened: Collection[str]) -> float:
    return sum(library.access[name].minutes for name in needed if name not in opened)


def brief(spent: float, *, repair: bool) -> str:
    """The whole of an effort in a few words, for a list.

    >>> brief(25, repair=True), brief(3, repair=False)
    ('25 min with the operational check', '3 min')
    """
    return f"{minutes(spent)} with the operational check" if repair else minutes(spent)


def words(effort: Effort) -> str:
    """An effort in words, with what is in it beside the work.

    >>> words(Effort(3)), words(Effort(20, 0, 5))
    ('3 min', '25 min, 5 min of it for the operational check')
    >>> words(Effort(20, 15, 5))
    '40 min, 15 min of it for access and 5 min of it for the operational check'
    """
    held = [(effort.access, "access"), (effort.retest, "the operational check")]
    parts = listing(f"{minutes(spent)} of it for {what}" for spent, what in held if spent)
    return ", ".join(filter(None, (minutes(effort.total), parts)))
