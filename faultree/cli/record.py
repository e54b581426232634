"""The journal that a command means: its option, and the store that opens it."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

import click

from faultree.cli.place import home

if TYPE_CHECKING:
    from faultree.journal.store import Store

journal_option = click.option(
    "--journal", metavar="FILE", help="The journal: a file or postgresql://... Default: 'faultree journal where' says."
)


def open_journal(named: str | None) -> Store:
    """The journal meant; raises JournalError."""
    from faultree.base.clock import system_clock
    from faultree.journal.place import where
    from faultree.journal.store import open_store

    return open_store(where(named, os.environ, sys.platform, home()), system_clock)
