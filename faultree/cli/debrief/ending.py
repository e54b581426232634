"""`faultree debrief end` and `reopen`: how a case stands, with what the record of it needs."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING, Any

import click

from faultree.base.errors import CaseError
from faultree.cli import complete
from faultree.cli.debrief.going_on import who_option
from faultree.cli.options import case_argument, library_option, load_library
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.journal.records import Found, Record
    from faultree.library.model import Library

STATES = ("confirmed", "no fault found", "deferred", "handed over")

BELONGS = {
    "cause": ("confirmed",), "item": ("confirmed", "no fault found"), "category": ("deferred",),
    "days": ("deferred",), "found": ("deferred",),
}  # fmt: skip
"""The states that an option says something about."""

GOVERNS = "The operator's approved list governs: it says which defects may be deferred, how long, and how."


class StateName(click.Choice[str]):
    """One of the states, in any case; `nff` is short for no fault found."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The state that was meant."""
        said = str(value).casefold()
        return super().convert({"nff": "no fault found"}.get(said, said), param, ctx)


@click.command("end")
@case_argument
@click.option("--state", required=True, type=StateName(STATES), help="How the case stands.")
@click.option(
    "--cause",
    metavar="CAUSE",
    shell_complete=complete.units,
    help="confirmed: the cause that was established, by id or words of it.",
)
@click.option(
    "--item",
    metavar="ITEM",
    shell_complete=complete.units,
    help="confirmed, or no fault found: the item that was looked into.",
)
@click.option("--how", default="", metavar="TEXT", help="By what it was established, or what else there is to say.")
@click.option("--category", metavar="WORD", help="deferred: the category of the operator's list.")
@click.option("--days", type=click.IntRange(1, 3660), help="deferred: the limit in days, counted from the day after.")
@click.option("--found", metavar="DAY", help="deferred: the day of first discovery. Default: the day of the flight.")
@click.option(
    "--reference", default="", metavar="TEXT", help="The approved data worked to, or the list deferred under."
)
@click.option("--yes", is_flag=True, help="Also a finding that has no part in the reports, or beside another cause.")
@who_option
@journal_option
@library_option
def end_command(case: int, state: str, who: str, journal: str | None, folder: str | None, **given: Any) -> None:
    """Say how a case stands: confirmed and by what, no fault found, deferred until a last day, or handed over.

    faultree writes no release to service. The sheet has an unsigned block for the licensed person. 'debrief reopen'
    opens a case again, 'debrief withdraw' takes a finding back.
    """
    from faultree.journal import book

    for name, states in BELONGS.items():
        if given[name] is not None and state not in states:
            raise click.UsageError(f"--{name} says nothing about a case that is {state}; it belongs to {states[0]}")
    library, store = load_library(folder), open_journal(journal)
    record = book.read(store, case)
    if record.head.state == state and state in ("handed over", "no fault found") and not given["item"]:
        raise CaseError(f"case {case} is {state} already")
    data: dict[str, object] = {"reference": given["reference"]} if given["reference"] else {}
    due, found = None, _found(library, record, state, given)
    if found is None and given["how"]:
        data["how"] = given["how"]
    if state == "deferred":
        due, more = _deferral(record, given)
        data |= more
    elif state == "handed over":
        due = record.head.due  # a limit runs on with whoever takes the case over
    findings = [found] if found else []
    book.end(store, case, state, due=due, data=data, who=who, found=findings, after=record.last)  # type: ignore[arg-type]
    click.echo(f"Case {case}: {state}." if state != "deferred" else f"Case {case}: deferred, the last day is {due}.")
    if due is not None:
        click.echo(GOVERNS if state == "deferred" else f"The last day of its deferral stays {due}.")


def _found(library: Library, record: Record, state: str, given: dict[str, Any]) -> Found | None:
    """What was found, where the state says so; refused where it cannot be meant."""
    from faultree.cli.debrief.naming import cause_named, item_named, unrelated
    from faultree.journal.records import Found

    cause = cause_named(library, record, given["cause"]) if given["cause"] else None
    item = item_named(library, record, given["item"]) if given["item"] else None
    if state == "no fault found":
        if item is None and not given["how"]:
            raise click.UsageError("no fault found needs --item, what was looked into; or --how where it was no item")
        found = Found(item, "not found", None, given["how"]) if item else None
    elif state == "confirmed":
        if cause is None and item is None:
            raise click.UsageError("confirmed needs --cause, or --item where only that is known")
        unit = (library.causes[cause].item or cause) if cause else item
        if item and item != unit:
            raise CaseError(f"'{cause}' is no cause of '{item}'; leave --item out")
        assert unit is not None  # one of the two is there
        found = Found(unit, "confirmed", cause, given["how"])
    else:
        return None
    if found is not None:
        _refuse_again(record, found)
        doubt = "" if given["yes"] else unrelated(library, record, found)
        if doubt:
            raise CaseError(f"{doubt}; add --yes if that is what was found")
    return found


def _refuse_again(record: Record, found: Found) -> None:
    """Refuse what the case says already."""
    known = [
        one.number
        for one in record.findings
        if (one.unit, one.cause, one.result) == (found.unit, found.cause, found.result)
    ]
    if known:
        raise CaseError(f"that is finding {known[0]} of case {record.head.id} already")


def _deferral(record: Record, given: dict[str, Any]) -> tuple[str, dict[str, object]]:
    from faultree.cli.debrief.flight import day_given
    from faultree.journal.trends import last_day

    if not given["category"] or not given["days"]:
        raise click.UsageError("deferred needs --category and --days, both from the operator's approved list")
    named = day_given(given["found"] or "", "--found")
    found = date.fromisoformat(named or record.head.flight.day or record.head.opened[:10])
    due = last_day(found, given["days"]).isoformat()
    return due, {"category": given["category"], "days": given["days"], "found": found.isoformat()}


@click.command("reopen")
@case_argument
@click.option("--why", default="", metavar="TEXT", help="Why it is opened again.")
@click.option("--without-limit", is_flag=True, help="The deferral was a mistake: its last day stands no more.")
@who_option
@journal_option
def reopen_command(case: int, why: str, without_limit: bool, who: str, journal: str | None) -> None:
    """Open a case again that has ended; 'debrief continue' goes on with it.

    The last day of a deferral stays, as the limit runs on while the case is worked at. Findings stay too.
    """
    from faultree.journal import book

    store = open_journal(journal)
    record = book.read(store, case)
    if record.head.state == "open" and not (without_limit and record.head.due):
        raise CaseError(f"case {case} is open; 'faultree debrief continue {case}' goes on with it")
    due = None if without_limit else record.head.due
    data = {"was": record.head.state, **({"because": why} if why else {})}
    book.end(store, case, "open", due=due, data=data, who=who, after=record.last)
    limit = f" The last day of its deferral stays {due}." if due else ""
    click.echo(f"Case {case} is open again.{limit} 'faultree debrief continue {case}' goes on with it.")
