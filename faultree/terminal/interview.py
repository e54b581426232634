"""The questions that a debrief begins with: the flight, the crew's words, what they mean; each answer kept at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from rich.text import Text

from faultree.base.clock import local_day
from faultree.base.errors import Overtaken
from faultree.journal import book
from faultree.journal.flight_words import PHASES, day_of, phase_of
from faultree.journal.records import Flight, Record
from faultree.journal.search import Match, search
from faultree.journal.store import Store
from faultree.library.model import Library
from faultree.terminal.lines import Lines
from faultree.terminal.look import text, title
from faultree.terminal.meant import number as number_of
from faultree.terminal.parts import heading, rows
from faultree.terminal.pump import Screen

OFFERED = 6
"""So many symptoms are offered for a squawk."""

NONE = "0"
"""What is typed where none of the symptoms fits."""

QUIT, HELP, UNDO = ("quit", "exit", "bye"), ("help", "?"), ("undo", "take back")

FLIGHT_HELP = (
    ("undo", "go back to the question before"), ("quit", "leave; what was said is kept"), ("Enter", "leave it out"),
)  # fmt: skip

SQUAWK_HELP = (
    ("undo", "take the last squawk back; it stays in the log"), ("edit", "put the last squawk in other words"),
    ("quit", "leave; what was said is kept"), ("Enter", "that is all: go on"),
)  # fmt: skip

MEANING_HELP = (
    ("1, 2 ...", "it means this report"), ("0", "none of these; it is kept for the tree's author"),
    ("words", "look for reports with other words; the crew's stay as they are"), ("back", "show the first list again"),
    ("edit", "put the squawk in other words, kept beside the first"), ("undo", "ask about the squawk before again"),
    ("quit", "leave; what was said is kept"),
)  # fmt: skip


CREW_HELP = (
    ("yes", "its own questions come first; no check of the line and no repair is proposed"),
    ("no", "the crew has left: every check and repair is proposed"), ("quit", "leave; what was said is kept"),
)  # fmt: skip


class Left(Exception):
    """Somebody has left an interview; what was said is kept."""


@dataclass
class Interview:
    """Asks for what a case begins with; every answer is in the journal before the next question.

    Raises `Left` where somebody leaves, and KeyboardInterrupt at the second Ctrl-C in a row.
    """

    store: Store
    library: Library
    screen: Screen
    lines: Lines
    who: str = ""
    case: int | None = None
    _known: Flight = field(default_factory=Flight, repr=False)
    _matched: list[int] = field(default_factory=list, repr=False)

    def open(self, flight: Flight) -> int | None:
        """Ask for the flight (what is given is not asked) and the words; the case, or None where nothing was said."""
        self.screen.show(heading("Debrief", self.screen.page))
        if any((flight.aircraft, flight.flight, flight.phase)):
            self._describe(flight)
        if self.flight(flight):
            self.words()
        return self.case

    # --- the flight ----------------------------------------------------------------------------

    def flight(self, flight: Flight) -> bool:
        """Ask for what of the flight is not known; False where the input ended before."""
        self._known = flight
        asks = [name for name in self._asks() if not getattr(flight, name)]
        if asks:
            self.screen.show(Text("Enter alone leaves a question out; or type undo, help, quit.", "dim"))
        place = 0
        while place < len(asks):
            said = self._asks()[asks[place]]()
            if said is None:
                return False
            if said.casefold() in UNDO:
                place = max(place - 1, 0)
                continue
            if said:
                # What somebody else may have said of the flight meanwhile stays.
                known = self._known if self.case is None else self._record().head.flight
                self._describe(replace(known, **{asks[place]: said}))
            place += 1
        return True

    def _asks(self) -> dict[str, Callable[[], str | None]]:
        return {
            "aircraft": lambda: self._ask("Aircraft", FLIGHT_HELP),
            "flight": lambda: self._ask("Flight number", FLIGHT_HELP),
            "day": lambda: self._until("Day (2031-05-04, today or yesterday)", self._day),
            "phase": self._phase,
        }

    def _phase(self) -> str | None:
        self.screen.show(Text(f"The phase is one of: {', '.join(PHASES)}; or other: and some words.", "dim"))
        return self._until("Phase", phase_of)

    def _day(self, said: str) -> str:
        return day_of(said, local_day(self.store.clock)).isoformat()

    def _until(self, words: str, read: Callable[[str], str]) -> str | None:
        """Ask until an answer reads, or nothing is said."""
        while True:
            said = self._ask(words, FLIGHT_HELP)
            if not said or said.casefold() in UNDO:
                return said
            try:
                return read(said)
            except ValueError as error:
                self._warn(f"{str(error).rstrip('.')}.")

    def _describe(self, flight: Flight) -> None:
        self._known = flight
        if self.case is None:
            self.case = book.open_case(self.store, flight, [], self.library.digest, who=self.who)
            self.screen.show(text(f"Case {self.case}: everything is kept as you type it.", "dim"))
        else:
            book.describe(self.store, self.case, flight, who=self.who)

    # --- the crew's words ----------------------------------------------------------------------

    def words(self) -> None:
        """Ask for the crew's words, one squawk after the other, until an empty line."""
        self.screen.show(
            Text("What did the crew report? Their own words, one squawk on a line; Enter alone ends.", "bold"),
            Text("Or a word by itself: undo, edit, help, quit.", "dim"),
        )
        while True:
            said = self._ask("Squawk", SQUAWK_HELP)
            if not said:
                return
            if said.casefold() in UNDO:
                self._take_back()
            elif said.casefold() == "edit":
                self._edit_last()
            else:
                self._add(said)

    def _add(self, words: str) -> None:
        if self.case is None:
            self._describe(self._known)
        assert self.case is not None  # the line above opened it
        book.add_squawk(self.store, self.case, words, who=self.who)

    def _last(self) -> int | None:
        """The squawk that was typed last; says so where there is none."""
        squawks = self._record().squawks if self.case is not None else ()
        if not squawks:
            self._warn("There is no squawk yet.")
        return squawks[-1].number if squawks else None

    def _take_back(self) -> None:
        last = self._last()
        if last is not None:
            words = wording(self._record(), last)
            book.withdraw(self.store, self._case, "squawk", last, because="taken back as it was typed", who=self.who)
            self.screen.show(text(f"Taken back: “{words}”. It stays in the log."))

    def _edit_last(self) -> None:
        last = self._last()
        if last is not None:
            self._edit(last)

    def _edit(self, squawk: int) -> bool:
        """Put a squawk in other words, kept beside those that were typed; whether that was done."""
        said = self._ask(f"Squawk {squawk} in other words", SQUAWK_HELP[2:])
        if not said or said.casefold() in UNDO:
            return False
        book.add(self.store, self._case, "corrected", {"squawk": squawk, "words": said}, who=self.who)
        return True

    # --- what they mean ------------------------------------------------------------------------

    def match(self) -> bool:
        """Ask which symptom each squawk means, where nobody has said yet; False where the input ended before."""
        while True:
            todo = self._record().unmatched
            if not todo:
                return True
            if not self._ask_meaning(todo[0], again=False):
                return False

    def _ask_meaning(self, squawk: int, *, again: bool) -> bool:
        """Ask what a squawk means, and keep it; False where the input ended before."""
        chosen = self._choose(squawk)
        if chosen is None:
            return False
        if chosen in UNDO:
            return self._ask_meaning(self._matched.pop(), again=True) if self._matched else self._nothing_before()
        self._keep_meaning(squawk, chosen or None, again=again)
        return True

    def _nothing_before(self) -> bool:
        self._warn("There is no squawk before this one to ask about again.")
        return True

    def _keep_meaning(self, squawk: int, symptom: str | None, *, again: bool) -> None:
        """Keep what a squawk means, unless somebody else has said so meanwhile: that stands, and is told."""
        while True:
            record = self._record()
            if not again and squawk not in record.unmatched:
                self._warn(_meanwhile(self.library, record, squawk))
                return
            try:
                book.match(self.store, self._case, squawk, symptom, who=self.who, after=record.last)
            except Overtaken:
                continue
            self._matched.append(squawk)
            if symptom is None:
                self.screen.show(text("Kept as a report that no symptom of the tree fits, for the tree's author."))
            return

    def _choose(self, squawk: int) -> str | None:
        """What is meant: a symptom's id, empty for none of them, "undo", or None at the end of the input."""
        words = wording(self._record(), squawk)
        first = found = search(self.library, words, OFFERED)
        looked = ""
        while True:
            self._offer(words, looked, found)
            said = self._answer(len(found))
            if said is None or said in UNDO:
                return said
            if said.isdecimal():
                place = number_of(said)
                return found[place - 1].symptom if place else ""
            if said.casefold() == "back":
                found, looked = first, ""
            elif said.casefold() == "edit":
                words = wording(self._record(), squawk) if self._edit(squawk) else words
                first = found = search(self.library, words, OFFERED)
                looked = ""
            else:
                exact, again = self._named(said)
                if exact:
                    return exact
                found, looked = (again, said) if again else (found, looked)

    def _answer(self, count: int) -> str | None:
        """A line that says something here; what does not is told, and asked again."""
        while True:
            said = self._ask("Which one", MEANING_HELP)
            if said == "":
                self._warn("Type a number, other words to look for, or 0 for none of these; help says more.")
            elif said and said.isdecimal() and said != NONE and not 0 < number_of(said) <= count:
                here = f"the numbers go from 1 to {count}, and 0 is none of these" if count else "only 0, none of these"
                self._warn(f"There is no number {said[:12]} here; {here}.")
            else:
                return said.casefold() if said and said.casefold() in UNDO else said

    def _named(self, said: str) -> tuple[str, tuple[Match, ...]]:
        """The symptom of exactly this name or title, and else those that the words may mean."""
        symptoms = self.library.symptoms
        names = {name: (name, name.partition("/")[2], one.title.casefold()) for name, one in symptoms.items()}
        exact = [name for name, spelt in names.items() if said.casefold() in spelt]
        if len(exact) == 1:
            return exact[0], ()
        found = search(self.library, said, OFFERED)
        if not found:
            self._warn(f"Nothing fits '{said}'; type other words, a number, or 0 for none of these.")
        return "", found

    def _offer(self, words: str, looked: str, found: Sequence[Match]) -> None:
        self.screen.show("", Text.assemble("What does this mean: ", text(f"“{words}”", "bold")))
        if looked:
            self.screen.show(text(f"Looked for: {looked} (back shows the first list)", "dim"))
        numbers = (Text(f"{number:>2}", "bold") for number in range(1, len(found) + 1))
        lines = [(n, title(self.library.symptoms[one.symptom].title)) for n, one in zip(numbers, found, strict=True)]
        self.screen.show(rows([*lines, (Text(" 0", "bold"), Text("none of these"))], first=2))
        self.screen.show(Text("Type a number, or other words to look for; or undo, edit, help, quit.", "dim"))

    def crew_is_here(self) -> bool | None:
        """Ask whether the crew can still be asked; None at the end of the input."""
        while True:
            said = self._ask("Is the crew still here (yes or no)?", CREW_HELP)
            if said is None or said.casefold() in ("y", "yes", "n", "no"):
                return None if said is None else said.casefold().startswith("y")
            self._warn("Type yes or no; help says what each does.")

    # --- asking --------------------------------------------------------------------------------

    def _ask(self, words: str, helps: Sequence[tuple[str, str]]) -> str | None:
        """The line typed; None at the end of the input. Ctrl-C once says what is kept, twice leaves."""
        presses = 0
        while True:
            try:
                line = self.lines.read(f"{words} > ")
            except KeyboardInterrupt:
                presses += 1
                if presses > 1 or not self.lines.by_hand:
                    raise
                self.screen.show("", text(f"Interrupted. {self.kept} Type quit, or press Ctrl-C again, to leave."))
                continue
            presses = 0
            said = None if line is None else line.strip()
            if said and said.casefold() in QUIT:
                raise Left
            if not said or said.casefold() not in HELP:
                return said
            width = max(len(word) for word, _ in helps)
            self.screen.show(rows(((Text(word, "bold"), Text(does)) for word, does in helps), first=width))

    @property
    def kept(self) -> str:
        """What of the case is kept, as whoever leaves is told."""
        if self.case is None:
            return "Nothing was said, so no case was begun."
        return f"Case {self.case} is kept as it is; 'faultree debrief continue {self.case}' takes it up."

    @property
    def _case(self) -> int:
        assert self.case is not None  # there are squawks
        return self.case

    def _record(self) -> Record:
        return book.read(self.store, self._case)

    def _warn(self, words: str) -> None:
        self.screen.show(text(words, "yellow"))


def wording(record: Record, squawk: int) -> str:
    """The words of a squawk as they were corrected last, or else as they were typed."""
    typed = {one.number: one.words for one in record.squawks}
    return (record.corrected(squawk) or (typed.get(squawk, ""),))[-1]


def _meanwhile(library: Library, record: Record, squawk: int) -> str:
    """What somebody else has said a squawk means while it was asked here."""
    said = next((one for one in reversed(record.entries) if one.data.get("squawk") == squawk), None)
    meant = next((one.symptom for one in record.squawks if one.number == squawk), None)
    if said is None or said.kind == "withdrawn" or squawk not in {one.number for one in record.squawks}:
        return f"Squawk {squawk} was withdrawn meanwhile; nothing was kept."
    named = f"“{library.symptoms[meant].title}”" if meant and meant in library.symptoms else "none of the reports"
    return f"{said.who or 'Somebody else'} has said meanwhile that it means {named}; that stands."
