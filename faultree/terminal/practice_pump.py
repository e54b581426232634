"""Runs an exercise on a screen: shows it, reads a line, hands its event to the machine, keeps it, and again."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field, replace

from rich.text import Text

from faultree.base.words import minutes
from faultree.practice import events as ev
from faultree.practice import exercise as ex
from faultree.practice.about import About, about
from faultree.practice.view import Option, check_options, hint, result, unit_options
from faultree.terminal import practice_screens as screens
from faultree.terminal.lines import Lines
from faultree.terminal.look import text
from faultree.terminal.parts import indented
from faultree.terminal.practice_lists import draw_options, fitting
from faultree.terminal.practice_result import draw_result
from faultree.terminal.practice_typed import Away, Show, Unclear, at_question, still_possible, suspect, understand
from faultree.terminal.pump import Screen
from faultree.walk.titles import unit_title

Keep = Callable[[ev.Event], str]
"""Keeps an event for good; what to tell where that failed, else nothing."""

STILL_POSSIBLE = (
    "Which parts could it still be? Name them all, separated by commas (or none). "
    "It does not enter the mark; Enter leaves it out, back goes on with the exercise."
)

OR_BACK = "Enter: none. Type back to go on with the exercise."


class _Back(Exception):
    """A question was left, and with it what it belongs to."""


class _Quit(Exception):
    """The exercise was left at a question."""


@dataclass(frozen=True, slots=True)
class Listing:
    """A list with its heading, and from where on it has not been shown."""

    options: tuple[Option, ...]
    head: str
    start: int = 0


@dataclass
class Practice:
    """One exercise at one screen: the only thing here that changes.

    `clock` says how many minutes are left (None: there is no clock); `keep` is called with every event that was
    possible; `busy` is around what may take long.
    """

    exercise: ex.Exercise
    screen: Screen
    lines: Lines
    keep: Keep = lambda event: ""
    clock: Callable[[], float | None] = lambda: None
    busy: Callable[[], AbstractContextManager[object]] = nullcontext
    _listed: tuple[Option, ...] = field(default=(), repr=False)
    _parts: bool = field(default=False, repr=False)
    _long: Listing = field(default=Listing((), ""), repr=False)

    def run(self) -> ex.Exercise:
        """Go on until the exercise ends, the person leaves, or the input ends; the last state."""
        self._open()
        while self.exercise.ending is None:
            if self._over():
                self._time_up()
                break
            line = self._read()
            if self._over():
                self._time_up()
            elif line is None or self._take(line):
                self._left()
                return self.exercise
        with self.busy():
            found = result(self.exercise)
        self.screen.show(draw_result(self.exercise, found, self.screen.page))
        return self.exercise

    def _read(self) -> str | None:
        """The next line; the first Ctrl-C only says where the exercise stands, the second in a row leaves it."""
        presses = 0
        while True:
            try:
                return self.lines.read("Practice > ")
            except KeyboardInterrupt:
                presses += 1
                if presses > 1 or not self.lines.by_hand:
                    return "quit"
                spent = minutes(self.exercise.minutes)
                self.screen.show("", text(f"The exercise stands at {spent} of work; Ctrl-C again leaves it."))

    def _over(self) -> bool:
        left = self.clock()
        return left is not None and left <= 0.0

    def _open(self) -> None:
        page = self.screen.page
        self.screen.show(screens.draw_start(self.exercise, page, self.clock()))
        if self.exercise.steps:
            self.screen.show("", screens.draw_found(self.exercise, page))
        if self.exercise.mode == "coached" and self.exercise.looked is not False:
            self.screen.show("", screens.draw_suspects(self.exercise, page))
        if self.exercise.pending is not None:
            self.screen.show("", screens.draw_cautions(self.exercise, page))

    def _take(self, line: str) -> bool:
        """Do what a line says; true where the person leaves."""
        meant = understand(line, self.exercise, self._listed, self._parts)
        if isinstance(meant, Away):
            return True
        if isinstance(meant, Unclear):
            self._ask_back(meant)
        elif isinstance(meant, Show):
            self._show(meant)
        elif isinstance(meant, ev.HandOver):
            return self._hand_over(meant)
        else:
            self._step(meant)
        return False

    def _hand_over(self, event: ev.HandOver) -> bool:
        """Hand over, once that was said again; before, ask who is suspected and, where blind, what is still possible.

        Nobody has to say: Enter leaves a question out; back, or an interrupt, goes on with the exercise. True where
        the person leaves it.
        """
        exercise, over = self.exercise, self.exercise.looked is False
        try:
            if not event.suspect and not over:
                asked = self._asked(f"Which part do you suspect most? {OR_BACK}", "Suspect > ", suspect)
                event = asked if isinstance(asked, ev.HandOver) else event
            named_now = any(one.after == len(exercise.steps) for one in exercise.named)
            if exercise.mode != "coached" and not over and not named_now:
                named = self._asked(STILL_POSSIBLE, "Still possible > ", still_possible)
                if named is not None:
                    self._step(named)
            self._confirm(event)
        except (_Back, KeyboardInterrupt):
            self.screen.show("", Text("Not handed over; the exercise goes on."))
            return False
        except _Quit:
            return True
        if self._over():
            self._step(ev.TimeUp(event.suspect))
        else:
            self._step(event)
        return False

    def _confirm(self, event: ev.HandOver) -> None:
        """Have a hand-over that was typed by hand said again, as it ends the exercise; _Back where it is not."""
        if not self.lines.by_hand:
            return
        named = unit_title(self.exercise.library, event.suspect) if event.suspect else "no part"
        self.screen.show(text(f"Hand over, naming {named}? That ends the exercise: ok hands over, back goes on."))
        while True:
            line = self._heard("Hand over > ")
            if line.casefold() in ("ok", "yes", "y"):
                return
            if line.casefold() in ("no", "n"):
                raise _Back
            self.screen.show(text("Type ok or back.", "yellow"))

    def _time_up(self) -> None:
        """End the exercise as it stands; who is suspected then is asked and told, but does not enter the mark."""
        named: ev.Event | None = None
        if self.exercise.looked is not False:
            ask = "The time is up. Which part do you suspect most? It does not enter the mark. Enter: none."
            try:
                named = self._asked(ask, "Suspect > ", suspect)
            except (_Back, _Quit, KeyboardInterrupt):
                named = None
        self._step(ev.TimeUp(named.suspect if isinstance(named, ev.HandOver) else ""))

    def _asked(
        self, question: str, ask: str, read: Callable[[str, ex.Exercise], ev.Event | Unclear]
    ) -> ev.Event | None:
        """The event that an answer to a question means; None where it was left out. Raises _Back and _Quit."""
        self.screen.show(text(question))
        while line := self._heard(ask, empty=True):
            meant = read(line, self.exercise)
            if not isinstance(meant, Unclear):
                return meant
            self._ask_back(meant)
        return None

    def _heard(self, ask: str, *, empty: bool = False) -> str:
        """The line typed at a question; what only shows something is shown, and the question stands again.

        The end of the input leaves the question, as `back` does; only where `empty` says so Enter is an answer.
        """
        while True:
            line = self.lines.read(ask)
            if line is None:
                raise _Back
            meant = at_question(" ".join(line.split()), self.exercise)
            if isinstance(meant, Away):
                raise _Quit
            if isinstance(meant, ev.Leave):
                raise _Back
            if isinstance(meant, Show):
                self._show(meant)
            elif meant or empty:
                return meant

    def _ask_back(self, meant: Unclear) -> None:
        if meant.choices:
            self._listed, self._parts = meant.choices, meant.parts
        self.screen.show(text(meant.text, "yellow"), *(indented(text(one)) for one in meant.options))

    def _step(self, event: ev.Event) -> None:
        before = self.exercise
        turn = ex.step(before, event)
        if turn.refused:
            self.screen.show(text(turn.refused, "yellow"))
            return
        failed = self.keep(event)
        self.exercise = turn.exercise
        page = self.screen.page
        if failed:
            self.screen.show(text(failed, "yellow"))
        if isinstance(event, ev.Hint):
            self.screen.show(text(hint(self.exercise)))
        elif isinstance(event, ev.TakeBack):
            self.screen.show(Text("Taken back; its minutes are spent all the same."))
        elif self.exercise.pending is not None:
            self.screen.show("", screens.draw_cautions(self.exercise, page))
        elif len(self.exercise.steps) > len(before.steps):
            self.screen.show(screens.draw_step(self.exercise, self.exercise.steps[-1], page, self.clock()))
        elif isinstance(event, ev.Possible):
            self.screen.show(Text("Noted; what you left out is said at the end."))
        elif isinstance(event, ev.Leave):
            self.screen.show(Text("Left; nothing was done."))

    def _show(self, wanted: Show) -> None:
        page, exercise = self.screen.page, self.exercise
        if wanted.what in ("checks", "parts"):
            self._list(wanted)
        elif wanted.what == "more":
            self._more()
        elif wanted.what == "about":
            self._about(wanted.words)
        elif wanted.what == "found":
            self.screen.show(screens.draw_found(exercise, page))
        elif wanted.what == "suspects":
            self.screen.show(screens.draw_suspects(exercise, page, everyone=wanted.words == "all"))
        elif wanted.what == "report":
            self.screen.show(screens.draw_report(exercise))
        else:
            self.screen.show(screens.draw_help(exercise, page))

    def _list(self, wanted: Show) -> None:
        library, self._parts = self.exercise.library, wanted.what == "parts"
        system = self.exercise.scenario.symptom.partition("/")[0]
        words = wanted.words or system
        find = unit_options if self._parts else check_options
        self._listed = find(self.exercise, "" if words == "all" else words)
        named = library.systems[words].title if words in library.systems else f"“{words}”"
        head = f"{'Parts' if self._parts else 'Checks'}: {'all' if words == 'all' else named}"
        self._long = Listing(self._listed, head)
        self._draw_list()
        if not wanted.words:
            others = ", ".join(one for one in library.systems if one != system)
            self.screen.show(text(f"Other systems: {others} ({wanted.what} {others.partition(',')[0]}; all).", "dim"))

    def _draw_list(self) -> None:
        """Show as much of the list as the window holds, from where it stands."""
        long, page = self._long, self.screen.page
        self.screen.show(draw_options(long.options, long.head, page, start=long.start))
        self._long = replace(long, start=long.start + len(fitting(long.options, page, long.start)))

    def _more(self) -> None:
        """Show the next part of the list that was shown last."""
        if self._long.options is self._listed and self._long.start < len(self._listed):
            self._draw_list()
        else:
            self.screen.show(text("There is no more of a list; checks or parts begins one.", "yellow"))

    def _about(self, words: str) -> None:
        library, symptom = self.exercise.library, self.exercise.scenario.symptom
        found = about(library, symptom, words)
        if isinstance(found, About):
            self.screen.show(screens.draw_about(found, self.screen.page))
            return
        say = f"'{words}' can be one of these:" if found else f"No system and no part fits '{words}'."
        self._ask_back(Unclear(say, found[:8]))

    def _left(self) -> None:
        spent = f" after {minutes(self.exercise.minutes)} of work" if self.exercise.steps else ""
        self.screen.show("", text(f"Left{spent}."))
