"""Which exercise comes next: spaced repetition by Leitner's boxes, over the symptoms of the library.

Each symptom is a card in one of five boxes (S. Leitner, So lernt man lernen, Herder 1972: a card that was
answered goes to the next box, one that was not goes back to the first; later boxes are looked at less often).
Answered means a mark of at least `GOOD`. The days between two looks double from box to box, which is our choice
in place of Leitner's fixed compartments. A symptom in a higher box comes at a higher level.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import NamedTuple

from faultree.base.errors import CaseError
from faultree.library.model import Library

GOOD = 80.0
"""A mark from which a symptom goes to the next box."""

DAYS = (1, 2, 4, 8, 16)
"""Days until a symptom of each box is due again."""

LEVELS = (1, 1, 2, 2, 4)
"""The level at which a symptom of each box is set."""


class Done(NamedTuple):
    """A run that has a mark: its symptom (full id), when it was finished, and the mark."""

    symptom: str
    finished: datetime
    mark: float


class Card(NamedTuple):
    """Where a symptom stands: its box (0 to 4), and when it is due (None: never practised, due at any time)."""

    symptom: str
    box: int
    due: datetime | None


class Next(NamedTuple):
    """The exercise to set: symptom and level, and why."""

    symptom: str
    level: int
    why: str


def cards(library: Library, runs: Iterable[Done]) -> dict[str, Card]:
    """Where every symptom of the library stands after these runs, in any order; others are passed over."""
    found = {name: Card(name, 0, None) for name in library.symptoms}
    for run in sorted(runs, key=lambda one: one.finished):
        if run.symptom in found:
            before = found[run.symptom]
            # the first look at a card puts it in the first box, or, answered, in the second
            box = min(before.box + 1, len(DAYS) - 1) if run.mark >= GOOD else 0
            found[run.symptom] = Card(run.symptom, box, run.finished + timedelta(days=DAYS[box]))
    return found


def following(library: Library, runs: Iterable[Done], now: datetime) -> Next:
    """What to practise now: what is due longest in the lowest box, else something new, else what is due soonest.

    Something new comes from the system that was practised worst, or least. CaseError where there is no symptom.
    """
    if not library.symptoms:
        raise CaseError("these tree files hold no symptom, so there is nothing to practise")
    done = list(runs)
    standing = cards(library, done)
    due = [card for card in standing.values() if card.due is not None and card.due <= now]
    if due:
        card = min(due, key=lambda one: (one.box, one.due or now))
        return Next(card.symptom, LEVELS[card.box], f"due again: box {card.box + 1} of {len(DAYS)}")
    fresh = [card.symptom for card in standing.values() if card.due is None]
    if fresh:
        means = by_system(done)
        name = min(fresh, key=lambda one: (means.get(one.partition("/")[0], (0, 0.0))[::-1], fresh.index(one)))
        return Next(name, LEVELS[0], "not practised yet")
    card = min(standing.values(), key=lambda one: one.due or now)
    return Next(card.symptom, LEVELS[card.box], "nothing is due; this one comes next")


def by_system(runs: Iterable[Done]) -> Mapping[str, tuple[int, float]]:
    """For each system (file id) that was practised: how many runs, and their mean mark."""
    marks: dict[str, list[float]] = {}
    for run in runs:
        marks.setdefault(run.symptom.partition("/")[0], []).append(run.mark)
    return {system: (len(some), sum(some) / len(some)) for system, some in marks.items()}
