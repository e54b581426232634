"""`faultree journal where`: where the journal lies, what decided that, and whether it can be used."""

from __future__ import annotations

import os
import sys
from typing import TYPE_CHECKING

import click

from faultree.cli.fitted import fitted
from faultree.cli.place import home
from faultree.cli.record import journal_option

if TYPE_CHECKING:
    from faultree.journal.place import Where


@click.command("where")
@journal_option
def where_command(journal: str | None) -> None:
    """Say where the journal lies, what decided that, and whether it can be used; nothing is made."""
    from faultree.journal.place import VARIABLE, where

    found = where(journal, os.environ, sys.platform, home())
    click.echo(found.shown)
    click.echo(f"Decided by {found.decided}.")
    click.echo(_state(found))
    other = f"Another place: --journal FILE, or the environment variable {VARIABLE} (a file, or postgresql://...)."
    click.echo(fitted(other, sys.stdout))


def _state(found: Where) -> str:
    """Whether it is there and can be used, as a sentence."""
    from faultree.base.clock import system_clock
    from faultree.base.errors import JournalError
    from faultree.journal.store import look

    if found.file is not None and not found.file.exists():
        return "It does not exist yet; the first case or practice run makes it."
    try:
        count = look(found, system_clock)
    except JournalError as error:
        return f"It cannot be used: {error}."
    if count is None:
        return "It holds nothing yet; the first case or practice run makes its tables."
    shut = found.file is not None and not os.access(found.file.parent, os.W_OK)
    read_only = " It can be read, but not written to: its folder is read-only." if shut else ""
    return f"It holds {count} case{'' if count == 1 else 's'}.{read_only}"
