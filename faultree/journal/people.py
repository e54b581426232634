"""Removing a person from the journal: initials and names in the fields made for them, not in free text."""

from __future__ import annotations

from sqlalchemy import select

from faultree.journal import tables
from faultree.journal.store import Store

GONE = "(removed)"
"""What stands for a person who was removed."""

_FIELDS = (tables.entries.c.who, tables.findings.c.who, tables.runs.c.learner)


def people(store: Store) -> tuple[str, ...]:
    """Everybody who is named in a field made for it, in alphabetical order."""
    with store.reading() as connection:
        named = {name for field in _FIELDS for name in connection.execute(select(field).distinct()).scalars()}
    return tuple(sorted(named - {"", GONE}))


def forget(store: Store, name: str) -> int:
    """Put `(removed)` in every field that names this person; how many fields that were.

    The crew's words and notes are kept as typed: whether they name somebody is for a reader to see.
    """
    with store.writing() as connection:
        return sum(
            connection.execute(field.table.update().where(field == name).values({field.name: GONE})).rowcount
            for field in _FIELDS
        )
