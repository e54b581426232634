"""Which cautions stand before a step: those of its situation, of the access to open, and its own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faultree.library.model import Caution, Library
from faultree.strategy.case import Case
from faultree.walk.state import CheckStep, Pending

LEVELS = {"warning": 0, "caution": 1, "note": 2}
"""The levels, gravest first."""


def of_situation(library: Library, situation: str | None) -> Iterator[str]:
    """The cautions of a situation and of those it extends, the base first."""
    if situation is not None:
        this = library.situations[situation]
        yield from of_situation(library, this.extends)
        yield from this.cautions


def of_access(library: Library, access: Iterable[str], opened: frozenset[str]) -> Iterator[str]:
    """The cautions of the access that is still to be opened."""
    for name in access:
        if name not in opened:
            yield from library.access[name].cautions


def before(case: Case, step: Pending) -> tuple[Caution, ...]:
    """Every caution that stands before this step of the case, warnings first, each once."""
    library = case.library
    names = dict.fromkeys(_check(case, step.check) if isinstance(step, CheckStep) else _repair(case, step.unit))
    found = [library.cautions[name] for name in names]
    return tuple(sorted(found, key=lambda caution: LEVELS[caution.level]))


def _check(case: Case, name: str) -> Iterator[str]:
    library, check = case.library, case.library.checks[name]
    yield from of_situation(library, check.situation)
    yield from of_access(library, check.access, case.opened)
    yield from check.cautions


def _repair(case: Case, unit: str) -> Iterator[str]:
    library = case.library
    if unit in library.items:
        item = library.items[unit]
        yield from of_access(library, item.access, case.opened)
        yield from item.cautions
    # After the repair the reported situation is set up again to see whether the symptom is gone.
    for symptom in case.symptoms:
        yield from of_situation(library, library.symptoms[symptom].situation)
