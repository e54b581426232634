"""Lists of checks and parts in an exercise: numbered, and only as much at once as the window holds.

Nothing is drawn over: what does not fit is asked for with a word, and stands below what was shown before.
"""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import minutes
from faultree.practice.view import Option
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import TAKES, heading, indented

AROUND = 9
"""Lines that a list leaves free: for its heading, what stands below it, and the place to type."""

LEAST = 5
"""So many rows are shown however low the window is."""

BESIDE = 18
"""Cells beside a title: its indent, its number, its minutes and what parts them."""


def draw_options(options: Sequence[Option], head: str, page: Page, *, start: int = 0) -> RenderableType:
    """A numbered list of checks or parts, from one of them on as far as the window reaches."""
    if not options:
        return text(f"{head}: none.")
    shown = fitting(options, page, start)
    left = len(options) - start - len(shown)
    part = f", {start + 1} to {start + len(shown)} of {len(options)}" if len(shown) < len(options) else ""
    numbered = list(enumerate(shown, start + 1))
    if page.spoken:
        body: list[RenderableType] = [
            Text.assemble(f"{number}: ", _label(one), f", {minutes(one.minutes)}") for number, one in numbered
        ]
    else:
        table = Table.grid(padding=(0, 1, 0, 0), expand=True)
        table.add_column(width=3, justify="right")
        table.add_column(ratio=1, overflow="fold")
        table.add_column(width=10, justify="right")
        for number, one in numbered:
            table.add_row(Text(str(number), "bold"), _label(one), minutes(one.minutes))
        body = [indented(table)]
    say = f"{left} more: type more for them, or checks or parts and some words to shorten the list."
    more = [text(say)] if left else []
    return Group(heading(f"{head}{part}", page), *body, *more, text(f"{TAKES} A number makes that step.", "dim"))


def fitting(options: Sequence[Option], page: Page, start: int) -> Sequence[Option]:
    """The options from one on that the window holds; all of them where there is no window."""
    rest = options[start:]
    if page.height is None:
        return rest
    room, used = page.height - AROUND, 0
    for count, one in enumerate(rest):
        used += len(wrap(_label(one).plain, max(page.width - BESIDE, 20))) or 1
        if used > room and count >= LEAST:
            return rest[:count]
    return rest


def _label(one: Option) -> Text:
    """A title, and behind it who can do it and what comes before it."""
    extra = [one.place] if one.place else []
    extra += [f"by {one.by}"] if one.by != "line" else []
    extra += ["cautions apply"] if one.cautions else []
    return Text.assemble(title(one.title), text(f" ({', '.join(extra)})" if extra else "", "dim"))
