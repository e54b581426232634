"""Draws a troubleshooting chart for the terminal and for paper: numbered steps, and where each answer leads."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import listing, percent
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import caution_rows, heading, indented, rows
from faultree.terminal.step_screen import WHO
from faultree.walk.chart_blocks import Block, ChartPage, EndBlock, StepBlock, Way
from faultree.walk.chart_page import open_words
from faultree.walk.prompt import SHORT_NOTICE

MARGIN = 4
"""The numbers stand in a margin of so many cells."""

LABEL = 10
"""The labels of facts take so many cells."""

OFTEN = 7
"""A probability takes so many cells."""


def draw_chart(shown: ChartPage, page: Page) -> RenderableType:
    """The whole chart: its head, then every number, then who decides."""
    blocks = (draw_block(block) for block in shown.blocks)
    return Group(*_head(shown, page), *blocks, "", Text(SHORT_NOTICE, "yellow"))


def _head(shown: ChartPage, page: Page) -> Iterator[RenderableType]:
    yield heading(f"Troubleshooting chart: {shown.title}", page)
    yield text(shown.proof, "bold")
    yield _facts(shown.facts, indent=2)
    yield ""
    yield Text("Reported", "bold")
    for one in shown.reported:
        yield indented(title(one.title, "bold"))
        yield _facts((("When", one.situation), ("Manual", one.manual), ("Note", one.note)), indent=4)
    yield ""
    yield Text(shown.notice, "yellow")
    for system, authority in shown.authorities:
        yield text(f"{system}: {authority}")
    if shown.scale:
        yield text(shown.scale, "dim")
    yield ""
    yield from (text(one) for one in shown.use)


FORM = (
    "Aircraft and date",
    "Steps and answers",
    "",
    "Found",
    "Work done, or approved data used",
    "Still to be undone: locks, pins, tags, panels",
    "Handed over to",
    "Name, signature, certificate number and kind",
)
"""What is filled in by hand on paper; an empty line goes on with the one above."""


def draw_form(digest: str, page: Page) -> RenderableType:
    """What follows a chart on paper: lines to fill in for the hand-over, and the tree files that it came from."""
    lines = (text(_to_fill(words, page.width)) for words in FORM)
    origin = f"Compiled from the tree files {digest[:12]}; where they have changed since, compile the chart anew."
    return Group("", heading("To hand over, filled in by hand", page), *lines, "", text(origin, "dim"))


def _to_fill(words: str, width: int) -> str:
    """Words and a line to write on, to the right edge."""
    lead = f"{words} " if words else ""
    return lead + "_" * max(width - len(lead), 8)


def draw_block(block: Block) -> RenderableType:
    """One numbered step or end, with an empty line above it."""
    body = _step(block) if isinstance(block, StepBlock) else _end(block)
    return Group("", _numbered(block), *(indented(part, MARGIN) for part in body))


def _numbered(block: Block) -> RenderableType:
    """The number, the title, and how one comes here."""
    if isinstance(block, StepBlock):
        name = Text.assemble("Put right: " if block.replaces else "Check: ", text(block.title), style="bold")
    else:
        name = Text.assemble("End. ", title(block.headline), style="bold")
    return rows([(Text(str(block.number), "bold"), name)], first=MARGIN - 1, indent=0)


def _step(block: StepBlock) -> Iterator[RenderableType]:
    yield text(f"{block.takes}; {WHO[block.by]}{_from(block)}", "dim")
    if block.cautions:
        yield caution_rows(block.cautions)
    yield _facts(block.facts, indent=0)
    if block.open.named:
        yield _facts([("Suspects", open_words(block.open))], indent=0)
    yield text(block.ask, "bold")
    yield _ways(block.ways)
    if block.never:
        known = "the report and the answers so far" if block.come_from else "the report"
        yield text(f"Not listed, because it would contradict {known}: {listing(block.never)}.", "dim")


def _from(block: Block) -> str:
    if not block.come_from:
        return ""
    return f"; from {listing(map(str, block.come_from))}, {percent(block.probability)} of cases"


def _ways(ways: Iterable[Way]) -> RenderableType:
    """Each answer with its probability and where to go."""
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(ratio=1, overflow="fold")
    table.add_column(width=OFTEN, justify="right")
    table.add_column(ratio=1, overflow="fold")
    for one in ways:
        table.add_row(title(one.text), Text(percent(one.probability), "dim"), _target(one))
    return indented(table)


def _target(way: Way) -> Text:
    if way.to is None:
        return text(f"leave the chart{f'; {way.found}' if way.found else ''}")
    return Text.assemble("go to ", (str(way.to), "bold"), text(f", {way.found}" if way.found else ""))


def _end(block: EndBlock) -> Iterator[RenderableType]:
    if block.come_from:
        yield text(_from(block).removeprefix("; ").capitalize(), "dim")
    yield _facts(block.facts, indent=0)
    if block.cautions:
        yield caution_rows(block.cautions)
    last = [("Do", block.do)]
    last += [("Afterwards" if place == 0 else "", one) for place, one in enumerate(block.afterwards)]
    yield _facts([*last, ("Hand over", block.handover)], indent=0)


def _facts(pairs: Iterable[tuple[str, str]], indent: int) -> RenderableType:
    """Labels and words, without what is empty."""
    shown = ((Text(label, "dim"), title(words)) for label, words in pairs if words)
    return rows(shown, first=LABEL, indent=indent)
