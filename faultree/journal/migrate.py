"""Named migrations: each runs once, in one transaction, and leads an older journal to the tables of now."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sqlalchemy import Connection, inspect, select

from faultree.base.clock import Clock
from faultree.base.errors import JournalError
from faultree.journal.tables import metadata, migrations

Migration = Callable[[Connection], None]


def _first_tables(connection: Connection) -> None:
    """Cases with their entries, squawks and findings; practice runs with their events."""
    metadata.create_all(connection)


MIGRATIONS: Mapping[str, Migration] = {"first-tables": _first_tables}
"""Every migration by its name, oldest first. A name never changes, and what one did is never edited: add another."""


def pending(connection: Connection, known: Mapping[str, Migration] = MIGRATIONS) -> list[str]:
    """Names of the migrations still to run; JournalError where the journal knows one that we do not."""
    done = _done(connection)
    newer = [name for name in done if name not in known]
    if newer:
        raise JournalError(
            f"this journal was written by a newer faultree (it knows '{newer[0]}'); update faultree to read it"
        )
    return [name for name in known if name not in done]


def _done(connection: Connection) -> list[str]:
    if not inspect(connection).has_table(migrations.name):
        return []
    return list(connection.execute(select(migrations.c.name)).scalars())


def apply(connection: Connection, name: str, clock: Clock, known: Mapping[str, Migration] = MIGRATIONS) -> None:
    """Run one migration within the transaction of `connection`, and note that it ran."""
    migrations.create(connection, checkfirst=True)
    known[name](connection)
    connection.execute(migrations.insert().values(name=name, at=clock().isoformat(timespec="seconds")))
