"""What a typed line can mean: an event of the walk, something the screen does itself, or a question back."""

from __future__ import annotations

from dataclasses import dataclass

from faultree.walk import events as ev

DIGITS = 6
"""A number with more digits is none of any list."""


@dataclass(frozen=True, slots=True)
class Help:
    """Show what can be typed."""


@dataclass(frozen=True, slots=True)
class ShowAgain:
    """Show the screen once more."""


@dataclass(frozen=True, slots=True)
class ShowSuspects:
    """Show every suspect, however unlikely."""


@dataclass(frozen=True, slots=True)
class Write:
    """Write the case to a file; an empty name means the file used before."""

    name: str
    over: bool = False


@dataclass(frozen=True, slots=True)
class Unclear:
    """The line is not understood; `text` says why, `options` what it could have meant.

    Where `events` holds what each of the options would do, one can be chosen by its number.
    """

    text: str
    options: tuple[str, ...] = ()
    events: tuple[ev.Event, ...] = ()


def number(typed: str) -> int:
    """What decimal digits say, however many there are; more than any list has numbers is 0, which none has.

    >>> number("12"), number("0012"), number("9" * 5000)
    (12, 12, 0)
    """
    digits = typed.lstrip("0")
    return int(digits) if 0 < len(digits) <= DIGITS else 0


Local = Help | ShowAgain | ShowSuspects | Write
Meant = ev.Event | Local | Unclear
