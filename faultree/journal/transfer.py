"""The whole journal as open files: JSON Lines that can be read in again, and CSV tables for a spreadsheet.

A line of JSON is one case or one practice run with all that belongs to it. A case or run that the journal
holds already (the same key) is not read in twice; where the copy has more entries, they are added.
"""

from __future__ import annotations

import csv
import io
import json
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from sqlalchemy import Connection, Table, func, select

from faultree.base.errors import JournalError
from faultree.base.problem import Place, Problem
from faultree.journal import forms, tables
from faultree.journal.store import Store
from faultree.journal.terms import INVENTED, result

FORM = 1
"""The number of the exported form."""

NUMBER = "number"
"""The key of a case's number in the journal that it comes from; in another one it may have another."""

SHOWN = 5
"""So many lines that do not read are named."""

_CASE_PARTS = {"squawks": tables.squawks, "entries": tables.entries, "findings": tables.findings}

CSV_TABLES: Mapping[str, Table] = {"cases": tables.cases, **_CASE_PARTS, "runs": tables.runs}
"""The tables that can be written as CSV, by name."""


def lines(store: Store) -> Iterator[str]:
    """Every case and practice run, one JSON text each, oldest first."""
    with store.reading() as connection:
        for row in connection.execute(select(tables.cases).order_by(tables.cases.c.id)).mappings():
            parts = {name: _rows(connection, table, "case_id", row["id"]) for name, table in _CASE_PARTS.items()}
            yield _line({"faultree": FORM, "case": _own(dict(row)), NUMBER: row["id"], **parts})
        for row in connection.execute(select(tables.runs).order_by(tables.runs.c.id)).mappings():
            events = _rows(connection, tables.run_events, "run_id", row["id"])
            yield _line({"faultree": FORM, "run": _own(dict(row)), "events": events})


def _rows(connection: Connection, table: Table, column: str, number: int) -> list[dict[str, Any]]:
    wanted = select(table).where(table.c[column] == number).order_by(table.c.number)
    return [_own(dict(row)) for row in connection.execute(wanted).mappings()]


def _own(row: Mapping[str, Any]) -> dict[str, Any]:
    """A row without the numbers that only this database gives."""
    return {name: value for name, value in row.items() if name not in ("id", "case_id", "run_id")}


def _line(data: Mapping[str, object]) -> str:
    return json.dumps(data, ensure_ascii=False, sort_keys=True)


class Taken(NamedTuple):
    """How many cases and runs were new, how many had more entries than were here, and how many were here already.

    `renumbered` pairs the numbers of new cases where they came from with those that they have here, where they differ.
    """

    new: int
    longer: int
    known: int
    renumbered: tuple[tuple[int, int], ...] = ()


def take_in(store: Store, texts: Iterable[str], file: str, *, mixed: bool = False) -> Taken:
    """Read what `lines` wrote into a journal, all of it or nothing.

    Raises JournalError that names the lines which do not read, by their places in `file`; and, unless `mixed`, where
    invented cases would come among real ones, or real ones among invented.
    """
    read = list(_read(texts, file))
    problems = [one for one in read if isinstance(one, Problem)]
    if problems:
        raise JournalError(_unread(problems, len(read), file))
    counts: Counter[str] = Counter()
    renumbered: list[tuple[int, int]] = []
    with store.writing() as connection:
        rows = [one for one in read if not isinstance(one, Problem)]
        if not mixed:
            _refuse_a_mixture(connection, rows)
        for one in rows:
            became, number = _take(connection, one)
            counts[became] += 1
            before = one.get(NUMBER)
            if became == "new" and "case" in one and isinstance(before, int) and before != number:
                renumbered.append((before, number))
    return Taken(counts["new"], counts["longer"], counts["known"], tuple(renumbered))


def _unread(problems: Sequence[Problem], lines: int, file: str) -> str:
    """Which lines do not read; of a file that is something else altogether the first is enough."""
    if lines > 1 and len(problems) == lines:
        return f"{file} is no export of a journal ({problems[0].message}); 'faultree journal export' writes one"
    said = [str(one) for one in problems[:SHOWN]]
    more = [f"and {len(problems) - SHOWN} more lines"] if len(problems) > SHOWN else []
    return "\n".join([*said, *more, "Nothing was read in."])


def _refuse_a_mixture(connection: Connection, rows: Iterable[Mapping[str, Any]]) -> None:
    """Refuse cases of another kind than those of a journal that holds one kind alone, invented or real."""
    here = {origin == INVENTED for origin in connection.execute(select(tables.cases.c.origin).distinct()).scalars()}
    coming = {one["case"]["origin"] == INVENTED for one in rows if "case" in one}
    if len(here) == 1 and coming - here:
        kinds = ("real", "invented") if True in coming - here else ("invented", "real")
        raise JournalError(
            f"this journal holds {kinds[0]} cases, and {kinds[1]} ones would come among them; name a file of its own "
            "with --journal (or add --yes)"
        )


def _read(texts: Iterable[str], file: str) -> Iterator[Mapping[str, Any] | Problem]:
    for number, text in enumerate(texts, 1):
        if not text.strip():
            continue
        try:
            data = json.loads(text)
            fault = _fault(data)
        except (ValueError, RecursionError) as error:
            fault = f"no JSON: {error}"
        yield Problem(Place(file, number, 1), fault, "export the journal again") if fault else data


def _fault(data: object) -> str:
    """What keeps a line from being a case or a run; empty where nothing does."""
    if not isinstance(data, dict) or data.get("faultree") != FORM:
        return f"no line of a journal ('faultree: {FORM}' is missing)"
    for head, table, parts in (
        ("case", tables.cases, _CASE_PARTS),
        ("run", tables.runs, {"events": tables.run_events}),
    ):
        if head in data:
            wrong = [_unlike(data[head], table)]
            wrong += [_unlike(row, parts[name]) for name in parts for row in _list(data.get(name))]
            return next(filter(None, wrong), "")
    return "neither a case nor a practice run"


def _list(value: object) -> list[object]:
    return value if isinstance(value, list) else [None]


def _unlike(row: object, table: Table) -> str:
    """How a row differs from what its table takes; empty where it does not."""
    wanted = {one.name: one for one in table.columns if one.name not in ("id", "case_id", "run_id")}
    if not isinstance(row, dict) or set(row) != set(wanted):
        return f"a row of '{table.name}' that has other fields than {', '.join(wanted)}"
    for name, column in wanted.items():
        allowed = (int, float) if column.type.python_type is float else (column.type.python_type,)
        value = row[name]
        fits = isinstance(value, allowed) and not isinstance(value, bool) and forms.fits(table.name, name, value)
        if not fits and not (value is None and column.nullable):
            return f"'{name}' of '{table.name}' is {repr(value)[:60]}"
    return ""


def _take(connection: Connection, data: Mapping[str, Any]) -> tuple[str, int]:
    """Whether a case or run was new, longer or known, and the number that it has here."""
    if "case" in data:
        return _merge(connection, tables.cases, data["case"], "case_id", {t: data[n] for n, t in _CASE_PARTS.items()})
    return _merge(connection, tables.runs, data["run"], "run_id", {tables.run_events: data["events"]})


def _merge(
    connection: Connection, table: Table, row: Mapping[str, Any], column: str, parts: Mapping[Table, list[Any]]
) -> tuple[str, int]:
    known = connection.execute(select(table.c.id).where(table.c.key == row["key"])).scalar()
    number = known or connection.execute(table.insert().values(row).returning(table.c.id)).scalar_one()
    added = sum(_add(connection, part, column, int(number), rows) for part, rows in parts.items())
    if known is None:
        return "new", int(number)
    if added:
        connection.execute(table.update().where(table.c.id == number).values(dict(row)))
        _meant(connection, int(number), parts.get(tables.squawks, ()))
    return "longer" if added else "known", int(number)


def _add(connection: Connection, table: Table, column: str, number: int, rows: Iterable[Mapping[str, Any]]) -> int:
    """Add the rows that lie behind those which are here; how many that were."""
    here = connection.execute(select(func.max(table.c.number)).where(table.c[column] == number)).scalar() or 0
    later = [{**row, column: number} for row in rows if row["number"] > here]
    if later:
        connection.execute(table.insert(), later)
    return len(later)


def _meant(connection: Connection, case: int, squawks: Iterable[Mapping[str, Any]]) -> None:
    """Take over what a longer copy says that the squawks mean: the one thing of them that is said later."""
    for one in squawks:
        own = (tables.squawks.c.case_id == case) & (tables.squawks.c.number == one["number"])
        connection.execute(tables.squawks.update().where(own).values(symptom=one["symptom"]))


# --- CSV ---------------------------------------------------------------------------------------


def table_csv(store: Store, name: str) -> str:
    """One table as CSV with a head line; raises JournalError for an unknown name.

    A cell that a spreadsheet would take for a formula begins with an apostrophe there; results of findings are written
    in the words in which they are shown.
    """
    if name not in CSV_TABLES:
        raise JournalError(f"there is no table '{name}'; choose one of {', '.join(CSV_TABLES)}")
    table, out = CSV_TABLES[name], io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    names = [one.name for one in table.columns]
    writer.writerow(names)
    with store.reading() as connection:
        for row in connection.execute(select(table).order_by(table.c.id)):
            pairs = zip(names, row, strict=True)
            writer.writerow([_cell(result(value) if name == "result" else value) for name, value in pairs])
    return out.getvalue()


def _cell(value: object) -> object:
    if isinstance(value, str) and value.startswith(("=", "+", "-", "@", "\t", "\r")):
        return f"'{value}"
    return value
