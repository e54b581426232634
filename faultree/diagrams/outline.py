"""A drawing as plain text: an outline with the symbols as signs, folded to a width."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable, Iterator, Sequence

from faultree.diagrams.drawing import Drawing
from faultree.diagrams.frame import NOTICE
from faultree.diagrams.metrics import clean
from faultree.diagrams.picture import Entry

_STATES = {"cleared": "-", "suspect": "?", "path": "*", "odd": "!"}

DEEP = 18
"""Deeper entries are not moved further right, so that words keep room."""


def outline(drawing: Drawing, width: int = 80) -> str:
    """The drawing as text, `width` columns wide: title, entries, meaning of the signs, and who decides."""
    head = textwrap.wrap(clean(drawing.title), width) or [""]
    head.append("=" * max(map(len, head)))
    lines = [part for line in drawing.lines for part in _hanging(line, width)]
    body = lines or list(_entries(drawing.plain.outline, width))
    signs = [line for text in drawing.signs for line in textwrap.wrap(text, width)]
    end = textwrap.wrap(NOTICE, width)
    return "\n".join([*head, "", *body, "", *signs, *end]) + "\n"


_KEY = re.compile(r"\s*(?:\d+|[a-z=])  (?=\S)")


def _hanging(line: str, width: int) -> list[str]:
    """A line of a key that is too long goes on below its words; others stay as they are."""
    sign = _KEY.match(line)
    if len(line) <= width or sign is None:
        return [line]
    return textwrap.wrap(line[sign.end() :], width, initial_indent=sign[0], subsequent_indent=" " * sign.end())


def _entries(entries: Sequence[Entry], width: int) -> Iterator[str]:
    last = _last(entries)
    open_levels: dict[int, bool] = {}
    for place, entry in enumerate(entries):
        open_levels[entry.depth] = not last[place]
        shown = min(entry.depth, DEEP)
        lead = "".join("|  " if open_levels.get(level) else "   " for level in range(1, shown))
        branch = "+- " if entry.depth else ""
        state = _STATES.get(entry.state, "")
        words = " ".join(one for one in (entry.mark, state, clean(entry.words)) if one)
        if entry.note:
            words += f" ({clean(entry.note)})"
        goes_on = place + 1 < len(entries) and entries[place + 1].depth > entry.depth
        rest = lead + ("|  " if entry.depth and not last[place] else "   " if entry.depth else "")
        rest += "|  " if goes_on and shown < DEEP else "   "
        yield from _folded(words, lead + branch, rest, width)


def _folded(words: str, first: str, rest: str, width: int) -> Iterable[str]:
    return textwrap.wrap(words, max(width, len(rest) + 20), initial_indent=first, subsequent_indent=rest) or [first]


def _last(entries: Sequence[Entry]) -> list[bool]:
    """For each entry whether no other of its level follows below the same parent."""
    found = [True] * len(entries)
    seen: dict[int, bool] = {}
    for place in range(len(entries) - 1, -1, -1):
        depth = entries[place].depth
        found[place] = not seen.get(depth, False)
        seen = {level: there for level, there in seen.items() if level <= depth}
        seen[depth] = True
    return found
