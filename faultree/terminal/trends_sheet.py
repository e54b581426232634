"""The sheet of trends: what the record of many cases shows, the worst first."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import minutes
from faultree.journal.pace import Pace
from faultree.journal.trends import Repeat
from faultree.library.model import Library
from faultree.reports.trends_page import COMPARED, COUNTED, NO_FAULT, Trends, faulty, share
from faultree.terminal.look import Page, text
from faultree.terminal.parts import heading, indented, rows
from faultree.walk.titles import title as name_of

MOST = 12
"""So many rows of a trend are listed."""


def draw_trends(library: Library, trends: Trends, page: Page, most: int | None = MOST) -> RenderableType:
    """Every trend, the worst first; `most` rows of each, all where it is None."""
    cases = len(trends.records)
    parts: list[RenderableType] = [heading("Trends", page, f"{cases} case{'' if cases == 1 else 's'}")]
    if trends.narrowed:
        parts.append(text(f"Only {'; '.join(trends.narrowed)}."))
    invented = sum(one.invented for one in trends.records)
    if invented:
        said = "1 of them is" if invented == 1 else f"{invented} of them are"
        parts.append(text(f"{said} invented for demonstration: no such airline or aircraft exists.", "yellow"))
    for title, lines in _listed(library, trends):
        parts += _part(title, lines, most)
    if any(one.expected for one in trends.paces):
        parts.append(text(COMPARED, "dim"))
    return Group(*parts, text(COUNTED, "dim"))


def _listed(library: Library, trends: Trends) -> list[tuple[str, list[str]]]:
    """Each trend with its lines."""
    return [
        (f"Repeat defects: {trends.rule}", [_repeat(library, one) for one in trends.repeats]),
        (NO_FAULT, [f"{name_of(library, one.unit)}: {share(one)}" for one in trends.removals if one.not_found]),
        (
            "Mean minutes until the symptom was gone, and what a chart takes",
            [_pace(library, one) for one in trends.paces],
        ),
        ("Reports that no symptom fits", [f"“{words}” (case {case})" for words, case in trends.loose]),
        (
            "Checks that could not be answered",
            [f"{name_of(library, one.check)}: {one.untold} of {one.made} times" for one in trends.untold],
        ),
    ]


def _part(title: str, lines: Sequence[str], most: int | None) -> list[RenderableType]:
    shown: list[RenderableType] = [Text(title, "bold")]
    shown += [rows([("-", text(one))], first=1) for one in lines[:most]] or [indented(Text("none"))]
    if most is not None and len(lines) > most:
        shown.append(indented(text(f"and {len(lines) - most} more; --all lists them", "dim")))
    return shown


def _repeat(library: Library, one: Repeat) -> str:
    cases = ", ".join(map(str, one.cases))
    units = f"; at fault in them: {faulty(library, one)}" if one.units else ""
    times = f"{len(one.cases)} times from {one.first} to {one.last} (cases {cases})"
    return f"{one.aircraft}: {name_of(library, one.what)}, {times}{units}"


def _pace(library: Library, one: Pace) -> str:
    times = f"{one.cases} case{'' if one.cases == 1 else 's'}"
    chart = "no chart compiled"
    if one.expected is not None:
        chart = f"the chart {minutes(one.expected.minutes)} (none below {minutes(one.expected.least)})"
    return f"{name_of(library, one.symptom)}: {minutes(one.mean)} in {times}; {chart}"
