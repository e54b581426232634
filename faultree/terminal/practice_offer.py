"""Offers the exercise that was left: it goes on, stays kept while another begins, or is discarded."""

from __future__ import annotations

from typing import Literal

from faultree.terminal.lines import Lines
from faultree.terminal.look import text
from faultree.terminal.pump import Screen

Choice = Literal["go on", "new", "discard", "quit"]

WORDS: dict[Choice, tuple[str, ...]] = {
    "go on": ("", "yes", "y", "ok", "go on", "resume"),
    "new": ("new", "n", "no", "fresh"),
    "discard": ("discard",),
    "quit": ("quit", "q", "exit", "bye"),
}


def choose(title: str, screen: Screen, lines: Lines) -> Choice:
    """Ask what becomes of an exercise that was left; the end of the input, or Ctrl-C, leaves it as it is."""
    screen.show(text(f"An exercise was left: {title}."))
    screen.show(text("Enter goes on with it; new begins another and keeps it, discard throws it away, quit leaves."))
    while True:
        try:
            line = lines.read("Go on > ")
        except KeyboardInterrupt:
            line = None
        word = "quit" if line is None else " ".join(line.split()).casefold()
        for choice, words in WORDS.items():
            if word in words:
                return choice
        screen.show(text("Press Enter, or type new, discard or quit.", "yellow"))
