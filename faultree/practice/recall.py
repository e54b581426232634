"""What a trainee named as still possible, held against what the answers left open at that moment.

Most errors of fault-finding are suspects that nobody thinks of any more, rather than wrong choices (so a study in Human
Factors, 1987; from memory). So it is asked for; it does not enter the mark, which judges what was done.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from faultree.base.words import listing, percent
from faultree.practice.exercise import Exercise, Named
from faultree.strategy.case import Case
from faultree.walk.titles import unit_title

OPEN = 0.02
"""A unit that the evidence makes likelier than this, beyond what it always is, is to be named."""

NOTHING = 1e-6
"""What is less likely than this is excluded."""


@dataclass(frozen=True, slots=True)
class Recall:
    """One naming: after how many steps, the units that are rightly named, left out, and named though excluded.

    A unit that is possible but hardly likely is in none of them: naming it is no error. `sentences` say it all.
    """

    after: int
    right: tuple[str, ...]
    left_out: tuple[str, ...]
    excluded: tuple[str, ...]
    sentences: tuple[str, ...]


def recall(exercise: Exercise) -> tuple[Recall, ...]:
    """Every naming of a run, in order."""
    return tuple(_recall(one) for one in exercise.named)


def _recall(named: Named) -> Recall:
    if named.looked is False:
        return Recall(named.after, (), (), (), ("The report was known to be wrong by then: nothing was left to name.",))
    case = named.before
    still = still_open(case)
    right = tuple(unit for unit in still if unit in named.units)
    left_out = tuple(unit for unit in still if unit not in named.units)
    excluded = tuple(unit for unit in named.units if not _possible(case, unit))
    return Recall(named.after, right, left_out, excluded, tuple(_sentences(case, right, left_out, excluded)))


def still_open(case: Case) -> tuple[str, ...]:
    """The units that are to be named, likeliest first."""
    return tuple(unit.unit for unit in case.units() if unit.probability - sum(one.prior for one in unit.causes) > OPEN)


def _possible(case: Case, unit: str) -> bool:
    return any(
        one.implicated and one.probability > NOTHING for one in case.ranking() if (one.item or one.cause) == unit
    )


def _sentences(
    case: Case, right: tuple[str, ...], left_out: tuple[str, ...], excluded: tuple[str, ...]
) -> Iterator[str]:
    total = len(right) + len(left_out)
    yield f"Named {len(right)} of the {total} still possible." if total else "Nothing was left to name."
    if left_out:
        chances = {unit.unit: unit.probability for unit in case.units()}
        told = listing([f"{unit_title(case.library, unit)} ({percent(chances[unit])})" for unit in left_out])
        yield f"Left out: {told}."
    for unit in excluded:
        yield f"Named though it could not be any more: {unit_title(case.library, unit)}. {_reason(case, unit)}"


def _reason(case: Case, unit: str) -> str:
    """Why no cause of a unit can be behind the report: said of its likeliest cause a priori."""
    causes = [one for one in case.ranking() if (one.item or one.cause) == unit]
    return " ".join(case.why(max(causes, key=lambda one: one.prior).cause))
