"""What the record of many cases shows: repeat defects, removals without a fault, reports without a tree, idle checks.

Pure functions of records: the same on any database, and easily counted by hand.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import Literal, NamedTuple

from faultree.journal.records import Record, registration

Unit = Literal["days", "flights"]


class Repeat(NamedTuple):
    """The same thing (a symptom, or a unit at fault) on one aircraft, so many times within a window.

    `units` are those that were at fault in these cases, each with the number of cases; for a symptom alone.
    """

    aircraft: str
    what: str
    kind: Literal["symptom", "unit"]
    cases: tuple[int, ...]
    first: str
    last: str
    units: tuple[tuple[str, int], ...] = ()


class Removals(NamedTuple):
    """How often a unit was looked into: confirmed at fault, put right with success, and with no fault found."""

    unit: str
    confirmed: int
    replaced: int
    not_found: int

    @property
    def share_not_found(self) -> float:
        """The share in which no fault was found in the unit."""
        return self.not_found / (self.confirmed + self.replaced + self.not_found)


class Untold(NamedTuple):
    """A check, how often it was made, and how often it could not be answered."""

    check: str
    made: int
    untold: int


AT_FAULT = ("confirmed", "replaced")
"""Results of a finding that make it a defect of its unit; one in which no fault was found is none."""


def repeats(records: Iterable[Record], count: int = 3, window: int = 15, unit: Unit = "days") -> tuple[Repeat, ...]:
    """What came `count` times or more on one aircraft within `window` days, or within so many of its flights.

    The first and the last day (or flight) are counted: from the 1st to the 15th of a month are 15 days. Flights are
    those that the journal knows of: every case with a flight of its own counts as one. Cases without an aircraft or a
    day are left out. A longer series is one repeat, from its first case to its last. A unit at fault is a repeat of its
    own only where its cases are more than those of one symptom.
    """
    found: list[Repeat] = []
    for aircraft, cases in _by_aircraft(records).items():
        places = _places(cases, unit)
        symptoms, units = _series(cases)
        own = [
            Repeat(aircraft, what, "symptom", *_extent(run), units=_at_fault(run))
            for what, some in symptoms.items()
            for run in _runs(some, places, count, window)
        ]
        across = [
            Repeat(aircraft, what, "unit", *_extent(run))
            for what, some in units.items()
            for run in _runs(some, places, count, window)
        ]
        found += [*own, *(one for one in across if not any(set(one.cases) <= set(other.cases) for other in own))]
    return tuple(sorted(found, key=lambda one: (-len(one.cases), one.aircraft, one.what)))


def _series(cases: Iterable[Record]) -> tuple[dict[str, list[Record]], dict[str, list[Record]]]:
    """The cases of each symptom, and those in which each unit was at fault."""
    symptoms: dict[str, list[Record]] = defaultdict(list)
    units: dict[str, list[Record]] = defaultdict(list)
    for case in cases:
        for symptom in case.symptoms:
            symptoms[symptom].append(case)
        for name in _faulty(case):
            units[name].append(case)
    return symptoms, units


def _faulty(case: Record) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.unit for one in case.findings if one.result in AT_FAULT))


def _extent(run: Sequence[Record]) -> tuple[tuple[int, ...], str, str]:
    return tuple(one.head.id for one in run), _day(run[0]), _day(run[-1])


def _at_fault(run: Iterable[Record]) -> tuple[tuple[str, int], ...]:
    counts = Counter(name for case in run for name in _faulty(case))
    return tuple(sorted(counts.items(), key=lambda one: (-one[1], one[0])))


def _by_aircraft(records: Iterable[Record]) -> dict[str, list[Record]]:
    """The cases of each aircraft in the order of their days; its name as it was written last."""
    found: dict[str, list[Record]] = defaultdict(list)
    for one in records:
        if one.head.flight.aircraft and one.head.flight.day:
            found[registration(one.head.flight.aircraft)].append(one)
    ordered = [sorted(some, key=lambda one: (_day(one), one.head.id)) for some in found.values()]
    return {some[-1].head.flight.aircraft: some for some in ordered}


def _day(record: Record) -> str:
    return record.head.flight.day


def _places(cases: Sequence[Record], unit: Unit) -> Mapping[int, int]:
    """Where each case of an aircraft lies on the line that the window is measured along."""
    if unit == "days":
        return {one.head.id: date.fromisoformat(_day(one)).toordinal() for one in cases}
    flights = list(dict.fromkeys((_day(one), one.head.flight.flight) for one in cases))
    return {one.head.id: flights.index((_day(one), one.head.flight.flight)) for one in cases}


def _runs(cases: Sequence[Record], places: Mapping[int, int], count: int, window: int) -> list[list[Record]]:
    """Series of cases of which each `count` that follow each other lie within the window."""
    found: list[list[Record]] = []
    for start in range(len(cases) - count + 1):
        some = cases[start : start + count]
        if places[some[-1].head.id] - places[some[0].head.id] >= window:
            continue
        if found and found[-1][-1] in some:
            found[-1] += [one for one in some if one not in found[-1]]
        else:
            found.append(list(some))
    return found


def removals(records: Iterable[Record]) -> tuple[Removals, ...]:
    """How often each unit was looked into, the largest share without a fault first."""
    counts: dict[str, Counter[str]] = defaultdict(Counter)
    for record in records:
        for one in record.findings:
            counts[one.unit][one.result] += 1
    found = [Removals(unit, some["confirmed"], some["replaced"], some["not found"]) for unit, some in counts.items()]
    return tuple(sorted(found, key=lambda one: (-one.share_not_found, -one.not_found, one.unit)))


def without_tree(records: Iterable[Record]) -> tuple[tuple[str, int], ...]:
    """The words of squawks of which somebody said that no symptom of the library fits, with their case."""
    return tuple(
        (squawk.words, record.head.id)
        for record in records
        for squawk in record.squawks
        if not squawk.symptom and squawk.number not in record.unmatched
    )


def untold(records: Iterable[Record]) -> tuple[Untold, ...]:
    """The checks that were answered "cannot tell", most often first."""
    made: Counter[str] = Counter()
    missed: Counter[str] = Counter()
    for record in records:
        for entry in record.entries:
            check, answer = entry.data.get("check"), entry.data.get("answer")
            if entry.kind == "event" and isinstance(check, str) and "answer" in entry.data:
                made[check] += 1
                missed[check] += answer is None
    found = [Untold(check, made[check], count) for check, count in missed.items() if count]
    return tuple(sorted(found, key=lambda one: (-one.untold, one.made, one.check)))


def within(records: Iterable[Record], since: str | None, until: str | None) -> tuple[Record, ...]:
    """The records of flights between two days (ISO dates, both included; None: no limit)."""
    return tuple(
        one
        for one in records
        if (since is None or _day(one) >= since) and (until is None or (_day(one) or "9") <= until)
    )


def last_day(found: date, days: int) -> date:
    """The last day of a deferral of so many days, counted from the day after discovery.

    >>> last_day(date(2031, 5, 4), 10)
    datetime.date(2031, 5, 14)
    """
    return found + timedelta(days=days)
