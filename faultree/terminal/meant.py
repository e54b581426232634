"""What a typed line can mean: an event of the walk, something the screen does itself, or a question back."""

from __future__ import annotations

from dataclasses import dataclass

from faultree.walk import events as ev


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
    """The line is not understood; `text` says why, `options` what it could have meant."""

    text: str
    options: tuple[str, ...] = ()


Local = Help | ShowAgain | ShowSuspects | Write
Meant = ev.Event | Local | Unclear
