"""Messages within the window: a terminal breaks a long line in the middle of a word, so it is broken before."""

from __future__ import annotations

import shutil
import textwrap
from typing import TextIO

WIDEST, NARROWEST = 120, 40
"""Lines are not made longer than this, nor shorter, however wide the window."""


def fitted(words: str, stream: TextIO) -> str:
    """The words with their lines broken for the window of a terminal; as they are where the stream is none."""
    if not stream.isatty():
        return words
    width = max(NARROWEST, min(WIDEST, shutil.get_terminal_size().columns))
    return "\n".join(_broken(line, width) for line in words.split("\n"))


def _broken(line: str, width: int) -> str:
    """One line, broken between words; what follows is moved as far in as the line was."""
    if len(line) <= width:
        return line
    lead = line[: len(line) - len(line.lstrip(" "))]
    return textwrap.fill(line, width, subsequent_indent=lead, break_long_words=False, break_on_hyphens=False)
