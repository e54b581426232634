"""What the journal holds, as frozen values: a case with its squawks, entries and findings, and a practice run."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

State = Literal["open", "confirmed", "no fault found", "deferred", "handed over"]
"""How a case stands: being worked on, or how it ended."""

Result = Literal["confirmed", "replaced", "not found"]
"""What became of a unit: its fault was established; the report cleared with its repair; nothing was wrong with it."""

Kind = Literal[
    "opened", "flight", "squawk", "corrected", "matched", "event", "finding", "state", "note", "withdrawn", "crew"
]
"""What an entry records; `event` is a step of the walk, as a transcript writes it, `crew` whether it has left."""


Withdrawable = Literal["squawk", "finding"]
"""What can be withdrawn; other mistakes are corrected by what is said later."""


def registration(name: str) -> str:
    """An aircraft's registration in the form in which two are compared: case, spaces and hyphens do not count.

    >>> registration("HM-VLZ") == registration("hm vlz") == registration("HMVLZ")
    True
    """
    return "".join(sign for sign in name.casefold() if sign.isalnum())


@dataclass(frozen=True, slots=True)
class Flight:
    """Which flight: aircraft, flight number, day (ISO date) and phase; each may be empty where it is not known."""

    aircraft: str = ""
    flight: str = ""
    day: str = ""
    phase: str = ""


@dataclass(frozen=True, slots=True)
class Squawk:
    """The crew's own words, kept as typed, and the symptom that they mean (None: none in the library)."""

    number: int
    words: str
    symptom: str | None


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a case's log: when, by whom (initials, may be empty), what, and its plain data."""

    number: int
    at: str
    who: str
    kind: Kind
    data: Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Finding:
    """What became of a unit (item, or cause without one), and by what that was established."""

    number: int
    at: str
    who: str
    unit: str
    cause: str | None
    result: Result
    how: str


@dataclass(frozen=True, slots=True)
class Found:
    """A finding that is still to be written: the unit, what became of it, its cause where known, and by what."""

    unit: str
    result: Result
    cause: str | None = None
    how: str = ""


@dataclass(frozen=True, slots=True)
class Head:
    """A case without its log: enough for a list."""

    id: int
    key: str
    opened: str
    flight: Flight
    library: str
    origin: str
    state: State
    due: str | None


@dataclass(frozen=True, slots=True)
class Record:
    """A whole case; squawks and findings that were withdrawn stand by themselves, and count for nothing."""

    head: Head
    squawks: tuple[Squawk, ...]
    entries: tuple[Entry, ...]
    findings: tuple[Finding, ...]
    former_squawks: tuple[Squawk, ...] = ()
    former_findings: tuple[Finding, ...] = ()

    @property
    def symptoms(self) -> tuple[str, ...]:
        """Full ids of the symptoms that the squawks were matched with, each once."""
        return tuple(dict.fromkeys(one.symptom for one in self.squawks if one.symptom is not None))

    def corrected(self, squawk: int) -> tuple[str, ...]:
        """What the words of a squawk were corrected to, oldest first; the words themselves stay as they were typed."""
        found = (one.data for one in self.entries if one.kind == "corrected" and one.data.get("squawk") == squawk)
        return tuple(str(one.get("words")) for one in found)

    @property
    def last(self) -> int:
        """The number of the newest entry."""
        return self.entries[-1].number if self.entries else 0

    @property
    def unmatched(self) -> tuple[int, ...]:
        """The squawks about which nobody has said yet what they mean ("none of these" is an answer)."""
        said = {one.data.get("squawk") for one in self.entries if one.kind == "matched"}
        return tuple(one.number for one in self.squawks if one.number not in said)

    @property
    def crew_left(self) -> bool:
        """Whether it was said that the crew has left; until then its own questions come first."""
        said = [one.data.get("left") for one in self.entries if one.kind == "crew"]
        return self.invented or (bool(said) and said[-1] is True)

    @property
    def invented(self) -> bool:
        """Whether this case was made for demonstration."""
        return self.head.origin == "demonstration"


@dataclass(frozen=True, slots=True)
class Run:
    """A practice run: who, which exercise, how it ended; `mark` and `finished` are None while it is under way."""

    id: int
    key: str
    learner: str
    code: str
    library: str
    symptom: str
    mode: str
    started: str
    finished: str | None
    mark: float | None
    summary: Mapping[str, object]
