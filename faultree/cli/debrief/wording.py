"""`faultree debrief add` and `correct`: a further squawk, and another wording or meaning of one."""

from __future__ import annotations

import click

from faultree.base.errors import JournalError
from faultree.cli import complete
from faultree.cli.debrief.begin import who_option
from faultree.cli.options import case_argument, library_option, load_library, symptom_ids
from faultree.cli.record import journal_option, open_journal

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
    number = book.add_squawk(open_journal(journal), case, words.strip(), who=who)
    click.echo(f"Squawk {number} of case {case} is kept; 'faultree debrief continue {case}' asks what it means.")


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

    Nothing is overwritten: the words as they were typed stay, and the correction is a new entry of the record.
    """
    from faultree.journal import book

    if not words.strip() and means is None:
        raise click.UsageError("say what is corrected: other words, or --means SYMPTOM")
    store = open_journal(journal)
    if squawk not in {one.number for one in book.read(store, case).squawks}:
        raise JournalError(f"case {case} has no squawk {squawk}")
    if means is not None:
        symptom = None if means == NONE else symptom_ids(load_library(folder), [means])[0]
        book.match(store, case, squawk, symptom, who=who)
    if words.strip():
        book.add(store, case, "corrected", {"squawk": squawk, "words": words.strip()}, who=who)
    click.echo(f"Squawk {squawk} of case {case}: the correction is kept beside what was said first.")
