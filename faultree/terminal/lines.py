"""Where typed lines come from: a terminal, or lines of a pipe that are shown as if they had been typed."""

from __future__ import annotations

from contextlib import suppress
from typing import Protocol, TextIO

LONGEST = 4000
"""Signs of a line that are read; more was not typed by hand."""


class Lines(Protocol):
    """A source of typed lines."""

    by_hand: bool

    def read(self, ask: str) -> str | None:
        """The next line after asking for it; None at the end of input. Raises KeyboardInterrupt."""


class Typed:
    """Lines typed at a terminal, with the line editing that Python offers there."""

    by_hand = True

    def __init__(self) -> None:
        with suppress(ImportError):
            # Loading it is all that `input` needs to edit lines and to remember them.
            import readline  # noqa: F401

    def read(self, ask: str) -> str | None:
        """The line typed; None where the person ended the input."""
        try:
            return input(ask)[:LONGEST]
        except EOFError:
            print()  # noqa: T201 - the cursor still stands behind the question
            return None


class Piped:
    """Lines of a stream; each is written to the output behind the question it answers."""

    by_hand = False

    def __init__(self, source: TextIO, output: TextIO) -> None:
        self.source = source
        self.output = output

    def read(self, ask: str) -> str | None:
        """The next line of the stream; None at its end."""
        line = self.source.readline()
        if not line:
            return None
        line = "".join(sign if sign.isprintable() else " " for sign in line[:LONGEST]).strip()
        self.output.write(f"{ask}{line}\n")
        self.output.flush()
        return line
