"""Practice runs in the journal: begun, kept event by event, finished, and read back."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any
from uuid import uuid4

from sqlalchemy import Row, func, select

from faultree.base.errors import JournalError
from faultree.journal import tables
from faultree.journal.records import Run
from faultree.journal.store import Store


def begin(store: Store, learner: str, code: str, library: str, symptom: str, mode: str) -> int:
    """A new run; its number. `library` is the digest of the tree files."""
    row = {"learner": learner, "code": code, "library": library, "symptom": symptom, "mode": mode}
    with store.writing() as connection:
        made = tables.runs.insert().values(key=uuid4().hex, started=store.now(), summary="{}", **row)
        return int(connection.execute(made.returning(tables.runs.c.id)).scalar_one())


def add_event(store: Store, run: int, data: Mapping[str, object]) -> int:
    """Keep one more event of a run; its number within the run."""
    with store.writing() as connection:
        held = select(tables.runs.c.id).where(tables.runs.c.id == run).with_for_update()
        if connection.execute(held).first() is None:
            raise JournalError(f"the journal has no practice run {run}")
        events = tables.run_events
        last = connection.execute(select(func.max(events.c.number)).where(events.c.run_id == run)).scalar()
        number = int(last or 0) + 1
        text = json.dumps(data, ensure_ascii=False, sort_keys=True)
        connection.execute(events.insert().values(run_id=run, number=number, at=store.now(), data=text))
        return number


def finish(store: Store, run: int, mark: float | None, summary: Mapping[str, object]) -> None:
    """Keep how a run ended; None as a mark: it was left without one."""
    text = json.dumps(summary, ensure_ascii=False, sort_keys=True)
    with store.writing() as connection:
        ended = tables.runs.update().where(tables.runs.c.id == run)
        if not connection.execute(ended.values(finished=store.now(), mark=mark, summary=text)).rowcount:
            raise JournalError(f"the journal has no practice run {run}")


def runs(store: Store, learner: str | None = None) -> tuple[Run, ...]:
    """The runs, oldest first; those of one learner where one is named."""
    wanted = select(tables.runs).order_by(tables.runs.c.id)
    if learner is not None:
        wanted = wanted.where(tables.runs.c.learner == learner)
    with store.reading() as connection:
        return tuple(_run(row) for row in connection.execute(wanted))


def events(store: Store, run: int) -> tuple[Mapping[str, object], ...]:
    """The events of a run, in order, as they were given."""
    table = tables.run_events
    with store.reading() as connection:
        kept = connection.execute(select(table.c.data).where(table.c.run_id == run).order_by(table.c.number))
        return tuple(json.loads(text) for text in kept.scalars())


def _run(row: Row[Any]) -> Run:
    return Run(
        row.id,
        row.key,
        row.learner,
        row.code,
        row.library,
        row.symptom,
        row.mode,
        row.started,
        row.finished,
        row.mark,
        json.loads(row.summary),
    )
