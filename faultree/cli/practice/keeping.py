"""How a run is kept: each event in the journal as it happens, so that an exercise that was cut off can be taken up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from faultree.base.errors import CaseError, JournalError

if TYPE_CHECKING:
    from faultree.journal.records import Run as Kept
    from faultree.journal.store import Store
    from faultree.library.model import Library
    from faultree.practice.events import Event
    from faultree.practice.exercise import Exercise
    from faultree.practice.saved import Run


@dataclass
class Keeper:
    """Keeps one run in the journal; what fails is said once and stops nothing."""

    store: Store
    run: int
    complained: bool = False

    def keep(self, event: Event) -> str:
        """Keep an event; what to tell where that fails, else nothing."""
        from faultree.journal import practised
        from faultree.practice.saved import event_to_dict

        try:
            practised.add_event(self.store, self.run, event_to_dict(event))
        except JournalError as error:
            said = "" if self.complained else f"This step could not be kept: {error}. The exercise goes on."
            self.complained = True
            return said
        return ""

    def finish(self, exercise: Exercise) -> str:
        """Keep the mark of a run that has ended; what to tell where that fails, else nothing."""
        from faultree.journal import practised
        from faultree.practice.view import result, summary

        found = result(exercise)
        try:
            practised.finish(self.store, self.run, found.mark.mark, summary(exercise, found))
        except JournalError as error:
            return f"The mark could not be kept: {error}."
        return ""


def begin(store: Store, run: Run, library: Library, allowed: float | None = None) -> Keeper:
    """Begin to keep a run; its first event is the exercise itself, with the minutes on the clock. JournalError."""
    from faultree.journal import practised
    from faultree.practice.saved import pack

    scenario = run.scenario
    number = practised.begin(store, run.learner, scenario.code, library.digest, scenario.symptom, run.mode)
    # Whose run it is stands in one field alone, from which the name can be removed.
    head = {key: value for key, value in pack(run).items() if key not in ("events", "learner")}
    practised.add_event(store, number, {**head, "clock": allowed})
    return Keeper(store, number)


def unfinished(store: Store, learner: str, library: Library) -> Kept | None:
    """The newest run of a learner that has no end and belongs to this version of the library."""
    from faultree.journal import practised

    left = [one for one in practised.runs(store, learner) if one.finished is None]
    fits = [one for one in left if one.library == library.digest]
    return fits[-1] if fits else None


def outdated(store: Store, learner: str, library: Library) -> bool:
    """Whether a learner left a run that belongs to another version of the library."""
    from faultree.journal import practised

    return any(one.finished is None and one.library != library.digest for one in practised.runs(store, learner))


def taken_up(store: Store, kept: Kept, library: Library) -> tuple[Run, float | None]:
    """A kept run with all its events, and the minutes that were on its clock; CaseError where it does not read."""
    from faultree.journal import practised
    from faultree.practice.saved import unpack

    events = practised.events(store, kept.id)
    if not events:
        raise CaseError(f"practice run {kept.id} was broken off before its exercise was kept")
    head: Mapping[str, object] = events[0]
    clock = head.get("clock")
    allowed = float(clock) if isinstance(clock, int | float) else None
    return unpack(library, {**head, "learner": kept.learner, "events": list(events[1:])}), allowed


def give_up(store: Store, kept: Kept) -> None:
    """End a run that will not be taken up, without a mark."""
    from faultree.journal import practised

    practised.finish(store, kept.id, None, {"ending": "left"})
