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
    part = target.with_name(target.name + ".part")
    try:
        with closing(sqlite3.connect(store.where.file)) as source, closing(sqlite3.connect(part)) as copy:
            source.backup(copy)
            copy.execute("PRAGMA journal_mode=delete")  # one file, with no log beside it
        part.replace(target)
    except (sqlite3.Error, OSError) as error:
        part.unlink(missing_ok=True)
        raise JournalError(f"the backup {target} could not be written: {error}") from error
