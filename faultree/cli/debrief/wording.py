"""`faultree debrief add`, `correct` and `withdraw`: a further squawk, another wording or meaning, or a mistake."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from faultree.base.errors import JournalError
from faultree.cli import complete
from faultree.cli.debrief.going_on import who_option
from faultree.cli.options import case_argument, library_option, load_library, symptom_ids
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.journal.records import Record

NONE = "none"
"""What is typed where no symptom of the library fits."""


@click.command("add")
@case_argument
@click.argument("words")
@who_option
@journal_option
def add_command(case: int, words: str, who: str, journal: str | None) -> None:
    """Add a squawk of the same flight to a case; 'debrief continue' then asks what it means."""
    from faultree.journal import book

    if not words.strip():
        raise click.BadParameter("the words are empty", param_hint="WORDS")
    store = open_journal(journal)
    number = book.add_squawk(store, case, words.strip(), who=who)
    state = book.read(store, case).head.state
    ended = f"The case has ended ({state}): 'faultree debrief reopen {case}' opens it again, then " * (state != "open")
    kept = "is kept; " if not ended else f"is kept. {ended}"
    click.echo(f"Squawk {number} of case {case} {kept}'faultree debrief continue {case}' asks what it means.")


@click.command("correct")
@case_argument
@click.argument("squawk", type=int, shell_complete=complete.squawks)
@click.argument("words", required=False, default="")
@click.option("--means", metavar="SYMPTOM", shell_complete=complete.means, help="The symptom that is meant, or none.")
@who_option
@journal_option
@library_option
def correct_command(
    case: int, squawk: int, words: str, means: str | None, who: str, journal: str | None, folder: str | None
) -> None:
    """Correct the wording of a squawk, or say that it means another symptom.

    Nothing is overwritten: the words as they were typed stay, and the correction is a new entry of the record. The
    ranking rests on the new meaning at once; answers stay, as far as they fit it.
    """
    from dataclasses import replace

    from faultree.cli.debrief.meaning import walk_event
    from faultree.journal import book

    if not words.strip() and means is None:
        raise click.UsageError("say what is corrected: other words, or --means SYMPTOM")
    store = open_journal(journal)
    record = book.read(store, case)
    _known(record, squawk)
    if means is not None:
        library = load_library(folder)
        symptom = None if means == NONE else symptom_ids(library, [means])[0]
        squawks = (replace(one, symptom=symptom) if one.number == squawk else one for one in record.squawks)
        event = walk_event(library, replace(record, squawks=tuple(squawks)))
        book.match(store, case, squawk, symptom, who=who, after=record.last, event=event)
    if words.strip():
        book.add(store, case, "corrected", {"squawk": squawk, "words": words.strip()}, who=who)
    click.echo(f"Squawk {squawk} of case {case}: the correction is kept beside what was said first.")


@click.command("withdraw")
@case_argument
@click.option("--squawk", type=int, metavar="NUMBER", help="The squawk that was none.")
@click.option("--finding", type=int, metavar="NUMBER", help="The finding that was wrong.")
@click.option("--why", default="", metavar="TEXT", help="Why it is withdrawn.")
@who_option
@journal_option
@library_option
def withdraw_command(
    case: int, squawk: int | None, finding: int | None, why: str, who: str, journal: str | None, folder: str | None
) -> None:
    """Say that a squawk or a finding was a mistake; 'faultree journal show CASE' lists them by number.

    Nothing is erased: it stays in the log, and counts for nothing from now on.
    """
    from dataclasses import replace

    from faultree.cli.debrief.meaning import walk_event
    from faultree.journal import book

    if (squawk is None) == (finding is None):
        raise click.UsageError("say which: --squawk NUMBER or --finding NUMBER")
    store = open_journal(journal)
    if finding is not None:
        book.withdraw(store, case, "finding", finding, because=why, who=who)
        click.echo(f"Finding {finding} of case {case} is withdrawn; it stays in the log.")
        return
    assert squawk is not None  # one of the two is there
    record = book.read(store, case)
    _known(record, squawk)
    left = replace(record, squawks=tuple(one for one in record.squawks if one.number != squawk))
    event = walk_event(load_library(folder), left)
    book.withdraw(store, case, "squawk", squawk, because=why, who=who, after=record.last, event=event)
    click.echo(f"Squawk {squawk} of case {case} is withdrawn; its words stay in the log.")


def _known(record: Record, squawk: int) -> None:
    if squawk not in {one.number for one in record.squawks}:
        raise JournalError(f"case {record.head.id} has no squawk {squawk}")
