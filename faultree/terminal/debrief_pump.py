"""Runs a debrief on a screen: the flight, the crew's words, what they mean, and the walk; all is kept as it is said."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from rich.text import Text

from faultree.base.clock import local_day
from faultree.base.errors import JournalError
from faultree.journal import book
from faultree.journal.records import Flight
from faultree.journal.search import Match, search
from faultree.journal.stage import unmatched
from faultree.journal.store import Store
from faultree.library.model import Library
from faultree.terminal.lines import Lines
from faultree.terminal.look import text, title
from faultree.terminal.parts import heading, rows
from faultree.terminal.pump import Screen, Session
from faultree.walk import events as ev
from faultree.walk import saved, today, undoing
from faultree.walk.changes import step_data
from faultree.walk.state import Fingerprint, Walk

PHASES = ("parked", "taxi", "take-off", "climb", "cruise", "descent", "approach", "landing", "other")
"""The phases of a flight that are offered; any other word is kept as typed."""

OFFERED = 6
"""So many symptoms are offered for a squawk."""

NONE = "0"
"""What is typed where none of the symptoms fits."""


@dataclass
class Interview:
    """Asks for what a case begins with; every answer is in the journal before the next question."""

    store: Store
    library: Library
    screen: Screen
    lines: Lines
    who: str = ""
    case: int | None = None

    def open(self, flight: Flight) -> int | None:
        """Ask for the flight (what is given is not asked) and the words; the case, or None where nothing was said."""
        self.screen.show(heading("Debrief", self.screen.page), Text("Enter alone leaves a question out.", "dim"))
        if any((flight.aircraft, flight.flight, flight.phase)):
            self._describe(flight)
        asks = {
            "aircraft": self._ask_aircraft,
            "flight": self._ask_flight,
            "day": self._ask_day,
            "phase": self._ask_phase,
        }
        for name, ask in asks.items():
            if getattr(flight, name):
                continue
            said = ask()
            if said is None:
                return self.case
            if said:
                flight = replace(flight, **{name: said})
                self._describe(flight)
        self.words(flight)
        return self.case

    def words(self, flight: Flight = Flight()) -> None:
        """Ask for the crew's words, one squawk after the other, until an empty line."""
        self.screen.show(
            Text("What did the crew report? Their own words, one squawk on a line; Enter alone ends.", "bold")
        )
        while True:
            said = self._ask("Squawk")
            if not said:
                return
            if self.case is None:
                self._describe(flight)
            assert self.case is not None  # the line above opened it
            book.add_squawk(self.store, self.case, said, who=self.who)

    def match(self) -> bool:
        """Ask which symptom each squawk means, where nobody has said yet; False where the input ended before."""
        assert self.case is not None  # there are squawks
        record = book.read(self.store, self.case)
        words = {one.number: one.words for one in record.squawks}
        for number in unmatched(record):
            chosen = self._choose(words[number])
            if chosen is None:
                return False
            book.match(self.store, self.case, number, chosen or None, who=self.who)
            if not chosen:
                self.screen.show(text("Kept as a report that no symptom of the tree fits, for the tree's author."))
        return True

    def _choose(self, words: str) -> str | None:
        """The symptom that is meant: its id, empty for none of them, None at the end of the input."""
        found = search(self.library, words, OFFERED)
        while True:
            self._offer(words, found)
            said = self._ask("Which one")
            if said is None or said == NONE:
                return said if said is None else ""
            if said.isdecimal() and 1 <= int(said[:6]) <= len(found):
                return found[int(said[:6]) - 1].symptom
            again = self._named(said)
            if len(again) == 1:
                return again[0].symptom
            if again:
                found, words = again, said
            elif said:
                self.screen.show(
                    text(f"Nothing fits '{said}'; type other words, a number, or 0 for none of these.", "yellow")
                )

    def _named(self, said: str) -> tuple[Match, ...]:
        exact = [name for name in self.library.symptoms if said in (name, name.partition("/")[2])]
        if len(exact) == 1:
            return (Match(exact[0], 1.0, said),)
        return search(self.library, said, OFFERED) if said else ()

    def _offer(self, words: str, found: tuple[Match, ...]) -> None:
        self.screen.show("", Text.assemble("What does this mean: ", text(f"“{words}”", "bold")))
        numbers = (Text(f"{number:>2}", "bold") for number in range(1, len(found) + 1))
        lines = [(n, title(self.library.symptoms[one.symptom].title)) for n, one in zip(numbers, found, strict=True)]
        self.screen.show(rows([*lines, (Text(" 0", "bold"), Text("none of these"))], first=2))
        self.screen.show(Text("Type a number, or other words to look for.", "dim"))

    # --- asking --------------------------------------------------------------------------------

    def _ask(self, words: str) -> str | None:
        line = self.lines.read(f"{words} > ")
        return None if line is None else line.strip()

    def _ask_aircraft(self) -> str | None:
        return self._ask("Aircraft")

    def _ask_flight(self) -> str | None:
        return self._ask("Flight number")

    def _ask_day(self) -> str | None:
        now = local_day(self.store.clock)
        while True:
            said = self._ask("Day (2031-05-04, or today)")
            if not said or said == "today":
                return said and now.isoformat()
            try:
                day = date.fromisoformat(said)
            except ValueError:
                self.screen.show(text(f"'{said}' is no day; write it as 2031-05-04.", "yellow"))
                continue
            if day > now:
                self.screen.show(text(f"{said} is still to come; today is {now}.", "yellow"))
                continue
            return day.isoformat()

    def _ask_phase(self) -> str | None:
        said = self._ask(f"Phase ({', '.join(PHASES)})")
        fitting = [one for one in PHASES if said and one.startswith(said.casefold())]
        return fitting[0] if len(fitting) == 1 else said

    def _describe(self, flight: Flight) -> None:
        if self.case is None:
            self.case = book.open_case(self.store, flight, [], self.library.digest, who=self.who)
            self.screen.show(text(f"Case {self.case}: everything is kept as you type it.", "dim"))
        else:
            book.describe(self.store, self.case, flight, who=self.who)


@dataclass
class Debrief(Session):
    """A walk whose steps are kept in the journal, each as it is made."""

    store: Store | None = None
    case: int = 0
    who: str = ""
    leave_words: str = "'faultree debrief continue {case}' takes it up."
    _failed: bool = field(default=False, repr=False)

    def keep_in(self, store: Store, case: int, who: str = "") -> None:
        """Say where each step is kept, and by whom it is written."""
        self.store, self.case, self.who = store, case, who

    def take_up_walk(self, kept: Mapping[str, Any], symptoms: Sequence[str]) -> None:
        """Take up the walk as the journal kept it, with the reports as they are now; CaseError where nothing fits."""
        before = list(kept.get("symptoms", ()))
        gone = [one for one in before if one not in self.walk.library.symptoms]
        # Who was there then (the crew, in a debrief) is no longer there; who is now is said by whoever goes on.
        own = kept.get(saved.KEY)
        mine = {key: value for key, value in own.items() if key != "by"} if isinstance(own, Mapping) else own
        later = {saved.KEY: mine} if mine else {}
        rest = {key: value for key, value in kept.items() if key != saved.KEY}
        self._open(ev.Resume({**rest, **later, "symptoms": [*symptoms, *gone]}))
        if before == [*symptoms, *gone]:
            self._written = self.walk.fingerprint
        else:
            self._keep()

    def _keep(self) -> None:
        """Keep the walk after a step that changed it; what cannot be kept is said, and tried again at the next."""
        if self.walk.case is None or (self.walk.fingerprint == self._written and not self._failed):
            return
        assert self.store is not None  # a debrief has a journal
        try:
            data = {**newest(self._written, self.walk), "walk": saved.pack(self.walk)}
            book.add(self.store, self.case, "event", data, who=self.who)
        except JournalError as error:
            if not self._failed:
                self.screen.show(
                    text(f"This step could not be kept: {error}. It is tried again at the next.", "yellow")
                )
            self._failed = True
            return
        self._failed = False
        self._written = self.walk.fingerprint

    @property
    def _is_kept(self) -> bool:
        return not self._failed

    def _kept(self) -> str:
        return f"Case {self.case} is kept in the journal; {self.leave_words.format(case=self.case)}"


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
