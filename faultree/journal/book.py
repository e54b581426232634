"""Cases in the journal: opened, added to, and read back; nothing that was entered is ever changed.

Every function that writes does so in one transaction and leaves an entry in the case's log.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, Row, Table, func, select

from faultree.base.errors import JournalError, Overtaken
from faultree.journal import tables
from faultree.journal.records import (
    Entry,
    Finding,
    Flight,
    Found,
    Head,
    Kind,
    Record,
    Result,
    Squawk,
    State,
    Withdrawable,
    registration,
)
from faultree.journal.store import Store


def open_case(
    store: Store, flight: Flight, words: Sequence[str], library: str, *, origin: str = "debrief", who: str = ""
) -> int:
    """A new case with the crew's words, one squawk each; its number. `library` is the digest of the tree files."""
    with store.writing() as connection:
        values = {
            "key": uuid4().hex,
            "opened": store.now(),
            "aircraft": flight.aircraft,
            "flight": flight.flight,
            "day": flight.day,
            "phase": flight.phase,
            "library": library,
            "origin": origin,
            "state": "open",
        }
        made = connection.execute(tables.cases.insert().values(values).returning(tables.cases.c.id)).scalar_one()
        _log(connection, store, made, who, "opened", {"library": library})
        for one in words:
            _add_squawk(connection, store, made, who, one)
        return int(made)


def describe(store: Store, case: int, flight: Flight, *, who: str = "", after: int | None = None) -> None:
    """Say which flight a case belongs to, where that was not known or was typed wrong; the log keeps what was said.

    Overtaken as in `add`.
    """
    with store.writing() as connection:
        _hold(connection, case, after)
        values = {"aircraft": flight.aircraft, "flight": flight.flight, "day": flight.day, "phase": flight.phase}
        connection.execute(tables.cases.update().where(tables.cases.c.id == case).values(values))
        _log(connection, store, case, who, "flight", values)


def add_squawk(store: Store, case: int, words: str, *, who: str = "") -> int:
    """One more squawk of the same flight; its number within the case."""
    with store.writing() as connection:
        _hold(connection, case)
        return _add_squawk(connection, store, case, who, words)


def _add_squawk(connection: Connection, store: Store, case: int, who: str, words: str) -> int:
    number = _next(connection, tables.squawks, case)
    connection.execute(tables.squawks.insert().values(case_id=case, number=number, words=words))
    _log(connection, store, case, who, "squawk", {"squawk": number, "words": words})
    return number


def match(
    store: Store,
    case: int,
    squawk: int,
    symptom: str | None,
    *,
    who: str = "",
    after: int | None = None,
    event: Mapping[str, object] | None = None,
) -> None:
    """Say which symptom the words of a squawk mean; None says that no symptom of the library fits.

    `event` is what that makes of a walk that has begun, written in the same transaction. Overtaken where `after` is
    the number of the newest entry that was read, and another was written since.
    """
    with store.writing() as connection:
        _hold(connection, case, after)
        row = (tables.squawks.c.case_id == case) & (tables.squawks.c.number == squawk)
        changed = connection.execute(tables.squawks.update().where(row).values(symptom=symptom))
        if not changed.rowcount:
            raise JournalError(f"case {case} has no squawk {squawk}")
        _log(connection, store, case, who, "matched", {"squawk": squawk, "symptom": symptom})
        if event is not None:
            _log(connection, store, case, who, "event", event)


def withdraw(
    store: Store,
    case: int,
    what: Withdrawable,
    number: int,
    *,
    because: str = "",
    who: str = "",
    after: int | None = None,
    event: Mapping[str, object] | None = None,
) -> None:
    """Say that a squawk or a finding was a mistake: it stays in the record and counts for nothing from now on.

    `event` is what that makes of a walk that has begun, written in the same transaction. Overtaken as in `match`.
    """
    with store.writing() as connection:
        _hold(connection, case, after)
        if number not in _standing(connection, case, what):
            raise JournalError(f"case {case} has no {what} {number}")
        _log(connection, store, case, who, "withdrawn", {what: number, "because": because})
        if event is not None:
            _log(connection, store, case, who, "event", event)


def add(
    store: Store, case: int, kind: Kind, data: Mapping[str, object], *, who: str = "", after: int | None = None
) -> int:
    """One more entry in the log of a case: a step of the walk, a note, a correction; its number.

    Overtaken where `after` is the number of the newest entry that was read, and another was written since.
    """
    with store.writing() as connection:
        _hold(connection, case, after)
        return _log(connection, store, case, who, kind, data)


def find(
    store: Store, case: int, unit: str, result: Result, *, cause: str | None = None, how: str = "", who: str = ""
) -> int:
    """Record what became of a unit; the number of the finding within the case."""
    with store.writing() as connection:
        _hold(connection, case)
        return _find(connection, store, case, who, Found(unit, result, cause, how))


def _find(connection: Connection, store: Store, case: int, who: str, found: Found) -> int:
    number = _next(connection, tables.findings, case)
    values = {"unit": found.unit, "cause": found.cause, "result": found.result, "how": found.how}
    row = {"case_id": case, "number": number, "at": store.now(), "who": who, **values}
    connection.execute(tables.findings.insert().values(row))
    _log(connection, store, case, who, "finding", {"finding": number, **values})
    return number


def end(
    store: Store,
    case: int,
    state: State,
    *,
    due: str | None = None,
    data: Mapping[str, object],
    who: str,
    found: Iterable[Found] = (),
    after: int | None = None,
) -> None:
    """Set how a case stands, with what was found; `data` is what else was said about it.

    `due` is the last day of a deferral. Overtaken as in `add`.
    """
    with store.writing() as connection:
        _hold(connection, case, after)
        for one in found:
            _find(connection, store, case, who, one)
        connection.execute(tables.cases.update().where(tables.cases.c.id == case).values(state=state, due=due))
        _log(connection, store, case, who, "state", {"state": state, "due": due, **data})


# --- reading -----------------------------------------------------------------------------------


def read(store: Store, case: int) -> Record:
    """A whole case; raises JournalError where there is none of this number."""
    with store.reading() as connection:
        row = connection.execute(select(tables.cases).where(tables.cases.c.id == case)).first()
        if row is None:
            raise _missing(connection, case)
        entries = tuple(_entry(one) for one in _of(connection, tables.entries, case))
        squawks = [Squawk(one.number, one.words, one.symptom) for one in _of(connection, tables.squawks, case)]
        findings = [_finding(one) for one in _of(connection, tables.findings, case)]
    unsaid, undone = ({one.data.get(what) for one in entries if one.kind == "withdrawn"} for what in _TABLES)
    return Record(
        _head(row),
        tuple(one for one in squawks if one.number not in unsaid),
        entries,
        tuple(one for one in findings if one.number not in undone),
        tuple(one for one in squawks if one.number in unsaid),
        tuple(one for one in findings if one.number in undone),
    )


_TABLES: Mapping[Withdrawable, Table] = {"squawk": tables.squawks, "finding": tables.findings}
"""What can be withdrawn, and the table that it stands in."""


def heads(store: Store, state: State | None = None, aircraft: str | None = None) -> tuple[Head, ...]:
    """The cases, newest first; only those of a state or an aircraft where one is named, however it was typed."""
    wanted = select(tables.cases).order_by(tables.cases.c.id.desc())
    if state is not None:
        wanted = wanted.where(tables.cases.c.state == state)
    with store.reading() as connection:
        found = [_head(row) for row in connection.execute(wanted)]
    meant = None if aircraft is None else registration(aircraft)
    return tuple(one for one in found if meant in (None, registration(one.flight.aircraft)))


def records(store: Store, symptoms: Collection[str] | None = None) -> Iterator[Record]:
    """Whole cases, oldest first; only those with a squawk that means one of the symptoms, where some are named."""
    wanted = select(tables.cases.c.id).order_by(tables.cases.c.id)
    if symptoms is not None:
        meant = select(tables.squawks.c.case_id).where(tables.squawks.c.symptom.in_(symptoms))
        wanted = wanted.where(tables.cases.c.id.in_(meant))
    with store.reading() as connection:
        numbers = list(connection.execute(wanted).scalars())
    for number in numbers:
        yield read(store, number)


def _of(connection: Connection, table: Table, case: int) -> Sequence[Row[Any]]:
    return connection.execute(select(table).where(table.c.case_id == case).order_by(table.c.number)).all()


def _head(row: Row[Any]) -> Head:
    flight = Flight(row.aircraft, row.flight, row.day, row.phase)
    return Head(row.id, row.key, row.opened, flight, row.library, row.origin, row.state, row.due)


def _entry(row: Row[Any]) -> Entry:
    return Entry(row.number, row.at, row.who, row.kind, json.loads(row.data))


def _finding(row: Row[Any]) -> Finding:
    return Finding(row.number, row.at, row.who, row.unit, row.cause, row.result, row.how)


# --- within a transaction ----------------------------------------------------------------------


def _hold(connection: Connection, case: int, after: int | None = None) -> None:
    """Keep other writers off this case until the transaction ends, so that numbers follow each other.

    Overtaken where something stands behind the entry `after`.
    """
    row = select(tables.cases.c.id).where(tables.cases.c.id == case).with_for_update()
    if connection.execute(row).first() is None:
        raise _missing(connection, case)
    last = _next(connection, tables.entries, case) - 1
    if after is not None and last > after:
        raise Overtaken(case, last)


def _standing(connection: Connection, case: int, what: Withdrawable) -> set[object]:
    """The numbers of the squawks or findings of a case that nobody has withdrawn."""
    entries = (_entry(one) for one in _of(connection, tables.entries, case))
    gone = {one.data.get(what) for one in entries if one.kind == "withdrawn"}
    return {one.number for one in _of(connection, _TABLES[what], case)} - gone


def _missing(connection: Connection, case: int) -> JournalError:
    last = connection.execute(select(func.max(tables.cases.c.id))).scalar()
    known = f"the newest is {last}" if last else "it holds no case yet"
    return JournalError(f"the journal has no case {case}; {known}")


def _next(connection: Connection, table: Table, case: int) -> int:
    last = connection.execute(select(func.max(table.c.number)).where(table.c.case_id == case)).scalar()
    return int(last or 0) + 1


def _log(connection: Connection, store: Store, case: int, who: str, kind: Kind, data: Mapping[str, object]) -> int:
    number = _next(connection, tables.entries, case)
    row = {"case_id": case, "number": number, "at": store.now(), "who": who, "kind": kind, "data": _text(data)}
    connection.execute(tables.entries.insert().values(row))
    return number


def _text(data: Mapping[str, object]) -> str:
    return json.dumps(data, ensure_ascii=False, sort_keys=True)
