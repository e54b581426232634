"""How a stream can be written to: width, colour, and which signs it can show."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TextIO

from rich.console import Console, detect_legacy_windows
from rich.text import Text

from faultree.base.words import capital

WIDEST = 120
"""Lines longer than this are hard to read, however wide the window."""

NARROWEST = 40
"""Below this a window is treated as if it were this wide; it folds lines by itself."""

PIPED = 80
"""The width where there is no window to measure."""

SPOKEN = "FAULTREE_PLAIN"
"""The environment variable that asks for text that can be read aloud."""

_SIGNS = "█▏▲▼─"

FIRM_SPACE = "\ue000"
"""Stands between a number and its unit while lines are wrapped; `showable` makes it an ordinary space.

A sign for private use, as rich breaks lines at a no-break space too.
"""

_UNIT = re.compile(r"(?<=\d) (?=(?:%|min|h)(?!\w))")

_PLAIN_FORMS = str.maketrans(
    {"“": '"', "”": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "…": "...", "≥": ">=", "≤": "<=", "×": "x", "→": "->"}
)


@dataclass(frozen=True, slots=True)
class Look:
    """What a stream can show. `plain` means no colour, lines and bars of ASCII signs.

    `spoken` is for a screen reader: it is plain, and has no lines, bars and columns at all.
    """

    plain: bool = True
    width: int | None = None
    spoken: bool = False


def look_of(stream: TextIO, environ: Mapping[str, str]) -> Look:
    """The look of a stream: plain where it is no terminal, is dumb, cannot show the signs, or NO_COLOR is set.

    It is spoken where FAULTREE_PLAIN is set, and on a terminal that is dumb.
    """
    terminal = stream.isatty()
    spoken = bool(environ.get(SPOKEN)) or (terminal and environ.get("TERM") == "dumb")
    wished = bool(environ.get("NO_COLOR")) or environ.get("TERM") == "dumb" or spoken
    plain = not terminal or wished or detect_legacy_windows() or not _shows_signs(stream)
    return Look(plain, None if terminal else _columns(environ), spoken)


def _shows_signs(stream: TextIO) -> bool:
    try:
        _SIGNS.encode(getattr(stream, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True


def showable(words: str, stream: TextIO) -> str:
    """The words with signs that the stream can encode: typographic ones are put in plain form where it cannot."""
    words = words.replace(FIRM_SPACE, " ")
    try:
        words.encode(getattr(stream, "encoding", None) or "utf-8")
    except (UnicodeEncodeError, LookupError):
        return words.translate(_PLAIN_FORMS)
    return words


def _columns(environ: Mapping[str, str]) -> int:
    given = environ.get("COLUMNS", "")
    return int(given) if given.isascii() and given.isdigit() and 0 < int(given) < 10_000 else PIPED


class _Console(Console):
    """A console that leaves a broken pipe to whoever started the command."""

    def on_broken_pipe(self) -> None:
        """Pass the error on; rich would leave the process with code 1."""
        raise BrokenPipeError


def console(stream: TextIO, look: Look) -> Console:
    """A rich console with this look; without colour it writes no escape codes at all."""
    made = _Console(
        file=stream,
        color_system=None if look.plain else "auto",
        force_terminal=False if look.plain else None,
        width=look.width,
        markup=False,
        highlight=False,
        emoji=False,
        soft_wrap=False,
    )
    made.width = max(NARROWEST, min(WIDEST, made.width))
    return made


@dataclass(frozen=True, slots=True)
class Page:
    """What a screen is drawn for: cells in a line, whether more than plain letters can be used, and who reads it.

    `height` is the number of lines of the window; None where there is none.
    """

    width: int
    plain: bool
    spoken: bool = False
    height: int | None = None

    @property
    def wide(self) -> bool:
        """True where there is room for longer bars and a second suspect beside an answer."""
        return self.width >= 100


def text(words: str, style: str = "") -> Text:
    r"""Author's or user's words as rich text on one line: never read as markup, control signs made harmless.

    >>> text("[/b] one\n  two\x1b[2J").plain
    '[/b] one two?[2J'
    """
    line = _UNIT.sub(FIRM_SPACE, re.sub(r"\s+", " ", words))
    return Text("".join("?" if _harmful(sign) else sign for sign in line), style)


def title(words: str, style: str = "") -> Text:
    """A title at the beginning of a line: as the author wrote it, but with a capital letter.

    >>> title("iron pump worn").plain
    'Iron pump worn'
    """
    return text(capital(words), style)


def _harmful(sign: str) -> bool:
    """A control sign, or one that turns the direction of what follows it."""
    return unicodedata.category(sign) == "Cc" or "\u202a" <= sign <= "\u202e" or "\u2066" <= sign <= "\u2069"
