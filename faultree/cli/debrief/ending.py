"""`faultree debrief end`: how a case stands, with what the record of it needs."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError
from faultree.cli import complete
from faultree.cli.debrief.begin import who_option
from faultree.cli.options import case_argument, library_option, load_library
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.journal.records import Record
    from faultree.journal.store import Store
    from faultree.library.model import Library

STATES = ("confirmed", "no fault found", "deferred", "handed over", "open")


@click.command("end")
@case_argument
@click.option("--state", required=True, type=click.Choice(STATES), help="How the case stands.")
@click.option(
    "--cause", metavar="CAUSE", shell_complete=complete.units, help="confirmed: the cause that was established."
)
@click.option(
    "--item",
    metavar="ITEM",
    shell_complete=complete.units,
    help="confirmed, or no fault found: the item that was looked into.",
)
@click.option("--how", default="", metavar="TEXT", help="By what it was established.")
@click.option("--category", default="", metavar="WORD", help="deferred: the category of the operator's list.")
@click.option("--days", type=click.IntRange(1, 3660), help="deferred: the limit in days, counted from the day after.")
@click.option("--found", metavar="DAY", help="deferred: the day of first discovery. Default: the day of the flight.")
@click.option(
    "--reference", default="", metavar="TEXT", help="The approved data worked to, or the list deferred under."
)
@who_option
@journal_option
@library_option
def end_command(case: int, state: str, who: str, journal: str | None, folder: str | None, **given: Any) -> None:
    """Say how a case stands: confirmed and by what, no fault found, deferred until a last day, or handed over.

    faultree writes no release to service. The sheet has an unsigned block for the licensed person.
    """
    from faultree.journal import book

    library, store = load_library(folder), open_journal(journal)
    record = book.read(store, case)
    data = {"reference": given["reference"]} if given["reference"] else {}
    due = None
    if state in ("confirmed", "no fault found"):
        _finding(store, library, case, state, who, given)
    if state == "deferred":
        due, more = _deferral(record, given)
        data |= more
    book.end(store, case, state, due=due, data=data, who=who)  # type: ignore[arg-type]
    click.echo(f"Case {case}: {state}." if due is None else f"Case {case}: deferred, the last day is {due}.")
    if due is not None:
        click.echo("The operator's approved list governs: it says which defects may be deferred, how long, and how.")


def _finding(store: Store, library: Library, case: int, state: str, who: str, given: dict[str, Any]) -> None:
    from faultree.journal import book

    if state == "confirmed":
        if not given["cause"] and not given["item"]:
            raise click.UsageError("confirmed needs --cause, or --item where only that is known")
        cause = library.cause_id(given["cause"]) if given["cause"] else None
        unit = (library.causes[cause].item or cause) if cause else library.item_id(given["item"])
        if given["item"] and cause and library.item_id(given["item"]) != unit:
            raise CaseError(f"'{cause}' is no cause of '{given['item']}'; leave --item out")
        book.find(store, case, unit, "confirmed", cause=cause, how=given["how"], who=who)
    elif given["item"]:
        book.find(store, case, library.item_id(given["item"]), "not found", how=given["how"], who=who)


def _deferral(record: Record, given: dict[str, Any]) -> tuple[str, dict[str, object]]:
    from faultree.journal.trends import last_day

    if not given["category"] or not given["days"]:
        raise click.UsageError("deferred needs --category and --days, both from the operator's approved list")
    day = given["found"] or record.head.flight.day or record.head.opened[:10]
    try:
        found = date.fromisoformat(day)
    except ValueError as error:
        raise click.BadParameter(f"'{day}' is no day; write it as 2031-05-04", param_hint="--found") from error
    due = last_day(found, given["days"]).isoformat()
    return due, {"category": given["category"], "days": given["days"], "found": found.isoformat()}
