"""Removing a person from the journal: initials and names in the fields made for them, not in free text."""

from __future__ import annotations

import json

from sqlalchemy import Connection, select

from faultree.journal import tables
from faultree.journal.store import Store

GONE = "removed"
"""What stands for a person who was removed; "(removed)" is what early versions wrote."""

_NOBODY = {"", GONE, f"({GONE})"}

_FIELDS = (tables.entries.c.who, tables.findings.c.who, tables.runs.c.learner)


def people(store: Store) -> tuple[str, ...]:
    """Everybody who is named in a field made for it, in alphabetical order."""
    with store.reading() as connection:
        named = {name for field in _FIELDS for name in connection.execute(select(field).distinct()).scalars()}
    return tuple(sorted(named - _NOBODY))


def forget(store: Store, name: str) -> int:
    """Put `removed` in every field that names this person, in capitals or not; how many fields that were.

    The crew's words and notes are kept as typed: whether they name somebody is for a reader to see.
    """
    written = [one for one in people(store) if one.casefold() == name.strip().casefold()]
    count = 0
    with store.writing() as connection:
        for one in written:
            _from_events(connection, one)
            for field in _FIELDS:
                change = field.table.update().where(field == one).values({field.name: GONE})
                count += connection.execute(change).rowcount
    store.settle()
    return count


def _from_events(connection: Connection, name: str) -> None:
    """Remove a learner from the first event of each run, where early versions kept the name a second time."""
    runs, events = tables.runs, tables.run_events
    own = select(runs.c.id).where(runs.c.learner == name)
    for row in connection.execute(select(events).where(events.c.run_id.in_(own), events.c.number == 1)).all():
        data = json.loads(row.data)
        if data.get("learner") == name:
            kept = json.dumps({**data, "learner": GONE}, ensure_ascii=False, sort_keys=True)
            connection.execute(events.update().where(events.c.id == row.id).values(data=kept))
