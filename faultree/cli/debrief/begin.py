"""`faultree debrief` and `debrief continue`: a case from the crew's words to the last check."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from faultree.base.errors import CaseError
from faultree.cli import complete
from faultree.cli.failure import FAULT
from faultree.cli.history import Asked, history_options, learnt
from faultree.cli.options import case_argument, library_option, load_library, screen, waiting
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.journal.records import Record
    from faultree.journal.store import Store
    from faultree.library.model import Library
    from faultree.terminal.debrief_pump import Interview
    from faultree.terminal.lines import Lines
    from faultree.terminal.pump import Screen

STANDS = (
    "{lost} Case {case} is kept as it is: 'faultree debrief sheet {case}' writes all of it out, and 'faultree debrief "
    "correct {case} SQUAWK --means SYMPTOM' says what a squawk means in the tree as it is now."
)
"""What is said where a case has no report that could be walked any more."""

who_option = click.option("--who", default="", metavar="INITIALS", help="Who writes this; initials are enough.")


@click.command("begin")
@click.option("--aircraft", default="", metavar="NAME", shell_complete=complete.aircraft, help="The aircraft.")
@click.option("--flight", default="", metavar="NUMBER", help="The flight number.")
@click.option("--day", default="", metavar="DAY", help="The day, as 2031-05-04, or today.")
@click.option("--phase", default="", metavar="WORD", help="The phase of the flight.")
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
    from faultree.base.clock import local_day, system_clock
    from faultree.journal.records import Flight

    library, store = load_library(folder), open_journal(journal)
    interview = _interview(store, library, who, None)
    known = Flight(aircraft, flight, _day(day, local_day(system_clock).isoformat()), phase)
    with _kept(interview):
        if interview.open(known) is None:
            click.echo("Nothing was said, so no case was begun.")
            return
        _go_on(interview, ("crew",), Asked(history, history_strength, journal))


def _day(given: str, today: str) -> str:
    from datetime import date

    if given in ("", "today"):
        return today if given else ""
    try:
        day = date.fromisoformat(given).isoformat()
    except ValueError as error:
        raise click.BadParameter(f"'{given}' is no day; write it as 2031-05-04", param_hint="--day") from error
    if day > today:
        raise click.BadParameter(f"{day} is still to come; today is {today}", param_hint="--day")
    return day


@contextmanager
def _kept(interview: Interview) -> Iterator[None]:
    """Say what is kept where somebody breaks off between two questions."""
    try:
        yield
    except KeyboardInterrupt as stop:
        left = "Nothing was said, so no case was begun."
        if interview.case is not None:
            left = f"Case {interview.case} is kept as it is; 'faultree debrief continue {interview.case}' takes it up."
        click.echo(f"\nStopped. {left}", err=True)
        raise click.exceptions.Exit(FAULT) from stop


@click.command("continue")
@case_argument
@click.option("--by", multiple=True, type=click.Choice(["crew", "line", "shop"]), help="Only checks of these.")
@who_option
@history_options
@journal_option
@library_option
def continue_command(
    case: int,
    by: tuple[str, ...],
    who: str,
    history: bool,
    history_strength: float,
    journal: str | None,
    folder: str | None,
) -> None:
    """Go on with a case at the question that has no answer yet; once the crew has left, with all checks."""
    library, store = load_library(folder), open_journal(journal)
    interview = _interview(store, library, who, case)
    from faultree.journal import book
    from faultree.journal.stage import stage_of

    record = book.read(store, case)
    if stage_of(record) == "ended":
        raise CaseError(
            f"case {case} has ended ({record.head.state}); 'faultree debrief end {case} --state open' opens it again"
        )
    with _kept(interview):
        if stage_of(record) == "words":
            interview.words(record.head.flight)
        _go_on(interview, by, Asked(history, history_strength, journal))


def _interview(store: Store, library: Library, who: str, case: int | None) -> Interview:
    from faultree.terminal.debrief_pump import Interview

    return Interview(store, library, screen(), _lines(), who, case)


def _lines() -> Lines:
    from faultree.terminal.lines import Piped, Typed

    return Typed() if sys.stdin.isatty() else Piped(sys.stdin, sys.stdout)


def _go_on(interview: Interview, by: tuple[str, ...], asked: Asked) -> None:
    """From the words that have no meaning yet to the end of the walk, and what the line is to know."""
    from faultree.journal import book

    store, case = interview.store, interview.case
    assert case is not None  # it was begun or named
    if not book.read(store, case).squawks or not interview.match():
        click.echo(f"Case {case} is kept as it is; 'faultree debrief continue {case}' takes it up.")
        return
    record = book.read(store, case)
    if not record.symptoms:
        click.echo(f"Case {case} is kept; no symptom of the tree fits, so there is nothing to walk.")
        return
    library = _walk(interview, record, by, asked)
    if by == ("crew",):
        _state(store, library, case, interview.screen)
    click.echo(f"The sheet for the line: faultree debrief sheet {case} -o case-{case}.html")


def _walk(interview: Interview, record: Record, by: tuple[str, ...], asked: Asked) -> Library:
    """Make the checks of a case, from where they were left; the library that the figures rest on."""
    from faultree.journal.stage import walked
    from faultree.terminal.debrief_pump import Debrief
    from faultree.walk.machine import start

    symptoms = _together(interview.library, record)
    library = _taught(interview, record.head.id, symptoms, asked)
    walk, shown, lines = start(library, by or None), interview.screen, interview.lines
    session = Debrief(walk, shown, lines, busy=lambda: waiting("Working the case out"))
    session.keep_in(interview.store, record.head.id, interview.who)
    kept = walked(record)
    if kept is None:
        session.begin(symptoms)
    else:
        session.take_up_walk(kept, symptoms)
    session.run()
    return library


def _together(library: Library, record: Record) -> tuple[str, ...]:
    """The reports that can be one walk; of the others it is said that they stay in the record.

    CaseError where none of them can be walked with the tree as it is now.
    """
    from faultree.reports.fit_now import gone, symptoms_now
    from faultree.walk.reported import together

    known, lost = symptoms_now(library, record), list(gone(library, record))
    if not known:
        raise CaseError(STANDS.format(lost=" ".join(lost), case=record.head.id))
    with waiting("Working the case out"):
        symptoms = together(library, known)
    for words in lost:
        click.echo(f"{words} It stays in the record.")
    for left in known:
        if left not in symptoms:
            said = library.symptoms[left].title
            click.echo(f"“{said}” cannot be true together with the rest; it stays in the record by itself.")
    return symptoms


def _taught(interview: Interview, case: int, symptoms: tuple[str, ...], asked: Asked) -> Library:
    """The library, taught by the journal where that is asked for; the screen shows and the log keeps that it was."""
    found = learnt(interview.library, symptoms, asked)
    if found is None:
        return interview.library
    from faultree.journal import book
    from faultree.terminal.history_sheet import draw_history

    interview.screen.show(draw_history(found, interview.screen.page))
    book.add(interview.store, case, "note", {"text": found.library.history}, who=interview.who)
    return found.library


def _state(store: Store, library: Library, case: int, screen: Screen) -> None:
    """Show what the crew's answers have left."""
    from faultree.base.clock import system_clock
    from faultree.journal import book
    from faultree.reports.sheet import debrief_sheet
    from faultree.terminal.debrief_screen import draw_state

    with waiting("Working the case out"):
        sheet = debrief_sheet(library, book.read(store, case), system_clock())
    screen.show(draw_state(sheet, screen.page))
