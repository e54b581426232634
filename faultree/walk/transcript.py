"""The record of a walk: every event and what was shown for it, from which the walk can be run again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from faultree.base.errors import CaseError
from faultree.library.model import Library
from faultree.strategy.chart.value import Chart
from faultree.walk.events import EVENTS, Event
from faultree.walk.machine import start, step
from faultree.walk.prompt import Prompt
from faultree.walk.state import Said, Walk
from faultree.walk.view import prompt


@dataclass(frozen=True, slots=True)
class Exchange:
    """One event, what was said in passing, and the prompt that followed."""

    event: Event
    said: tuple[Said, ...]
    shown: Prompt


@dataclass(frozen=True, slots=True)
class Transcript:
    """All exchanges of a walk that began at `start(library, by, chart)`."""

    exchanges: tuple[Exchange, ...] = ()
    by: tuple[str, ...] | None = None
    chart: Chart | None = None

    @property
    def events(self) -> tuple[Event, ...]:
        """The events alone, in order."""
        return tuple(one.event for one in self.exchanges)


def advance(walk: Walk, transcript: Transcript, event: Event) -> tuple[Walk, Transcript]:
    """Take one step and write it down."""
    turn = step(walk, event)
    exchange = Exchange(event, turn.said, prompt(turn.walk))
    return turn.walk, replace(transcript, exchanges=(*transcript.exchanges, exchange))


def replay(library: Library, transcript: Transcript) -> Walk:
    """The state that the transcript led to; CaseError at the first exchange that now goes otherwise."""
    walk = start(library, transcript.by, transcript.chart)
    for number, exchange in enumerate(transcript.exchanges, 1):
        turn = step(walk, exchange.event)
        if (turn.said, prompt(turn.walk)) != (exchange.said, exchange.shown):
            raise CaseError(f"exchange {number} goes otherwise now; the library has changed since it was recorded")
        walk = turn.walk
    return walk


def run(library: Library, events: Iterable[Event], by: tuple[str, ...] | None = None) -> Walk:
    """The state after these events from the very beginning."""
    walk = start(library, by)
    for event in events:
        walk = step(walk, event).walk
    return walk


def event_to_dict(event: Event) -> dict[str, object]:
    """An event as plain data.

    >>> from faultree.walk.events import AnswerCheck
    >>> event_to_dict(AnswerCheck("no"))
    {'event': 'AnswerCheck', 'answer': 'no'}
    """
    return {"event": type(event).__name__, **_fields(event)}


def event_from_dict(data: Mapping[str, object]) -> Event:
    """The event that `event_to_dict` gave; CaseError where the data does not read.

    >>> event_from_dict({"event": "Begin", "symptoms": ["slats/stay-out"]})
    Begin(symptoms=('slats/stay-out',))
    """
    kind = EVENTS.get(str(data.get("event")))
    if kind is None:
        raise CaseError(f"unknown event {data.get('event')!r} in a transcript")
    given: dict[str, Any] = {
        key: tuple(value) if isinstance(value, list) else value for key, value in data.items() if key != "event"
    }
    try:
        return kind(**given)
    except TypeError as error:
        raise CaseError(f"the event {kind.__name__} of a transcript does not read: {error}") from error


def to_dict(transcript: Transcript) -> list[dict[str, object]]:
    """The transcript as plain data: every event, and what was said and shown for it."""
    return [
        {**event_to_dict(one.event), "said": plain(one.said), "shown": plain(one.shown)} for one in transcript.exchanges
    ]


def plain(value: object) -> object:
    """A value of the walk as plain data: frozen values become mappings of their fields, tuples become lists."""
    if is_dataclass(value) and not isinstance(value, type):
        return {"kind": type(value).__name__, **_fields(value)}
    if isinstance(value, tuple | list):
        return [plain(one) for one in value]
    if isinstance(value, Mapping):
        return {str(key): plain(one) for key, one in value.items()}
    return str(value) if isinstance(value, str) else value


def _fields(value: object) -> dict[str, object]:
    return {field.name: plain(getattr(value, field.name)) for field in fields(value)}  # type: ignore[arg-type]
