"""`faultree journal demo`: fill a journal with an invented year, to see what a record can show."""

from __future__ import annotations

import click

from faultree.cli.options import library_option, load_library, waiting
from faultree.cli.record import journal_option, new_journal


@click.command("demo")
@click.option("--seed", type=int, default=1, show_default=True, help="Another number makes another year.")
@click.option("--cases", type=click.IntRange(1, 5000), default=200, show_default=True, help="So many cases.")
@click.option("--yes", is_flag=True, help="Also into a journal that holds real cases.")
@journal_option
@library_option
def demo_command(seed: int, cases: int, yes: bool, journal: str | None, folder: str | None) -> None:
    """Fill a journal with a fictional fleet's year; every case is marked as invented wherever it is shown.

    Best into a file of its own: faultree journal demo --journal demo.sqlite
    """
    from faultree.base.errors import JournalError
    from faultree.journal import book
    from faultree.journal.demo import AIRCRAFT_TYPE, AIRLINE, ORIGIN, fill

    library, store = load_library(folder), new_journal(journal)
    real = sum(one.origin != ORIGIN for one in book.heads(store))
    if real and not yes:
        raise JournalError(
            f"this journal holds {real} real case{'' if real == 1 else 's'}; name a file of its own with --journal "
            "(or add --yes)"
        )
    with waiting("Inventing a year"):
        made = fill(store, library, seed, cases)
    click.echo(
        f"{made.cases} invented cases of {AIRLINE}, {AIRCRAFT_TYPE}, {made.repeats} of them repeats. No such airline "
        "or aircraft exists."
    )
