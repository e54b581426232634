"""`faultree analyse`: which faults cause a symptom, what matters most, and what the checks can tell apart."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import TYPE_CHECKING

import click

from faultree.cli import complete
from faultree.cli.options import json_option, library_option, load_library, print_json, screen, symptom_ids, waiting

if TYPE_CHECKING:
    from faultree.library.model import Who
    from faultree.strategy.analysis import Analysis


@click.command("analyse")
@click.argument("symptom", shell_complete=complete.symptoms)
@click.option("--by", multiple=True, type=click.Choice(["crew", "line", "shop"]), help="Only checks of these.")
@click.option("--max-order", type=click.IntRange(1), metavar="N", help="Only sets of up to N faults.")
@click.option(
    "--least-probability",
    type=click.FloatRange(0.0, 1.0),
    metavar="P",
    help="Only sets of faults whose probability is P or more.",
)
@click.option("--all", "everything", is_flag=True, help="Cut no table short.")
@json_option
@library_option
def command(
    symptom: str,
    by: tuple[Who, ...],
    max_order: int | None,
    least_probability: float | None,
    everything: bool,
    as_json: bool,
    folder: str | None,
) -> None:
    """Show the faults behind a symptom, and what the checks can tell apart.

    For whoever draws a system or reviews a tree: fault sets, importance, ambiguity groups.
    """
    with waiting("Working the analysis out") as at:
        library = load_library(folder)
        (name,) = symptom_ids(library, [symptom])
        from faultree.strategy.analysis import STAGES, analyse

        stage = count()
        found = analyse(
            library,
            name,
            by or None,
            max_order=max_order,
            least_probability=least_probability,
            tell=lambda words: at(words, next(stage), STAGES),
        )
        show = _plain(found) if as_json else _sheet(found, everything=everything)
    show()


def _plain(found: Analysis) -> Callable[[], None]:
    """What writes the analysis as data; by then it is worked out."""
    made = data(found)
    return lambda: print_json(made)


def _sheet(found: Analysis, *, everything: bool) -> Callable[[], None]:
    """What writes the analysis for a person to read."""
    from faultree.terminal.analysis_sheet import draw_analysis
    from faultree.walk.analysis_page import page_of

    shown = screen()
    sheet = draw_analysis(page_of(found, everything=everything), shown.page)
    return lambda: shown.show(sheet)


def data(found: Analysis) -> dict[str, object]:
    """The analysis as plain data with the field names of the Python values."""
    from faultree.walk.prompt import NOTICE

    return {**found.to_dict(), "notice": NOTICE}
