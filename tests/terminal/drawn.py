"""Screens recorded as text, for the tests of the terminal."""

from __future__ import annotations

import io
import re
import unicodedata
from collections.abc import Iterable, Mapping
from pathlib import Path

from rich.console import RenderableType

from faultree.terminal.look import Look
from faultree.terminal.pump import Screen, Session
from faultree.walk.machine import start
from faultree.walk.state import Walk
from tests.walk.small import DARK, small


class Script:
    """Lines as if typed; `ctrl-c` stands for that key, and the end of the list for the end of input."""

    def __init__(self, lines: Iterable[str], *, by_hand: bool = True) -> None:
        self.lines = iter(lines)
        self.by_hand = by_hand

    def read(self, ask: str) -> str | None:
        """The next line."""
        del ask
        line = next(self.lines, None)
        if line == "ctrl-c":
            raise KeyboardInterrupt
        return line


def session(
    *lines: str, width: int = 80, plain: bool = True, by_hand: bool = True, walk: Walk | None = None
) -> tuple[Session, io.StringIO]:
    """A session over the small library on a recorded screen, and the record."""
    record = io.StringIO()
    screen = Screen(record, Look(plain, width))
    return Session(walk or start(small()), screen, Script(lines, by_hand=by_hand)), record


def shown(*lines: str, width: int = 80, plain: bool = True, symptom: str | None = DARK) -> str:
    """Everything shown while these lines are typed, the case on `symptom` open."""
    made, record = session(*lines, width=width, plain=plain)
    if symptom:
        made.begin([symptom])
    made.run()
    return record.getvalue()


def as_shown(*parts: RenderableType, width: int = 80, plain: bool = True) -> str:
    """Parts as a screen of this width shows them, without escape codes."""
    record = io.StringIO()
    Screen(record, Look(plain, width)).show(*parts)
    return unstyled(record.getvalue())


def unstyled(text: str) -> str:
    """A text without escape codes."""
    return re.sub(r"\x1b\[[0-9;]*m", "", text)


def cells(line: str) -> int:
    """The cells that a line takes on a screen."""
    return sum(2 if unicodedata.east_asian_width(sign) in "WF" else 1 for sign in unstyled(line))


def files_in(folder: Path) -> Mapping[str, str]:
    """The files of a folder with their texts."""
    return {path.name: path.read_text(encoding="utf-8") for path in folder.iterdir()}
