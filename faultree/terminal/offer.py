"""Offers the walks that were kept: one is taken up, discarded, or a new one is begun."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import Literal

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import listing, minutes
from faultree.terminal.kept import Kept
from faultree.terminal.lines import Lines
from faultree.terminal.look import Page, text, title
from faultree.terminal.meant import number
from faultree.terminal.parts import heading, rows
from faultree.terminal.pump import Screen

MOST = 5
"""So many kept walks are offered, the newest first."""

ASK = "Take up > "

NEW = ("new", "n", "no", "fresh", "begin")
LEAVE = ("quit", "q", "exit", "bye")

Chosen = Kept | Literal["new", "leave"]


def choose(found: Sequence[Kept], screen: Screen, lines: Lines, now: datetime) -> Chosen:
    """Ask which kept walk to take up; "new" for none of them, "leave" to end. All others are left for another time."""
    waiting = list(found)
    screen.show(draw_offer(waiting, screen.page, now))
    while True:
        line = lines.read(ASK)
        word = "quit" if line is None else " ".join(line.split()).casefold()
        if word in NEW or not waiting:
            return _leaving(waiting, "new")
        if word in LEAVE:
            return _leaving(waiting, "leave")
        first, _, rest = word.partition(" ")
        if first == "discard" and _numbered(rest, waiting) is not None:
            _discard(waiting, _numbered(rest, waiting) or 0, screen)
            if not waiting:
                return "new"
            screen.show(draw_offer(waiting, screen.page, now))
            continue
        chosen = _numbered(word, waiting)
        if chosen is not None:
            kept = waiting.pop(chosen)
            _leaving(waiting, "new")
            return kept
        screen.show(text("Type a number of the list, new, discard and a number, or quit.", "yellow"))


def _numbered(word: str, waiting: Sequence[Kept]) -> int | None:
    """The place behind a typed number."""
    shown = min(len(waiting), MOST)
    return number(word) - 1 if word.isdecimal() and 1 <= number(word) <= shown else None


def _leaving(waiting: Sequence[Kept], answer: Literal["new", "leave"]) -> Literal["new", "leave"]:
    for one in waiting:
        one.leave()
    return answer


def _discard(waiting: list[Kept], place: int, screen: Screen) -> None:
    try:
        waiting[place].discard()
    except OSError as error:
        screen.show(text(f"It cannot be put aside: {error.strerror or error}.", "yellow"))
        return
    screen.show(text(f"Discarded: {listing(waiting.pop(place).titles)}."))


def draw_offer(found: Sequence[Kept], page: Page, now: datetime) -> RenderableType:
    """The walks that are kept, with their steps and how long ago the last one was."""
    return Group(*_offer(found, page, now))


def _offer(found: Sequence[Kept], page: Page, now: datetime) -> Iterator[RenderableType]:
    yield heading("Kept from before" if len(found) > 1 else "A walk is kept from before", page)
    pairs = [
        (Text(f"{number:>2}", "bold"), Group(title(listing(one.titles), "bold"), text(_facts(one, now), "dim")))
        for number, one in enumerate(found[:MOST], 1)
    ]
    yield rows(pairs, first=2)
    if len(found) > MOST:
        yield text(f"and {len(found) - MOST} older ones in {found[0].path.parent}", "dim")
    yield Text("Type a number to take it up, new to begin anew, discard and a number, or quit.", "dim")


def _facts(one: Kept, now: datetime) -> str:
    steps = {0: "no step yet", 1: "1 step"}.get(one.steps, f"{one.steps} steps")
    saved = f"; saved in {one.saved.name} before that" if one.saved else ""
    return f"{steps}, {ago(one.at, now)}{saved}"


def ago(then: datetime | None, now: datetime) -> str:
    """How long ago something was.

    >>> from datetime import UTC, timedelta
    >>> now = datetime(2026, 3, 1, 12, tzinfo=UTC)
    >>> ago(now - timedelta(minutes=75), now), ago(now - timedelta(days=3), now), ago(None, now)
    ('75 min ago', '3 days ago', 'at an unknown time')
    """
    if then is None:
        return "at an unknown time"
    passed = (now - then).total_seconds() / 60
    days = int(passed // 1440)
    if days >= 2:
        return f"{days} days ago"
    return f"{minutes(passed)} ago" if passed >= 1 else "just now"
