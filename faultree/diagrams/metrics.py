"""How wide a text is, so wide that no usual sans-serif face needs more, and how it is broken into lines."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_GROUPS: dict[int, str] = {
    280: "ijl'",
    320: " !,.:;I\\",
    400: "()[]Jfrt/|-",
    470: '"`^',
    530: "?csz_*",
    640: "0123456789abdeghknopquvxyLFTZY{}$",
    700: "ABCEKPRSUVX",
    790: "&DGHNOQw~",
    840: "+<=>#≥≤×→←·",
    990: "%@mMW—…",
}
"""Widths in thousandths of the type size: DejaVu Sans, the widest of the usual faces, rounded up (measured)."""

_WIDTH = {sign: width / 1000 for width, signs in _GROUPS.items() for sign in signs}

BOLD = 1.16
"""Bold letters are wider by this factor, measured on a text of titles."""

FIRM = "\u00a0"
"""A space at which no line is broken."""

_UNIT = re.compile(r"(?<=\d) (?=(?:%|min|h|V|kt|ft)(?!\w))")

LEADING = 1.28
"""From one line to the next, in type sizes."""


@lru_cache(maxsize=4096)
def _sign(sign: str) -> float:
    found = _WIDTH.get(sign)
    if found is not None:
        return found
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Cf", "Mn", "Me"):
        return 0.0
    if unicodedata.east_asian_width(sign) in "WF":
        return 1.05
    return 0.85 if ord(sign) < 0x2000 else 1.0


def width(text: str, size: float, *, bold: bool = False) -> float:
    """The room that a text needs on one line, in points.

    >>> 20 < width("Pump worn", 8) < 60
    True
    """
    return sum(_sign(sign) for sign in text) * size * (BOLD if bold else 1.0)


def clean(text: str) -> str:
    r"""An author's words on one line: signs that control a screen or turn the direction of text become spaces.

    >>> clean("a\n  b\x1b\u202e c")
    'a b c'
    """
    kept = "".join(" " if _harmful(sign) else sign for sign in text)
    return " ".join(kept.split())


def _harmful(sign: str) -> bool:
    """A control sign, a half of a pair, no character at all, or one that turns the direction of what follows."""
    turns = "\u202a" <= sign <= "\u202e" or "\u2066" <= sign <= "\u2069"
    return turns or unicodedata.category(sign) in ("Cc", "Cs", "Cn", "Co", "Zl", "Zp")


def wrap(
    text: str, room: float, size: float, *, bold: bool = False, most: int = 8, even: bool = True
) -> tuple[str, ...]:
    """The lines of a text within some width in points, at most `most`; `even` makes them about equally long.

    A word that is wider than a line is broken. Where more lines would be needed, the last ends in an ellipsis.

    >>> wrap("Left wheel-speed sensor dead", 60, 8)
    ('Left wheel-', 'speed', 'sensor dead')
    """
    pieces = _pieces(_UNIT.sub(FIRM, clean(text)), room, size, bold)
    if not pieces:
        return ()
    lines = _fill(pieces, room, size, bold)
    if even and 1 < len(lines) <= most:
        lines = _even(pieces, lines, room, size, bold)
    if len(lines) > most:
        lines = [*lines[: most - 1], _cut(lines[most - 1], room, size, bold)]
    return tuple(line.replace(FIRM, " ") for line in lines)


def _pieces(text: str, room: float, size: float, bold: bool) -> list[str]:
    """Words, with a hyphen or dash inside a word as a place to break, and no piece wider than a line."""
    found: list[str] = []
    for word in text.split(" "):
        parts = _at_hyphens(word)
        for place, part in enumerate(parts):
            glue = "" if place else " "
            for number, bit in enumerate(_chop(part, room, size, bold)):
                found.append(bit if number else glue + bit)
    return [piece for piece in found if piece.strip()]


def _at_hyphens(word: str) -> list[str]:
    parts = word.replace("/", "/\0").replace("-", "-\0").split("\0")
    return [part for part in parts if part] if all(len(part) > 2 for part in parts) else [word]


def _chop(word: str, room: float, size: float, bold: bool) -> list[str]:
    """A word in parts that each fit on a line."""
    parts, now = [], ""
    for sign in word:
        if now and width(now + sign, size, bold=bold) > room:
            parts.append(now)
            now = ""
        now += sign
    return [*parts, now]


def _fill(pieces: list[str], room: float, size: float, bold: bool) -> list[str]:
    lines: list[str] = []
    for piece in pieces:
        if lines and width(lines[-1] + piece, size, bold=bold) <= room:
            lines[-1] += piece
        else:
            lines.append(piece.lstrip(" "))
    return lines


def _even(pieces: list[str], lines: list[str], room: float, size: float, bold: bool) -> list[str]:
    """The same number of lines in the least width that holds them, so that no word stands alone at the end."""
    low, high = room / 3, room
    while high - low > room / 40:
        middle = (low + high) / 2
        tried = _fill(pieces, middle, size, bold)
        fits = len(tried) == len(lines) and all(width(line, size, bold=bold) <= middle for line in tried)
        low, high = (low, middle) if fits else (middle, high)
    return _fill(pieces, high, size, bold)


def _cut(line: str, room: float, size: float, bold: bool) -> str:
    while line and width(line + "…", size, bold=bold) > room:
        line = line[:-1]
    return line.rstrip() + "…"
