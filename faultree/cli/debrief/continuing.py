"""`faultree debrief continue`: a case goes on at the question that has no answer yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from faultree.base.errors import CaseError
from faultree.cli.debrief.going_on import go_on, interview_of, kept, who_option
from faultree.cli.history import Asked, case_history_options
from faultree.cli.options import case_argument, library_option, load_library
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.terminal.interview import Interview


@click.command("continue")
@case_argument
@click.option(
    "--by",
    multiple=True,
    type=click.Choice(["crew", "line", "shop"]),
    help="Only checks of these. Default: the crew's until it has left, then everybody's.",
)
@who_option
@case_history_options
@journal_option
@library_option
def continue_command(
    case: int,
    by: tuple[str, ...],
    who: str,
    history: bool | None,
    history_strength: float | None,
    journal: str | None,
    folder: str | None,
) -> None:
    """Go on with a case at the question that has no answer yet.

    Until the crew has left, its questions come first; where its part was broken off, you are asked whether it is
    still there. After that come all checks and repairs.
    """
    library, store = load_library(folder), open_journal(journal)
    interview = interview_of(store, library, who, case)
    from faultree.journal import book
    from faultree.journal.stage import stage_of

    record = book.read(store, case)
    if stage_of(record) == "ended":
        raise CaseError(f"case {case} has ended ({record.head.state}); 'faultree debrief reopen {case}' opens it again")
    with kept(interview):
        _show_case(interview)
        if stage_of(record) == "words":
            # Nothing was said yet, so the questions of the flight were broken off: what is not known is asked again.
            if not interview.flight(record.head.flight):
                click.echo(interview.kept)
                return
            interview.words()
        go_on(interview, by or None, Asked(history, history_strength, journal))


def _show_case(interview: Interview) -> None:
    """Say which case this is: its flight, and the crew's words."""
    from faultree.journal import book
    from faultree.terminal.debrief_screen import draw_case

    assert interview.case is not None  # it was named
    record = book.read(interview.store, interview.case)
    interview.screen.show(draw_case(interview.library, record, interview.screen.page))
