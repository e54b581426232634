"""`faultree journal list` and `show`: the cases, and one of them with its whole log."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

import click

from faultree.cli import complete
from faultree.cli.options import case_argument, json_option, library_option, load_library, print_json, screen
from faultree.cli.record import journal_option, open_journal
from faultree.journal.records import State

if TYPE_CHECKING:
    from faultree.library.model import Library


@click.command("list")
@click.option("--state", type=click.Choice(get_args(State), case_sensitive=False), help="Only cases that stand so.")
@click.option("--aircraft", metavar="NAME", shell_complete=complete.aircraft, help="Only cases of this aircraft.")
@json_option
@journal_option
def list_command(state: State | None, aircraft: str | None, as_json: bool, journal: str | None) -> None:
    """List the cases, newest first."""
    from dataclasses import asdict

    from faultree.journal import book

    store = open_journal(journal)
    heads = book.heads(store, state, aircraft)
    if as_json:
        print_json({"cases": [asdict(one) for one in heads]})
        return
    from faultree.terminal.journal_sheets import draw_cases

    shown = screen()
    shown.show(draw_cases([book.read(store, one.id) for one in heads], shown.page))


@click.command("show")
@case_argument
@json_option
@journal_option
@library_option
def show_command(case: int, as_json: bool, journal: str | None, folder: str | None) -> None:
    """Show a case with its whole log, in the words of the library where it can be read."""
    from dataclasses import asdict

    from faultree.journal import book

    record = book.read(open_journal(journal), case)
    if as_json:
        print_json(asdict(record))
        return
    from faultree.terminal.journal_sheets import draw_record

    shown = screen()
    shown.show(draw_record(record, shown.page, _library(folder)))


def _library(folder: str | None) -> Library | None:
    """The library for its words; a record can be shown without one."""
    from faultree.base.errors import LibraryError

    try:
        return load_library(folder)
    except LibraryError:
        return None
