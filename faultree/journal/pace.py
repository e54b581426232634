"""How long cases took until the symptom was gone, beside what the best course of action takes on average.

A case counts where one report was walked and its last step is a repair after which the symptom was gone. Its
minutes are those that the tree gives its steps, access and operational checks, as for a chart with the goal
"restore"; nobody's stopwatch.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from statistics import fmean
from typing import NamedTuple

from faultree.belief.evidence import Repair, Reply, Step
from faultree.journal.records import Record
from faultree.journal.stage import walked
from faultree.library.model import Library
from faultree.strategy.case import Case


class Expected(NamedTuple):
    """What a chart takes on average, and what no chart can go below; both in minutes."""

    minutes: float
    least: float


class Pace(NamedTuple):
    """Mean minutes of some cases of a report; `expected` is None where no chart was compiled."""

    symptom: str
    cases: int
    mean: float
    expected: Expected | None


def minutes_of(library: Library, record: Record) -> float | None:
    """The minutes of a case until the symptom was gone; None where it did not get there, or not in one walk."""
    kept = walked(record)
    if kept is None or len(record.symptoms) != 1 or record.symptoms[0] not in library.symptoms:
        return None
    found = kept.get("steps")
    steps = [_step(library, one) for one in found] if isinstance(found, list) else []
    known = tuple(one for one in steps if one is not None)
    if not known or len(known) != len(steps) or not isinstance(known[-1], Repair) or known[-1].gone is not True:
        return None
    return Case(library, record.symptoms, known).minutes


def _step(library: Library, data: object) -> Step | None:
    """A step of a kept walk; None where the tree has no place for it any more."""
    if not isinstance(data, Mapping):
        return None
    if data.get("check") in library.checks:
        return Reply(str(data["check"]), data.get("answer"))
    unit = data.get("repair")
    return Repair(str(unit), data.get("gone")) if unit in library.items or unit in library.causes else None


def paces(
    library: Library, records: Iterable[Record], expect: Callable[[str], Expected], most: int = 8
) -> tuple[Pace, ...]:
    """Each report with a case that got there, the most frequent first; only `most` of them are compared."""
    found: dict[str, list[float]] = defaultdict(list)
    for record in records:
        minutes = minutes_of(library, record)
        if minutes is not None:
            found[record.symptoms[0]].append(minutes)
    order = sorted(found, key=lambda name: (-len(found[name]), name))
    return tuple(
        Pace(name, len(found[name]), fmean(found[name]), expect(name) if place < most else None)
        for place, name in enumerate(order)
    )
