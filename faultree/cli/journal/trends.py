"""`faultree journal trends`: what the record of many cases shows."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from faultree.cli import complete
from faultree.cli.options import json_option, library_option, load_library, print_json, screen, waiting
from faultree.cli.out import force_option, free, save
from faultree.cli.record import journal_option, open_journal

if TYPE_CHECKING:
    from faultree.journal.pace import Expected
    from faultree.journal.records import Record
    from faultree.journal.store import Store
    from faultree.library.model import Library
    from faultree.reports.trends_page import Trends

MOST = 8
"""Charts of so many reports are compiled, those that came most often."""

KNOWN = 12
"""So many aircraft of the journal are named where another was meant."""

LIMIT = 1.0
"""Seconds for which the best chart of a report is looked for."""


class Day(click.ParamType[str]):
    """A day as it is written in the journal; anything else is refused."""

    name = "day"

    def convert(self, value: str, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The day as an ISO date."""
        try:
            return date.fromisoformat(value).isoformat()
        except ValueError:
            self.fail(f"'{value}' is no day; write it as 2031-05-04", param, ctx)


DAY = Day()


@click.command("trends")
@click.option("--count", type=click.IntRange(2), default=3, show_default=True, help="So many make a repeat defect.")
@click.option(
    "--window",
    type=click.IntRange(1),
    default=15,
    show_default=True,
    help="Within so many days or flights, the first and the last counted.",
)
@click.option(
    "--unit", type=click.Choice(["days", "flights"]), default="days", show_default=True, help="What the window counts."
)
@click.option("--aircraft", metavar="NAME", shell_complete=complete.aircraft, help="Only cases of this aircraft.")
@click.option("--since", type=DAY, metavar="DAY", help="Only flights from this day on (2031-05-04).")
@click.option("--until", type=DAY, metavar="DAY", help="Only flights to this day.")
@click.option("--chapter", metavar="NUMBER", help="Only symptoms of this ATA chapter, as 27 or 27-60.")
@click.option(
    "--charts/--no-charts", default=True, help="Compare minutes with charts of the reports that come most often."
)
@click.option("--all", "whole", is_flag=True, help="List every row, however many there are.")
@click.option("-o", "--output", type=click.Path(path_type=Path), metavar="FILE.html", help="Write a page with plots.")
@force_option
@json_option
@journal_option
@library_option
def trends_command(
    as_json: bool, journal: str | None, folder: str | None, output: Path | None, force: bool, **given: Any
) -> None:
    """Show repeat defects, removals without a fault, minutes against charts, reports without a tree, idle checks.

    Count and window of a repeat defect belong to the operator.
    """
    if output is not None and output.suffix.lower() not in (".html", ".htm"):
        raise click.BadParameter(f"'{output}' is no page; end it in .html", param_hint="--output")
    free(output, force=force)
    library = load_library(folder)
    found = _found(library, open_journal(journal), given)
    if output is not None:
        from faultree.base.clock import system_clock
        from faultree.reports.trends_page import trends_html

        save(output, trends_html(library, found, system_clock().strftime("%Y-%m-%d %H:%M UTC")), force=force)
        click.echo(f"Wrote {output}.")
    elif as_json:
        print_json(_data(found))
    else:
        from faultree.terminal.trends_sheet import MOST as ROWS
        from faultree.terminal.trends_sheet import draw_trends

        shown = screen()
        shown.show(draw_trends(library, found, shown.page, None if given["whole"] else ROWS))


def _found(library: Library, store: Store, given: dict[str, Any]) -> Trends:
    """Every trend of the cases that are meant."""
    from faultree.journal import book, pace, trends
    from faultree.reports.trends_page import Trends

    since, until = given["since"], given["until"]
    if since and until and since > until:
        raise click.BadParameter(f"it ends ({until}) before it begins ({since})", param_hint="--since, --until")
    wanted = _of_aircraft(list(book.records(store)), given["aircraft"])
    records = _of_chapter(library, trends.within(wanted, since, until), given["chapter"])
    with waiting("Compiling charts to compare with"):
        paces = pace.paces(library, records, partial(_expected, library), most=MOST if given["charts"] else 0)
    return Trends(
        rule=f"{given['count']} within {given['window']} {given['unit']}",
        narrowed=tuple(_narrowed(given)),
        records=records,
        repeats=trends.repeats(records, given["count"], given["window"], given["unit"]),
        removals=trends.removals(records),
        loose=trends.without_tree(records),
        untold=trends.untold(records),
        paces=paces,
    )


def _narrowed(given: dict[str, Any]) -> Iterator[str]:
    """Which cases are looked at, in words; nothing where it is all of them."""
    if given["aircraft"]:
        yield f"aircraft {given['aircraft']}"
    if given["since"]:
        yield f"flights from {given['since']} on"
    if given["until"]:
        yield f"flights to {given['until']}"
    if given["chapter"]:
        yield f"symptoms of chapter {given['chapter']}"


def _of_aircraft(records: list[Record], name: str | None) -> list[Record]:
    """The cases of an aircraft, however its registration was typed; BadParameter where the journal knows none."""
    if not name:
        return records
    from faultree.journal.records import registration

    found = [one for one in records if registration(one.head.flight.aircraft) == registration(name)]
    if not found:
        known = sorted({one.head.flight.aircraft for one in records} - {""})
        named = f"; it knows {', '.join(known[:KNOWN])}{', ...' if len(known) > KNOWN else ''}" if known else ""
        raise click.BadParameter(f"the journal knows no aircraft '{name}'{named}", param_hint="--aircraft")
    return found


def _of_chapter(library: Library, records: tuple[Record, ...], chapter: str | None) -> tuple[Record, ...]:
    """The cases with a symptom of a chapter: 27 means all of it, 27-60 that part. BadParameter for an unknown one."""
    if not chapter:
        return records
    wanted = [system.id for system in library.systems.values() if f"{system.chapter}-".startswith(f"{chapter}-")]
    if not wanted:
        known = ", ".join(sorted({one.chapter for one in library.systems.values() if one.chapter}))
        raise click.BadParameter(f"no tree file is of chapter '{chapter}'; they are of {known}", param_hint="--chapter")
    return tuple(one for one in records if any(name.partition("/")[0] in wanted for name in one.symptoms))


def _expected(library: Library, symptom: str) -> Expected:
    from faultree.journal.pace import Expected
    from faultree.strategy.chart.compile import compile_chart

    chart = compile_chart(library, [symptom], "restore", None, LIMIT)
    return Expected(chart.expected_minutes, chart.lower_bound)


def _data(found: Trends) -> dict[str, object]:
    return {
        "cases": len(found.records),
        "narrowed": list(found.narrowed),
        "rule": found.rule,
        "invented": sum(one.invented for one in found.records),
        "repeats": [one._asdict() for one in found.repeats],
        "removals": [{**one._asdict(), "share_not_found": one.share_not_found} for one in found.removals],
        "paces": [
            {**one._asdict(), "expected": one.expected._asdict() if one.expected else None} for one in found.paces
        ],
        "without_tree": [{"words": words, "case": case} for words, case in found.loose],
        "untold": [one._asdict() for one in found.untold],
    }
