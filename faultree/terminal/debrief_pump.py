"""Runs the walk of a debrief on a screen: every step is kept in the journal as it is made, beside those of others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from faultree.base.errors import CaseError, JournalError, Overtaken
from faultree.journal import book
from faultree.journal.records import Record
from faultree.journal.stage import walked
from faultree.journal.store import Store
from faultree.terminal.look import text
from faultree.terminal.meant import Help, Local
from faultree.terminal.parts import rows
from faultree.terminal.pump import Session
from faultree.terminal.screens import draw_help, remind
from faultree.walk import events as ev
from faultree.walk import saved, today, undoing
from faultree.walk.changes import step_data
from faultree.walk.machine import step
from faultree.walk.prompt import Prompt
from faultree.walk.restated import restated
from faultree.walk.state import Fingerprint, Walk
from faultree.walk.table import Phase


@dataclass
class Debrief(Session):
    """A walk whose steps are kept in the journal, each as it is made."""

    store: Store | None = None
    case: int = 0
    who: str = ""
    leave_words: str = "'faultree debrief continue {case}' takes it up."
    _failed: bool = field(default=False, repr=False)
    _seen: int = field(default=0, repr=False)
    _broken_off: bool = field(default=False, repr=False)

    def keep_in(self, store: Store, case: int, who: str = "", seen: int | None = None) -> None:
        """Say where each step is kept, and by whom it is written.

        `seen` is the newest entry of the case that the walk rests on; by default the newest there is.
        """
        self.store, self.case, self.who = store, case, who
        self._seen = book.read(store, case).last if seen is None else seen

    def take_up_walk(self, kept: Mapping[str, Any], symptoms: Sequence[str]) -> None:
        """Take up the walk as the journal kept it, with the reports as they are now; CaseError where nothing fits.

        What was answered and contradicts the reports is kept, and counts for nothing.
        """
        before = list(kept.get("symptoms", ()))
        now = [*symptoms, *(one for one in before if one not in self.walk.library.symptoms)]
        if before == now:
            self._open(ev.Resume(_without_by(kept)))
            self._written = self.walk.fingerprint
            return
        try:
            self._open(ev.Resume({**_without_by(kept), "symptoms": now}))
        except CaseError:
            restated_now = saved.pack(restated(self.walk.library, kept, now))
            self._open(ev.Resume(_without_by(restated_now)))
        self._keep()

    @property
    def over(self) -> bool:
        """Whether the walk has come to its end; not where it was left, or its input ended, between two questions."""
        return self.walk.reason is not None and not self._broken_off

    def _end_of_input(self) -> None:
        self._broken_off = self.walk.reason is None
        super()._end_of_input()

    def _local(self, wanted: Local, shown: Prompt) -> None:
        if isinstance(wanted, Help) and not self.walk.today.repairs:
            self.screen.show(draw_help(shown, without=("replace",)), remind(shown))
        else:
            super()._local(wanted, shown)

    # --- keeping -------------------------------------------------------------------------------

    def _keep(self) -> bool:
        """Keep the walk after a step that changed it; what cannot be kept is said, and tried again at the next.

        False where somebody else took the case on meanwhile: then their step stands, and not this one.
        """
        if self.walk.case is None or (self.walk.fingerprint == self._written and not self._failed):
            return True
        try:
            stands = self._write_step()
        except JournalError as error:
            if not self._failed:
                self.screen.show(
                    text(f"This step could not be kept: {error}. It is tried again at the next.", "yellow")
                )
            self._failed = True
            return True
        self._failed = False
        return stands

    def _write_step(self) -> bool:
        """Write the step, unless the walk was taken on by somebody else since it was read; whether it stands."""
        assert self.store is not None  # a debrief has a journal
        while True:
            data = {**newest(self._written, self.walk), "walk": saved.pack(self.walk)}
            try:
                self._seen = book.add(self.store, self.case, "event", data, who=self.who, after=self._seen)
            except Overtaken:
                if not self._still_mine(book.read(self.store, self.case)):
                    return False
                continue
            self._written = self.walk.fingerprint
            return True

    def _still_mine(self, record: Record) -> bool:
        """Show what others have written since; whether the walk is still the one that this step was made in."""
        from faultree.terminal.journal_sheets import entry_words  # it is seldom needed, and brings much along

        library = self.walk.library
        news = [one for one in record.entries if one.number > self._seen]
        self.screen.show("", text(f"Meanwhile somebody else wrote in case {self.case}:", "yellow"))
        self.screen.show(*(rows([("-", text(entry_words(library, one)))], first=1) for one in news))
        self._seen = record.last
        kept = walked(record)
        if record.head.state != "open" or kept is None:
            state = record.head.state if record.head.state != "open" else "left without a report"
            self.screen.show(text(f"The case is {state}: your last step is not kept.", "yellow"))
            self.walk = replace(self.walk, phase=Phase.CLOSED, reason=None)
            return False
        theirs = self._resumed(kept)
        if theirs.fingerprint in (self._written, self.walk.fingerprint):
            return True
        self.screen.show(
            text("Your last step is not kept. Look at the case as it is now, and go on from there.", "yellow")
        )
        self.walk, self._written = theirs, theirs.fingerprint
        return False

    def _resumed(self, kept: Mapping[str, Any]) -> Walk:
        """The walk as somebody else has left it, for whoever has read the notice and cautions here already."""
        theirs = step(replace(self.walk, phase=Phase.REPORT), ev.Resume(_without_by(kept))).walk
        theirs = replace(theirs, read=self.walk.read)
        return theirs if self.walk.phase is Phase.NOTICE else step(theirs, ev.Acknowledge()).walk

    @property
    def _is_kept(self) -> bool:
        return not self._failed

    def _kept(self) -> str:
        return f"Case {self.case} is kept in the journal; {self.leave_words.format(case=self.case)}"


def _without_by(kept: Mapping[str, Any]) -> dict[str, Any]:
    """A kept walk without who was there then (the crew, in a debrief): who is there now is said by whoever goes on."""
    own = kept.get(saved.KEY)
    mine = {key: value for key, value in own.items() if key != "by"} if isinstance(own, Mapping) else own
    rest = {key: value for key, value in kept.items() if key != saved.KEY}
    return {**rest, **({saved.KEY: mine} if mine else {})}


def newest(before: Fingerprint, walk: Walk) -> Mapping[str, object]:
    """What the last event added to a walk or took from it, as plain data with its words; empty where nothing did."""
    if not before.symptoms:
        return {"begun": list(walk.open_case.symptoms)}
    if walk.open_case.symptoms != before.symptoms:
        return _reported(before, walk)
    library, steps, now = walk.library, before.steps, walk.open_case.steps
    if len(now) > len(steps):
        return step_data(library, now[-1])
    if walk.conflict is not None and walk.conflict.newest != before.unexplained:
        return {"contradicts": step_data(library, walk.conflict.newest)}
    if len(now) < len(steps):
        return {"taken_back": step_data(library, next(one for one in reversed(steps) if one not in now))}
    if walk.remarks != before.remarks:
        return {"note": walk.remarks[-1].text}
    if walk.sightings != before.sightings:
        return {"seen": walk.sightings[-1].seen}
    if walk.lacks != before.lacks:
        return {"missing": ", ".join(today.words(library, one) for one in walk.lacks)}
    if walk.by != before.by:
        return {"by": list(walk.by or ())}
    return _opened_or_closed(before, walk)


def _opened_or_closed(before: Fingerprint, walk: Walk) -> Mapping[str, object]:
    """What was closed or taken out again, or the cautions whose locks may be in now."""
    library = walk.library
    if walk.undone and walk.undone != before.undone:
        new = walk.undone[len(before.undone) :] or walk.undone[-1:]
        return {"closed": "; ".join(undoing.words(library, one.kind, one.name) for one in new)}
    locks = sorted(walk.locks - before.locks)
    return {"locks": "; ".join(undoing.words(library, "caution", one) for one in locks)} if locks else {}


def _reported(before: Fingerprint, walk: Walk) -> Mapping[str, object]:
    """A report that came in, or was taken back."""
    now = walk.open_case.symptoms
    new = [one for one in now if one not in before.symptoms] or [one for one in before.symptoms if one not in now]
    data = {"also": new[0], "title": "; ".join(walk.library.symptoms[one].title for one in new)}
    return data if len(now) > len(before.symptoms) else {"taken_back": data}
