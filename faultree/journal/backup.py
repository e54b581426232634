"""A copy of the journal in one file, taken while others may be writing."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

from faultree.base.errors import JournalError
from faultree.journal.store import Store


def backup(store: Store, target: Path, *, over: bool = False) -> None:
    """Copy the journal to a file by the database's own means; one that is there is replaced only with `over`.

    Raises JournalError where that cannot be; a half-written copy does not stay.
    """
    if store.where.file is None:
        raise JournalError("a journal on a server is backed up with the server's own tools (pg_dump)")
    if target.exists() and not over:
        raise JournalError(f"{target} is there already, and is left as it is")
    _apart(store.where.file, target)
    part = target.with_name(target.name + ".part")
    try:
        with closing(sqlite3.connect(store.where.file)) as source, closing(sqlite3.connect(part)) as copy:
            source.backup(copy)
            copy.execute("PRAGMA journal_mode=delete")  # one file, with no log beside it
        part.replace(target)
    except (sqlite3.Error, OSError) as error:
        part.unlink(missing_ok=True)
        raise JournalError(f"the backup {target} could not be written: {error}") from error


def _apart(journal: Path, target: Path) -> None:
    """Refuse a target that is the journal itself, or a database in use: its log would be played into the copy."""
    if target.exists() and target.samefile(journal):
        raise JournalError(f"{target} is the journal itself; name another file")
    log = target.with_name(f"{target.name}-wal")
    if log.exists() and log.stat().st_size:
        raise JournalError(f"{target} seems to be a database in use ({log.name} lies beside it); name another file")
