"""The journal's database: opened, migrated, and asked within transactions that either happen or do not.

SQLite by default: write-ahead log, foreign keys on, every commit on the disk before it returns. A second
writer waits; what cannot be had after that is said in words. PostgreSQL behaves the same by its address.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import quote

from sqlalchemy import URL, Connection, Engine, create_engine, event, func, inspect, select, text
from sqlalchemy.exc import DBAPIError, NoSuchModuleError

from faultree.base.clock import Clock
from faultree.base.errors import JournalError
from faultree.journal import tables
from faultree.journal.migrate import apply, pending
from faultree.journal.place import FILE, Where

PATIENCE = 20_000
"""Milliseconds that a writer waits for another one."""

SILENCE = 5
"""Seconds after which a server that does not answer counts as not there, for whoever only looks."""

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
    """The journal at `where`, made where there is none, brought up to date otherwise; raises JournalError.

    One that lies where nobody may write is opened for reading.
    """
    if where.file is not None:
        _refuse_a_folder(where.file)
        _folder(where.file, own=where.own)
    store = Store(_engine(where), where, clock)
    try:
        _update(store)
    except BaseException:
        store.close()
        raise
    return store


def look(where: Where, clock: Clock) -> int | None:
    """How many cases a journal holds, without making or changing anything; None for a database that holds none yet.

    Raises JournalError where it is none, or cannot be used now.
    """
    if where.file is not None:
        _refuse_a_folder(where.file)
    store = Store(_engine(where, looking=True), where, clock)
    try:
        with store.reading() as connection:
            pending(connection)
            there = inspect(connection).has_table(tables.cases.name)
            return connection.execute(select(func.count()).select_from(tables.cases)).scalar_one() if there else None
    finally:
        store.close()


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


def _refuse_a_folder(file: Path) -> None:
    if file.is_dir():
        raise JournalError(f"the journal {file} is a folder; name a file in it, as {file / FILE}")


def _folder(file: Path, *, own: bool) -> None:
    """Make the folder; one of the user's own is for nobody else to look into."""
    try:
        file.parent.mkdir(mode=0o700 if own else 0o777, parents=True, exist_ok=True)
    except OSError as error:
        raise JournalError(f"the journal's folder {file.parent} cannot be made: {error.strerror or error}") from error


def _engine(where: Where, *, looking: bool = False) -> Engine:
    """The engine; for one that only looks, nothing is set up, and a server that is silent for long is not there."""
    shut = where.file is not None and _is_shut(where.file)
    more = {"connect_args": {"connect_timeout": SILENCE}} if looking and where.file is None else {}
    try:
        address = _address(where.file, shut=shut) if where.file else where.url
        engine = create_engine(address, pool_pre_ping=where.file is None, **more)
    except (NoSuchModuleError, ModuleNotFoundError) as error:
        raise JournalError(
            "a journal on PostgreSQL needs one more library: pip install 'faultree[postgres]'"
        ) from error
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", partial(_prepare, SETTINGS[:1] if shut or looking else SETTINGS))
        event.listen(engine, "begin", _begin)
    return engine


def _is_shut(file: Path) -> bool:
    """Whether a journal is there, but in a folder in which its log could not be written."""
    return file.is_file() and not os.access(file.parent, os.W_OK)


def _address(file: Path, *, shut: bool) -> URL:
    """SQLite's address of a file; of one in a folder that is shut, such as takes no log beside it for reading.

    Where a log lies there already it holds what was written last, and is read as well.
    """
    if not shut:
        return URL.create("sqlite", database=str(file))
    log = file.with_name(f"{file.name}-wal")
    alone = {} if log.exists() and log.stat().st_size else {"immutable": "1"}
    return URL.create("sqlite", database=f"file:{quote(str(file))}", query={"mode": "ro", "uri": "true", **alone})


def _prepare(settings: Sequence[str], connection: Any, record: object) -> None:
    """Settings of one SQLite connection; transactions begin by our own word, not by the driver's guess."""
    del record
    connection.isolation_level = None
    for setting in settings:
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
    "unable to open": "cannot be opened: its folder is not there, or you may not write in it, or not read the file",
    "not a database": "is no journal of faultree; name another file",
    "malformed": "is damaged; take the last backup (journal backup makes them)",
    "connection refused": "cannot be reached; is the server running?",
    "connection failed": "cannot be reached; is the server running, and is the address right?",
}
