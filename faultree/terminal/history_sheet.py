"""What history changed: the shares of a report's causes, by the author and with the journal's findings."""

from __future__ import annotations

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import percent
from faultree.strategy.learning import Learnt, Share
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import NARROW, indented
from faultree.walk import titles

MOST = 8
"""So many causes are listed."""

LEAST = 0.005
"""A share that moved by less is not worth a line, unless a finding confirms it."""


def draw_history(learnt: Learnt, page: Page) -> RenderableType:
    """That history is in use, from how many records, and each share before and after."""
    said = text(learnt.library.history, "yellow")
    moved = [one for one in learnt.shares if one.confirmed or abs(one.after - one.before) >= LEAST]
    if not (learnt.confirmed or learnt.not_found) or not moved:
        return said
    shown = sorted(moved, key=lambda one: -abs(one.after - one.before))[:MOST]
    parts: list[RenderableType] = [said, _table(learnt, shown, page)]
    if len(moved) > len(shown):
        parts.append(indented(text(f"and {len(moved) - len(shown)} more that moved less", "dim")))
    return Group(*parts)


def _table(learnt: Learnt, shares: list[Share], page: Page) -> RenderableType:
    if page.spoken or page.width < NARROW:
        return Group(*(indented(text(_sentence(learnt, one))) for one in shares))
    table = Table.grid(padding=(0, 2, 0, 0), expand=True)
    table.add_column(ratio=1, overflow="fold")
    for head in ("author", "with history", "confirmed"):
        table.add_column(head, justify="right", no_wrap=True)
    heads = ("share of the report's causes", "author", "with history", "confirmed")
    table.add_row(*(Text(one, "dim") for one in heads))
    for one in shares:
        name = title(titles.title(learnt.library, one.cause))
        table.add_row(name, percent(one.before), percent(one.after), f"{one.confirmed:.3g}")
    return indented(table)


def _sentence(learnt: Learnt, one: Share) -> str:
    name = titles.title(learnt.library, one.cause)
    return f"{name}: {percent(one.before)} by the author, {percent(one.after)} with history"
