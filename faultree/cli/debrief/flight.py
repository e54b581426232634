"""`faultree debrief flight`: what a case says of its flight, completed or corrected."""

from __future__ import annotations

from typing import Any

import click

from faultree.cli import complete
from faultree.cli.debrief.going_on import who_option
from faultree.cli.options import case_argument
from faultree.cli.record import journal_option, open_journal


def day_given(typed: str, option: str) -> str:
    """The day of an option in the journal's form; empty where none was given."""
    from faultree.base.clock import local_day, system_clock
    from faultree.journal.flight_words import day_of

    try:
        return day_of(typed, local_day(system_clock)).isoformat() if typed else ""
    except ValueError as error:
        raise click.BadParameter(str(error), param_hint=option) from error


def phase_given(typed: str) -> str:
    """The phase of an option as the journal calls it; empty where none was given."""
    from faultree.journal.flight_words import phase_of

    try:
        return phase_of(typed) if typed else ""
    except ValueError as error:
        raise click.BadParameter(str(error).rstrip("."), param_hint="--phase") from error


@click.command("flight")
@case_argument
@click.option("--aircraft", metavar="NAME", shell_complete=complete.aircraft, help="The aircraft.")
@click.option("--flight", metavar="NUMBER", help="The flight number.")
@click.option("--day", metavar="DAY", help="The day, as 2031-05-04, today or yesterday.")
@click.option("--phase", metavar="WORD", help="The phase of the flight, as landing, or other: WORDS.")
@who_option
@journal_option
def flight_command(case: int, who: str, journal: str | None, **given: Any) -> None:
    """Complete or correct what a case says of its flight; what is not named stays.

    Nothing is lost: the log keeps what was said before.
    """
    from dataclasses import replace

    from faultree.journal import book

    named = {name: value for name, value in given.items() if value is not None}
    if not named:
        raise click.UsageError("say what is corrected: --aircraft, --flight, --day or --phase")
    if "day" in named:
        named["day"] = day_given(named["day"], "--day")
    if "phase" in named:
        named["phase"] = phase_given(named["phase"])
    store = open_journal(journal)
    record = book.read(store, case)
    flight = replace(record.head.flight, **named)
    book.describe(store, case, flight, who=who, after=record.last)
    told = ", ".join(filter(None, (flight.aircraft, flight.flight, flight.day, flight.phase))) or "nothing is known"
    click.echo(f"Case {case}, its flight: {told}.")
