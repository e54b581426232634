"""What can happen in an exercise: frozen values, as a saved run keeps them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import get_args


@dataclass(frozen=True, slots=True)
class Ask:
    """Make this check."""

    check: str


@dataclass(frozen=True, slots=True)
class PutRight:
    """Replace or repair this unit, then repeat the operational check."""

    unit: str


@dataclass(frozen=True, slots=True)
class Look:
    """Repeat the operational check as things are, to see whether what was reported is there at all."""


@dataclass(frozen=True, slots=True)
class Read:
    """The cautions on view have been read and are followed."""


@dataclass(frozen=True, slots=True)
class Skip:
    """Do the step without a look at its cautions."""


@dataclass(frozen=True, slots=True)
class Leave:
    """Choose something else than the step whose cautions are on view."""


@dataclass(frozen=True, slots=True)
class Hint:
    """Help with the next step: each further one says more (what kind, which, why)."""


@dataclass(frozen=True, slots=True)
class TakeBack:
    """Take the last answer back; the minutes it took are spent all the same."""


@dataclass(frozen=True, slots=True)
class Possible:
    """Name what is still possible: the ids of units, separated by commas (empty: nothing is)."""

    units: str


@dataclass(frozen=True, slots=True)
class HandOver:
    """Stop here and hand over to a licensed engineer, naming the unit that is suspected most (empty: none)."""

    suspect: str = ""


@dataclass(frozen=True, slots=True)
class TimeUp:
    """The time that was set for the exercise is over; `suspect` is the unit that was named then (empty: none)."""

    suspect: str = ""


Event = Ask | PutRight | Look | Read | Skip | Leave | Hint | TakeBack | Possible | HandOver | TimeUp

EVENTS: dict[str, type[Event]] = {kind.__name__: kind for kind in get_args(Event)}
"""Every kind of event by its name, as a saved run writes it."""
