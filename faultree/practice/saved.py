"""A run as plain data: its exercise (sealed), mode and events, from which every state and mark follows again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace

from faultree.base.errors import CaseError
from faultree.library.model import Library
from faultree.practice.events import EVENTS, Event, Leave, Look, Read, Skip
from faultree.practice.exercise import MODES, Exercise, Mode, begin, step
from faultree.practice.scenario import Scenario
from faultree.practice.sealed import seal, unseal

FORM = 2
"""The number of the saved form; in form 1 a caution that had been read was not shown before a later step."""


@dataclass(frozen=True, slots=True)
class Run:
    """Who did which exercise, and all that they did, refused events left out."""

    scenario: Scenario
    mode: Mode
    learner: str = ""
    events: tuple[Event, ...] = ()

    def replayed(self, library: Library) -> Exercise:
        """The exercise as it stands after the events; raises CaseError where one of them is not possible."""
        exercise = begin(library, self.scenario, self.mode)
        for number, event in enumerate(self.events, 1):
            turn = step(exercise, event)
            if turn.refused:
                raise CaseError(f"event {number} of this run is not possible here ({turn.refused.rstrip('.')})")
            exercise = turn.exercise
        return exercise


def pack(run: Run) -> dict[str, object]:
    """The run as plain data; `unpack` makes an equal one of it."""
    return {
        "run": FORM,
        "learner": run.learner,
        "mode": run.mode,
        "exercise": seal(run.scenario),
        "events": [event_to_dict(one) for one in run.events],
    }


def unpack(library: Library, data: Mapping[str, object]) -> Run:
    """The run that `pack` gave; CaseError where the data does not read or belongs to another library."""
    exercise, events, mode = data.get("exercise"), data.get("events"), data.get("mode")
    if data.get("run") not in (1, FORM) or not isinstance(exercise, Mapping) or not isinstance(events, list):
        raise CaseError(f"this is no saved run: 'run: {FORM}' with 'exercise' and 'events' is missing")
    known = next((one for one in MODES if one == mode), None)
    if known is None:
        raise CaseError(f"a run's mode is one of {', '.join(MODES)}, not {mode!r}")
    run = Run(unseal(library, exercise), known, str(data.get("learner", "")), read_events(events))
    return run if data["run"] == FORM else _with_cautions_read(library, run)


def _with_cautions_read(library: Library, run: Run) -> Run:
    """A run of form 1 as it is kept now: a step that went ahead on cautions read before it is told as read again."""
    exercise, read = begin(library, run.scenario, run.mode), frozenset[str]()
    events: list[Event] = []
    for number, event in enumerate(run.events):
        if isinstance(event, Read):
            read |= {one.id for one in exercise.on_view}
        events.append(event)
        exercise = step(exercise, event).exercise
        then = run.events[number + 1] if number + 1 < len(run.events) else None
        known = isinstance(event, Look) or all(one.id in read for one in exercise.on_view)
        if exercise.pending is not None and known and not isinstance(then, Read | Skip | Leave):
            events.append(Read())
            exercise = step(exercise, Read()).exercise
    return replace(run, events=tuple(events))


def event_to_dict(event: Event) -> dict[str, object]:
    """An event as plain data.

    >>> from faultree.practice.exercise import Ask
    >>> event_to_dict(Ask("flaps/needles"))
    {'event': 'Ask', 'check': 'flaps/needles'}
    """
    return {"event": type(event).__name__, **{one.name: getattr(event, one.name) for one in fields(event)}}


def read_events(data: Iterable[object]) -> tuple[Event, ...]:
    """The events that `event_to_dict` gave; CaseError where one does not read."""
    return tuple(map(_event, data))


def _event(data: object) -> Event:
    if isinstance(data, Mapping) and str(data.get("event")) in EVENTS:
        given = {str(key): value for key, value in data.items() if key != "event"}
        try:
            if all(isinstance(value, str) for value in given.values()):
                return EVENTS[str(data["event"])](**given)
        except TypeError as error:
            raise CaseError(f"{dict(data)!r} is no event of a run: {error}") from error
    raise CaseError(f"{data!r} is no event of a run")
