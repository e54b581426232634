"""How a debrief goes on, begun now or taken up again: meanings, the crew's questions, the walk, the state."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from faultree.base.errors import CaseError
from faultree.cli.failure import FAULT
from faultree.cli.history import Asked, for_case, learnt
from faultree.cli.options import screen, waiting

if TYPE_CHECKING:
    from faultree.journal.records import Record
    from faultree.journal.store import Store
    from faultree.library.model import Library
    from faultree.terminal.interview import Interview
    from faultree.terminal.lines import Lines
    from faultree.terminal.pump import Screen

CREW = ("crew",)

STANDS = (
    "{lost} Case {case} is kept as it is: 'faultree debrief sheet {case}' writes all of it out, and 'faultree debrief "
    "correct {case} SQUAWK --means SYMPTOM' says what a squawk means in the tree as it is now."
)
"""What is said where a case has no report that could be walked any more."""

who_option = click.option("--who", default="", metavar="INITIALS", help="Who writes this; initials are enough.")


@contextmanager
def kept(interview: Interview) -> Iterator[None]:
    """Say what is kept where somebody leaves between two questions, or breaks off."""
    from faultree.terminal.interview import Left

    try:
        yield
    except Left:
        click.echo(interview.kept)
    except KeyboardInterrupt as stop:
        click.echo(f"\nStopped. {interview.kept}", err=True)
        raise click.exceptions.Exit(FAULT) from stop


def interview_of(store: Store, library: Library, who: str, case: int | None) -> Interview:
    """The questions of a case, on the screen and from the lines of this process."""
    from faultree.terminal.interview import Interview

    return Interview(store, library, screen(), _lines(), who, case)


def _lines() -> Lines:
    from faultree.terminal.lines import Piped, Typed

    return Typed() if sys.stdin.isatty() else Piped(sys.stdin, sys.stdout)


def go_on(interview: Interview, by: tuple[str, ...] | None, asked: Asked) -> None:
    """From the words that have no meaning yet to the end of the walk, and what the line is to know.

    `by` None: the crew's questions until it has left, then everybody's.
    """
    from faultree.journal import book

    store, case = interview.store, interview.case
    assert case is not None  # it was begun or named
    if not book.read(store, case).squawks or not interview.match():
        click.echo(interview.kept)
        return
    record = book.read(store, case)
    if not record.symptoms:
        click.echo(f"Case {case} is kept; no symptom of the tree fits, so there is nothing to walk.")
        return
    people = _people(interview, record) if by is None else by
    if people is None:
        click.echo(interview.kept)
        return
    library = _walk(interview, record, people, asked)
    if people == CREW:
        _state(store, library, case, interview.screen)
    click.echo(f"The sheet for the line: faultree debrief sheet {case} -o case-{case}.html")


def _people(interview: Interview, record: Record) -> tuple[str, ...] | None:
    """Whose checks are proposed: the crew's as long as it is there, then everybody's (empty); None where nobody said.

    A repair, or a check of the line, is never proposed to a crew because its part was broken off.
    """
    if record.crew_left:
        return ()
    here = interview.crew_is_here()
    if here is False:
        _crew_left(interview, record.head.id)
    return None if here is None else CREW if here else ()


def _crew_left(interview: Interview, case: int) -> None:
    from faultree.journal import book

    book.add(interview.store, case, "crew", {"left": True}, who=interview.who)


def _walk(interview: Interview, record: Record, by: tuple[str, ...], asked: Asked) -> Library:
    """Make the checks of a case, from where they were left; the library that the figures rest on."""
    from faultree.journal import book
    from faultree.journal.stage import last_walk
    from faultree.terminal.debrief_pump import Debrief
    from faultree.walk.machine import start

    case = record.head.id
    symptoms = _together(interview, record)
    library = _taught(interview, record, symptoms, asked)
    record = book.read(interview.store, case)
    walk, shown, lines = start(library, by or None), interview.screen, interview.lines
    session = Debrief(walk, shown, lines, busy=lambda: waiting("Working the case out"))
    session.keep_in(interview.store, case, interview.who, record.last)
    before = last_walk(record)
    if before is None:
        session.begin(symptoms)
    else:
        session.take_up_walk(before, symptoms)
    session.run()
    if by == CREW and session.over and not record.crew_left:
        _crew_left(interview, case)
    return library


def _together(interview: Interview, record: Record) -> tuple[str, ...]:
    """The reports that can be one walk; of the others it is said that they stay in the record.

    CaseError where none of them can be walked with the tree as it is now.
    """
    from faultree.reports.fit_now import gone, symptoms_now
    from faultree.terminal.look import text
    from faultree.walk.reported import together

    library, shown = interview.library, interview.screen
    known, lost = symptoms_now(library, record), list(gone(library, record))
    if not known:
        raise CaseError(STANDS.format(lost=" ".join(lost), case=record.head.id))
    with waiting("Working the case out"):
        symptoms = together(library, known)
    for words in lost:
        shown.show(text(f"{words} It stays in the record."))
    for left in known:
        if left not in symptoms:
            said = library.symptoms[left].title
            shown.show(text(f"“{said}” cannot be true together with the rest; it stays in the record by itself."))
    return symptoms


def _taught(interview: Interview, record: Record, symptoms: tuple[str, ...], asked: Asked) -> Library:
    """The library, taught by the journal where that is asked for; the screen shows and the log keeps that it was.

    A case that was ranked with history is ranked so again, unless that is refused: then the log keeps that.
    """
    from faultree.journal import book
    from faultree.journal.lessons import NO_MORE, remembered
    from faultree.terminal.history_sheet import draw_history

    found, case = learnt(interview.library, symptoms, for_case(asked, record)), record.head.id
    if found is not None:
        interview.screen.show(draw_history(found, interview.screen.page))
        book.add(interview.store, case, "note", {"text": found.library.history}, who=interview.who)
        return found.library
    if remembered(record) is not None:
        book.add(interview.store, case, "note", {"text": NO_MORE}, who=interview.who)
    return interview.library


def _state(store: Store, library: Library, case: int, screen: Screen) -> None:
    """Show what the crew's answers have left."""
    from faultree.base.clock import system_clock
    from faultree.journal import book
    from faultree.reports.sheet import debrief_sheet
    from faultree.terminal.debrief_screen import draw_state

    with waiting("Working the case out"):
        sheet = debrief_sheet(library, book.read(store, case), system_clock())
    screen.show(draw_state(sheet, screen.page))
