"""`faultree debrief`: a new case, from the flight and the crew's words to what only the crew can answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.debrief.going_on import go_on, interview_of, kept, who_option
from faultree.cli.history import Asked, history_options
from faultree.cli.options import library_option, load_library, screen
from faultree.cli.record import is_new, journal_option, new_journal
from faultree.journal.terms import INVENTED

if TYPE_CHECKING:
    from faultree.journal.store import Store

AMONG = (
    "This journal holds {} cases that are invented for demonstration; a real case would stand among them. --journal "
    "names another."
)
"""What is said before a case begins in a journal that was made to look at."""


@click.command("begin")
@click.option("--aircraft", default="", metavar="NAME", shell_complete=complete.aircraft, help="The aircraft.")
@click.option("--flight", default="", metavar="NUMBER", help="The flight number.")
@click.option("--day", default="", metavar="DAY", help="The day, as 2031-05-04, today or yesterday.")
@click.option("--phase", default="", metavar="WORD", help="The phase of the flight, as landing, or other: WORDS.")
@who_option
@history_options
@journal_option
@library_option
def begin_command(
    aircraft: str,
    flight: str,
    day: str,
    phase: str,
    who: str,
    history: bool,
    history_strength: float,
    journal: str | None,
    folder: str | None,
) -> None:
    """Begin a case: the flight, the crew's words, what they mean, and what only the crew can still answer.

    Everything is in the journal as it is typed. What is given as an option is not asked for.
    """
    from faultree.cli.debrief.flight import day_given, phase_given
    from faultree.journal.records import Flight

    known = Flight(aircraft, flight, day_given(day, "--day"), phase_given(phase))
    library, new = load_library(folder), bool(journal) and is_new(journal)
    store = new_journal(journal)
    if new:
        click.echo(f"{store.where.shown} is a new journal.")
    _say_where_invented(store)
    interview = interview_of(store, library, who, None)
    with kept(interview):
        if interview.open(known) is None:
            click.echo("Nothing was said, so no case was begun.")
            return
        go_on(interview, ("crew",), Asked(history, history_strength, journal))


def _say_where_invented(store: Store) -> None:
    """Say, before a real case begins, that the journal holds invented ones alone."""
    from faultree.journal import book
    from faultree.terminal.look import text

    heads = book.heads(store)
    if heads and all(one.origin == INVENTED for one in heads):
        screen().show(text(AMONG.format(len(heads)), "yellow"))
