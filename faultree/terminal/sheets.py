"""Results that are shown in one go: the greeting, and the ranking of a case."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import listing, minutes, percent
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import LEADS, NARROW, TAKES, heading, indented, joined, rows, suspect_table
from faultree.walk import cautions, judge, titles
from faultree.walk.prompt import NOTICE, SHORT_NOTICE
from faultree.walk.scale import scale
from faultree.walk.state import Pending, RepairStep
from faultree.walk.suspects import leading
from faultree.walk.today import ANY

SUSPECTS = 10
"""So many suspects are listed."""

STEPS = 5
"""So many next steps are listed."""


COLUMNS = ("takes", "until fixed", "tells")
"""The figures of a step: its own time, the average time to restoration if it is done next, what it tells."""


def draw_greeting(library: Library, folder: str, page: Page) -> RenderableType:
    """What the library knows, and how to begin."""
    return Group(*_greeting(library, folder, page))


def _greeting(library: Library, folder: str, page: Page) -> Iterator[RenderableType]:
    yield heading("Find a fault, check by check", page)
    yield text(f"Reports that can be looked up in {folder}:")
    longest = max((len(name) for name in library.symptoms), default=0)
    for system in library.systems.values():
        own = [one for one in library.symptoms.values() if one.system == system.id]
        if own:
            yield ""
            yield Text.assemble(text(system.title, "bold"), text(f"  {system.chapter}", "dim"))
            yield rows(((text(one.id), title(one.title)) for one in own), first=min(longest, page.width // 2))
    if library.symptoms:
        yield ""
        yield Text("To begin", "bold")
        # Each command on a line of its own, whole: it is there to be typed as it stands.
        for command, does in (
            ("faultree walk", "choose a report, then go from check to check"),
            (f"faultree walk {next(iter(library.symptoms))}", "the same for this report"),
            ("faultree --help", "everything else"),
        ):
            yield indented(Text(command))
            yield indented(Text(does, "dim"), by=6)
    yield ""
    yield Text(SHORT_NOTICE, "yellow")


def draw_ranking(case: Case, page: Page) -> RenderableType:
    """The suspects, faults that act together, and the next steps of a case."""
    return Group(*_ranking(case, page))


def _ranking(case: Case, page: Page) -> Iterator[RenderableType]:
    library = case.library
    yield heading(listing(library.symptoms[name].title for name in case.symptoms), page)
    for step in case.steps:
        yield text(f"Answer: {titles.sentence(library, step)}")
    yield Text("Suspects", "bold")
    yield suspect_table(leading(case, SUSPECTS), page, letters=False)
    yield ""
    yield Text("What to do next", "bold")
    yield _steps(case, page)
    yield text(TAKES, "dim")
    yield text("Until fixed: the average time to restoration if this is done next.", "dim")
    if scale(case):
        yield ""
        yield text(scale(case), "dim")
    yield ""
    yield Text(NOTICE, "yellow")


def _steps(case: Case, page: Page) -> RenderableType:
    """The best next steps with their figures in columns, or in words where there is no room or nobody to see them."""
    figures = list(_figures(case))
    if page.spoken or page.width < NARROW:
        words = (f"takes {takes}, {until} until fixed, {tells}" for _, takes, until, tells in figures)
        return Group(*map(joined, zip((name for name, *_ in figures), words, strict=True)))
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(ratio=1, overflow="fold")
    for name in COLUMNS:
        table.add_column(name, justify="right", no_wrap=True)
    table.add_row("", *(Text(name, "dim") for name in COLUMNS))
    for row in figures:
        table.add_row(*row)
    return indented(table)


def _figures(case: Case) -> Iterator[tuple[Text, str, str, str]]:
    """The best next steps: what to do, its own time, the time until all is well, and what it tells."""
    units = {unit.unit: unit.probability for unit in case.units()}
    for one in islice(judge.sensible(case, ANY, quick=True), STEPS):
        tells = f"{one.bits:.2f} bit" if one.check else f"{percent(units.get(one.item or '', 0.0))} likely"
        yield _named(case, judge.step_of(one)), minutes(one.minutes), minutes(one.expected_minutes), tells


def _named(case: Case, pending: Pending) -> Text:
    if isinstance(pending, RepairStep):
        name = f"{LEADS['replace']}{titles.unit_title(case.library, pending.unit)}"
    else:
        name = f"{LEADS['check']}{case.library.checks[pending.check].title}"
    return text(name + (" (cautions apply)" if cautions.before(case, pending) else ""))
