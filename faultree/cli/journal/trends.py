"""`faultree journal trends`: what the record of many cases shows."""

from __future__ import annotations

from typing import Any

import click

from faultree.cli.options import json_option, library_option, load_library, print_json, screen
from faultree.cli.practice.common import journal_option, open_journal


@click.command("trends")
@click.option("--count", type=click.IntRange(2), default=3, show_default=True, help="So many make a repeat defect.")
@click.option("--window", type=click.IntRange(1), default=15, show_default=True, help="Within so many days or flights.")
@click.option(
    "--unit", type=click.Choice(["days", "flights"]), default="days", show_default=True, help="What the window counts."
)
@click.option("--aircraft", metavar="NAME", help="Only cases of this aircraft.")
@click.option("--since", metavar="DAY", help="Only flights from this day on (2031-05-04).")
@click.option("--until", metavar="DAY", help="Only flights to this day.")
@click.option("--chapter", metavar="NUMBER", help="Only symptoms of this ATA chapter, as 27 or 27-60.")
@json_option
@journal_option
@library_option
def trends_command(as_json: bool, journal: str | None, folder: str | None, **given: Any) -> None:
    """Show repeat defects, removals without a fault, reports without a tree, and checks that nobody could answer.

    Count and window of a repeat defect belong to the operator.
    """  # fmt: skip
    from faultree.journal import book, trends

    library, store = load_library(folder), open_journal(journal)
    heads = book.heads(store, aircraft=given["aircraft"])
    records = trends.within([book.read(store, one.id) for one in reversed(heads)], given["since"], given["until"])
    if given["chapter"]:
        chapters = {name: library.systems[one.system].chapter for name, one in library.symptoms.items()}
        wanted = given["chapter"]
        records = tuple(
            one for one in records if any(chapters.get(name, "").startswith(wanted) for name in one.symptoms)
        )
    repeats = trends.repeats(records, given["count"], given["window"], given["unit"])
    removals, loose, untold = trends.removals(records), trends.without_tree(records), trends.untold(records)
    if as_json:
        print_json({
            "cases": len(records),
            "repeats": [one._asdict() for one in repeats],
            "removals": [{**one._asdict(), "share_not_found": one.share_not_found} for one in removals],
            "without_tree": [{"words": words, "case": case} for words, case in loose],
            "untold": [one._asdict() for one in untold],
        })  # fmt: skip
        return
    from faultree.terminal.journal_sheets import Rules, draw_trends

    shown = screen()
    rules = Rules(given["count"], given["window"], given["unit"])
    shown.show(draw_trends(library, len(records), rules, repeats, removals, loose, untold, shown.page))
