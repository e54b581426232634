"""What takes long says so, and only to a person."""

from __future__ import annotations

import io
from collections.abc import Mapping
from threading import Event

import pytest

from faultree.terminal.progress import Waiting
from tests.terminal.drawn import unstyled


class _Shown(io.StringIO):
    """A stream that is a terminal, or is none, and tells when something is written to it."""

    def __init__(self, *, terminal: bool = True, encoding: str = "utf-8") -> None:
        super().__init__()
        self.terminal = terminal
        self.named = encoding
        self.written = Event()

    @property
    def encoding(self) -> str:  # type: ignore[override]  # a stream in memory has none
        return self.named

    def isatty(self) -> bool:
        return self.terminal

    def write(self, text: str) -> int:
        self.written.set()
        return super().write(text)


def _waited(stream: _Shown, environ: Mapping[str, str], after: float = 0.0) -> str:
    """What is shown while something is waited for that says how far it is."""
    with Waiting("Reading", stream, {"TERM": "xterm", **environ}, after) as at:
        if after == 0.0 and stream.terminal:
            assert stream.written.wait(10)
        at("Rule two", 2, 4)
    return stream.getvalue()


def test_a_bar_on_a_terminal_that_is_gone_afterwards() -> None:
    """It names what is at hand, and its line is wiped."""
    shown = _waited(_Shown(), {"COLORTERM": "truecolor"})
    assert "Rule two" in unstyled(shown)
    assert "\x1b[2K" in shown.rpartition("Rule two")[2]
    assert shown.rindex("\x1b[?25h") > shown.rindex("\x1b[?25l")  # the cursor is back


@pytest.mark.parametrize("environ", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_a_line_where_there_is_no_bar(environ: dict[str, str]) -> None:
    """A screen reader would read a bar again and again; a line is read once."""
    assert _waited(_Shown(), environ) == "Reading; please wait.\n"


def test_a_line_where_the_signs_of_a_bar_cannot_be_shown() -> None:
    assert _waited(_Shown(encoding="cp1252"), {}) == "Reading; please wait.\n"


def test_nothing_in_a_file_or_a_pipe() -> None:
    """What is written there is read by programs."""
    assert _waited(_Shown(terminal=False), {}) == ""


def test_nothing_in_the_first_second() -> None:
    """Most work is done by then, and what comes and goes at once is noise."""
    assert _waited(_Shown(), {}, after=60.0) == ""


def test_an_error_ends_the_bar() -> None:
    """Whatever goes wrong, the cursor is back before it is said."""
    stream = _Shown()

    def interrupted() -> None:
        with Waiting("Reading", stream, {"TERM": "xterm"}, 0.0):
            assert stream.written.wait(10)
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        interrupted()
    assert stream.getvalue().endswith(("\x1b[?25h", "\x1b[2K"))
