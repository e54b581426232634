"""The journal's database: opened, migrated, and asked within transactions that either happen or do not.

SQLite by default: write-ahead log, foreign keys on, every commit on the disk before it returns. A second
writer waits; what cannot be had after that is said in words. PostgreSQL behaves the same by its address.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, create_engine, event, text
from sqlalchemy.exc import DBAPIError, NoSuchModuleError

from faultree.base.clock import Clock
from faultree.base.errors import JournalError
from faultree.journal.migrate import apply, pending
from faultree.journal.place import Where

PATIENCE = 20_000
"""Milliseconds that a writer waits for another one."""

SETTINGS = (f"busy_timeout={PATIENCE}", "journal_mode=wal", "synchronous=full", "foreign_keys=on", "secure_delete=on")
"""What every SQLite connection is set to; what was removed is overwritten, and not only marked as free."""


@dataclass(frozen=True, eq=False)
class Store:
    """An open journal; `where` says what it is."""

    engine: Engine
    where: Where
    clock: Clock

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """A transaction that writes: all of it is kept, or, where anything is raised, none.

        Raises JournalError where the database refuses: full, read-only, busy or damaged.
        """
        with _words(self.where), self.engine.begin() as connection:
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """A transaction that only reads, and waits for no writer."""
        with _words(self.where), self.engine.connect().execution_options(reading=True) as connection:
            yield connection

    def now(self) -> str:
        """The time of an entry: ISO 8601, UTC, to the second."""
        return self.clock().isoformat(timespec="seconds")

    def problems(self) -> list[str]:
        """What the database's own examination finds wrong; empty where it is sound."""
        if self.engine.dialect.name != "sqlite":
            return []
        with self.reading() as connection:
            found = [str(row[0]) for row in connection.execute(text("PRAGMA integrity_check"))]
            broken = connection.execute(text("PRAGMA foreign_key_check")).all()
        return [one for one in found if one != "ok"] + [f"a row of {row[0]} points to nothing" for row in broken]

    def settle(self) -> None:
        """Have what was written in the database's own file alone, so that nothing older is left in its log."""
        if self.engine.dialect.name == "sqlite":
            with _words(self.where), self.engine.connect().execution_options(plain=True) as connection:
                connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()


def open_store(where: Where, clock: Clock) -> Store:
    """The journal at `where`, made where there is none, brought up to date otherwise; raises JournalError."""
    if where.file is not None:
        _folder(where.file, own=where.own)
    store = Store(_engine(where), where, clock)
    try:
        _update(store)
    except BaseException:
        store.close()
        raise
    return store


def _update(store: Store) -> None:
    with store.reading() as connection:
        todo = pending(connection)
    while todo:
        with store.writing() as connection:
            _alone(connection)
            todo = pending(connection)  # another process may have been faster
            if todo:
                apply(connection, todo[0], store.clock)
                todo = todo[1:]


def _alone(connection: Connection) -> None:
    """Hold every other migration off until this transaction ends; SQLite's writer is alone already."""
    if connection.dialect.name == "postgresql":
        connection.execute(text("SELECT pg_advisory_xact_lock(719251)"))


def _folder(file: Path, *, own: bool) -> None:
    """Make the folder; one of the user's own is for nobody else to look into."""
    try:
        file.parent.mkdir(mode=0o700 if own else 0o777, parents=True, exist_ok=True)
    except OSError as error:
        raise JournalError(f"the journal's folder {file.parent} cannot be made: {error.strerror or error}") from error


def _engine(where: Where) -> Engine:
    try:
        address = URL.create("sqlite", database=str(where.file)) if where.file else where.url
        engine = create_engine(address, pool_pre_ping=where.file is None)
    except (NoSuchModuleError, ModuleNotFoundError) as error:
        raise JournalError(
            "a journal on PostgreSQL needs one more library: pip install 'faultree[postgres]'"
        ) from error
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _prepare)
        event.listen(engine, "begin", _begin)
    return engine


def _prepare(connection: Any, record: object) -> None:
    """Settings of one SQLite connection; transactions begin by our own word, not by the driver's guess."""
    del record
    connection.isolation_level = None
    for setting in SETTINGS:
        connection.execute(f"PRAGMA {setting}")


def _begin(connection: Connection) -> None:
    """Take the writer's place at once: a reader that turns writer half-way could not be made to wait."""
    options = connection.get_execution_options()
    if not options.get("plain", False):
        connection.exec_driver_sql("BEGIN" if options.get("reading", False) else "BEGIN IMMEDIATE")


@contextmanager
def _words(where: Where) -> Iterator[None]:
    try:
        yield
    except DBAPIError as error:
        raise JournalError(_said(where, str(error.orig))) from error


def _said(where: Where, reason: str) -> str:
    """What a database error means to a person, and what to do."""
    name = str(where.file) if where.file else "on the server"
    low = reason.casefold()
    for sign, words in _SIGNS.items():
        if sign in low:
            return f"the journal {name} {words}"
    return f"the journal {name} could not be used: {reason.strip().splitlines()[0]}"


_SIGNS = {
    "database is locked": "is being written to by another program; try again",
    "disk is full": "could not be written: the disk is full; nothing was changed",
    "disk i/o error": "could not be read or written: the disk reports an error; nothing was changed",
    "readonly database": "cannot be written to: the file is read-only; nothing was changed",
    "unable to open": "cannot be opened; is its folder there, and may you write in it?",
    "not a database": "is no journal of faultree; name another file",
    "malformed": "is damaged; take the last backup (journal backup makes them)",
    "connection refused": "cannot be reached; is the server running?",
    "connection failed": "cannot be reached; is the server running, and is the address right?",
}
