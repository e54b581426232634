"""What a person (or a program in their place) can do in a walk, as frozen values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args


@dataclass(frozen=True, slots=True)
class Begin:
    """Open a case on these reported symptoms; full or unique short ids."""

    symptoms: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Resume:
    """Take up a saved case; `saved` is what `faultree.walk.saved.pack` gave."""

    saved: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Also:
    """Further symptoms were reported in a case that has begun; full or unique short ids."""

    symptoms: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class By:
    """Only checks of these people (crew, line, shop) are to be proposed from now on; empty means of anyone."""

    people: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Acknowledge:
    """The notice, or the cautions now on view, have been read and will be followed."""


@dataclass(frozen=True, slots=True)
class AnswerCheck:
    """The answer (its id) to the check now on view."""

    answer: str


@dataclass(frozen=True, slots=True)
class CannotTell:
    """The check now on view cannot be answered; that changes no suspect."""


@dataclass(frozen=True, slots=True)
class TakeUp:
    """Do this check next."""

    check: str


@dataclass(frozen=True, slots=True)
class Replace:
    """Replace or repair this next: an item, or a cause that belongs to no item."""

    unit: str


@dataclass(frozen=True, slots=True)
class Retest:
    """What the operational check said after the replacement now on view."""

    gone: bool


@dataclass(frozen=True, slots=True)
class LookAgain:
    """Of the answers that contradict each other, look at this one again: its check, or the unit replaced."""

    step: str


@dataclass(frozen=True, slots=True)
class Undo:
    """Take back the last answer or replacement."""


@dataclass(frozen=True, slots=True)
class NotToday:
    """A tool, an access, or one check or unit is not available today; what needs it is left out."""

    what: str
    name: str


@dataclass(frozen=True, slots=True)
class Available:
    """What was not available is there after all; an empty name means everything."""

    what: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True)
class CannotDuplicate:
    """The symptom could not be seen again; that changes no suspect."""


@dataclass(frozen=True, slots=True)
class SeenAgain:
    """The symptom, which could not be seen again for a while, has shown itself."""


@dataclass(frozen=True, slots=True)
class Closed:
    """An access has been closed again, or the locks, pins or tags of a caution taken out; empty means all."""

    what: str = ""
    name: str = ""


@dataclass(frozen=True, slots=True)
class AskHistory:
    """Tell how each suspect moved, and because of which answer."""


@dataclass(frozen=True, slots=True)
class AskWhy:
    """Explain a cause, an item or a check; an empty name means the step on view."""

    name: str = ""


@dataclass(frozen=True, slots=True)
class ShowAll:
    """List every check still open and everything that could be replaced."""


@dataclass(frozen=True, slots=True)
class Back:
    """Leave the list for the step that was on view."""


@dataclass(frozen=True, slots=True)
class Note:
    """Keep a remark with the case."""

    text: str


@dataclass(frozen=True, slots=True)
class Save:
    """The case has been written to the file `name` (whoever sends this has done the writing)."""

    name: str


@dataclass(frozen=True, slots=True)
class Finish:
    """End the search here and sum up."""


@dataclass(frozen=True, slots=True)
class CarryOn:
    """Go on checking after an ending."""


@dataclass(frozen=True, slots=True)
class Quit:
    """Leave the walk."""


Event = (
    Begin
    | Resume
    | Also
    | By
    | Acknowledge
    | AnswerCheck
    | CannotTell
    | TakeUp
    | Replace
    | Retest
    | LookAgain
    | Undo
    | NotToday
    | Available
    | CannotDuplicate
    | SeenAgain
    | Closed
    | AskHistory
    | AskWhy
    | ShowAll
    | Back
    | Note
    | Save
    | Finish
    | CarryOn
    | Quit
)

EVENTS: dict[str, type[Event]] = {kind.__name__: kind for kind in get_args(Event)}
"""Every kind of event by its name, as a transcript writes it."""
