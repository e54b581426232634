"""The journal that a command means: its option, and the store that opens it."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

import click

from faultree.base.errors import JournalError
from faultree.cli.place import home

if TYPE_CHECKING:
    from faultree.journal.place import Where
    from faultree.journal.store import Store

journal_option = click.option(
    "--journal", metavar="FILE", help="The journal: a file or postgresql://... Default: 'faultree journal where' says."
)


def open_journal(named: str | None) -> Store:
    """The journal meant, which must be there: a name that was mistyped makes no empty one. Raises JournalError."""
    found = _where(named)
    if is_new(named):
        raise JournalError(
            f"there is no journal {found.file} (decided by {found.decided}); 'faultree debrief' or 'faultree practice' "
            "makes one, and --journal FILE names another"
        )
    return _open(found)


def new_journal(named: str | None) -> Store:
    """The journal meant, made where there is none; for commands that begin a record. Raises JournalError."""
    return _open(_where(named))


def is_new(named: str | None) -> bool:
    """Whether the journal meant is a file that is still to be made."""
    found = _where(named)
    return found.file is not None and not found.file.exists()


def _where(named: str | None) -> Where:
    from faultree.journal.place import where

    return where(named, os.environ, sys.platform, home())


def _open(found: Where) -> Store:
    from faultree.base.clock import system_clock
    from faultree.journal.store import open_store

    return open_store(found, system_clock)
