"""Draws a comparison of a chart with other courses of action."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import minutes, percent
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import heading, indented, rows
from faultree.walk.chart_against import OURS, AgainstPage, CourseLine, PartsLine
from faultree.walk.chart_head import mean

COLUMNS = ("expected", "at worst", "checks", "left open")


def draw_against(shown: AgainstPage, page: Page) -> RenderableType:
    """The figures of every course, then where each parts from the chart."""
    parts = (part for one in shown.parts for part in _parts(one))
    return Group("", heading("Beside other courses of action", page), _figures(shown), *parts)


def _figures(shown: AgainstPage) -> RenderableType:
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(ratio=1, overflow="fold")
    for name in COLUMNS:
        table.add_column(name, justify="right", no_wrap=True)
    table.add_row("", *(Text(name, "dim") for name in COLUMNS))
    for one in shown.courses:
        table.add_row(*_course(one, max(other.worst for other in shown.courses)))
    said = "Left open: the course ends in so many cases while several things could still be at fault."
    return Group(indented(table), indented(text(said, "dim")))


def _course(one: CourseLine, worst: float) -> tuple[Text, ...]:
    """The row of a course; `worst` is the most that stands in the table."""
    return (
        title(one.name, "bold") if one.name == OURS else text(one.name),
        text(mean(one.expected, worst)),
        text(minutes(one.worst)),
        text(f"{one.checks:.1f}"),
        text(percent(one.open)),
    )


def _parts(one: PartsLine) -> Iterator[RenderableType]:
    yield ""
    if not one.places:
        yield text(f"The other ({one.name}) does the same as this chart.", "bold")
        return
    yield text(f"Where {one.name} parts from this chart", "bold")
    for way, ours, theirs in one.places:
        yield indented(text(f"{way}:"))
        yield rows((("this chart", title(ours)), ("the other", title(theirs))), first=10, indent=4)
    if one.more:
        yield indented(text(f"and in {one.more} more place{'' if one.more == 1 else 's'}", "dim"))
