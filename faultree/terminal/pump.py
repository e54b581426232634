"""Runs a walk on a screen: shows the prompt, reads a line, hands its event to the machine, and again."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TextIO

from rich.console import RenderableType
from rich.text import Text

from faultree.base.errors import CaseError
from faultree.library import store
from faultree.terminal import files
from faultree.terminal.kept import Keeper, Kept
from faultree.terminal.lines import Lines
from faultree.terminal.look import Look, Page, console, look_of, showable, text
from faultree.terminal.meant import Help, Local, ShowAgain, ShowSuspects, Unclear, Write, number
from faultree.terminal.parts import indented, rows, suspect_table
from faultree.terminal.screens import ASKS, draw, draw_help, draw_said, remind
from faultree.terminal.typed import understand
from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.machine import step
from faultree.walk.prompt import Prompt
from faultree.walk.state import Fingerprint, Reason, Refused, Walk
from faultree.walk.suspects import everyone
from faultree.walk.table import TRANSITIONS, Phase
from faultree.walk.view import prompt

NOT_SAVED = "The case was not saved. (Next time: save FILE keeps it.)"

WHICH = "Which one (a number; Enter for none) > "
"""What stands before the place to type, where words fit several things."""

ENDED = (Reason.WISHED, Reason.RESTORED)
"""Endings after which nobody goes on: the person ended the walk, or the symptom is gone."""

PASSING = ev.AskWhy | ev.AskHistory | ev.Note | ev.Save | ev.CannotDuplicate | ev.SeenAgain | ev.Closed
"""What leaves the screen as it was, so that it need not be drawn again."""


@dataclass
class Screen:
    """A stream to draw on, and how; the width is measured anew for every part, so a resized window is followed."""

    stream: TextIO
    look: Look

    def show(self, *parts: RenderableType) -> None:
        """Write parts below each other."""
        made = console(self.stream, self.look)
        with made.capture() as shown:
            for part in parts:
                made.print(part)
        # Grids fill their lines with spaces, which a pipe and a screen reader can do without.
        lines = shown.get().split("\n")
        self.stream.write(showable("\n".join(line.rstrip(" ") for line in lines), self.stream))
        self.stream.flush()

    @property
    def page(self) -> Page:
        """What a screen is drawn for now."""
        made = console(self.stream, self.look)
        height = made.height if self.look.width is None else None
        return Page(made.width, self.look.plain, self.look.spoken, height)


@dataclass
class Session:
    """One walk at one screen: the only thing here that changes.

    `file` is where the case was saved last, `keeper` what keeps the walk as it goes on (None: nothing does).
    """

    walk: Walk
    screen: Screen
    lines: Lines
    file: Path | None = None
    busy: Callable[[], AbstractContextManager[object]] = nullcontext
    keeper: Keeper | None = None
    _shown: tuple[Walk, Prompt] | None = field(default=None, repr=False)
    _written: Fingerprint = field(default=Fingerprint(), repr=False)

    def begin(self, symptoms: Sequence[str]) -> None:
        """Open the case on these symptoms before the first line is read; CaseError where that cannot be."""
        self._open(ev.Begin(tuple(symptoms)))

    def take_up(self, data: Mapping[str, object], file: Path) -> None:
        """Take up a saved case before the first line is read; CaseError where it does not fit the library."""
        self._open(ev.Resume(data))
        self.file = file

    def take_up_kept(self, kept: Kept) -> None:
        """Take up a walk that was kept as it went on; CaseError where nothing of it fits the library."""
        self._open(ev.Resume(kept.data))
        # What was kept may be newer than what its user saved last, so none of it counts as saved.
        self.walk, self.file = replace(self.walk, saved=Fingerprint()), kept.saved
        if self.keeper is not None:
            self.keeper.adopt(kept)

    def _open(self, event: ev.Event) -> None:
        with self.busy():
            turn = step(self.walk, event)
        for said in turn.said:
            if isinstance(said, Refused):
                raise CaseError(said.text)
            self.screen.show(draw_said(said))
        self.walk = turn.walk

    def run(self) -> Walk:
        """Walk until the person leaves or the input ends; the last state."""
        self._draw()
        presses = 0
        while self.walk.phase is not Phase.CLOSED:
            try:
                # Inside, as the next press may come while the first one is still being answered.
                if presses and self._leaves(presses):
                    break
                line = self.lines.read(f"{ASKS[self.walk.phase]} > ")
                if line is None:
                    self._end_of_input()
                    break
                self._take(line)
                presses = 0
            except KeyboardInterrupt:
                presses += 1
        if self.keeper is not None:
            self._let_go(self.keeper)
        return self.walk

    def _let_go(self, keeper: Keeper) -> None:
        """Leave the walk for another time, or put it aside where its user has ended it."""
        ended = self.walk.phase is Phase.CLOSED and self.walk.reason in ENDED
        path = keeper.put_aside() if ended else None
        keeper.leave()
        if path is not None and self.lines.by_hand:
            self.screen.show(text(f"The case has ended, so it is not offered again. It is kept as {path}."))

    # --- one line ------------------------------------------------------------------------------

    def _take(self, line: str) -> None:
        shown = self._prompt()
        meant = understand(line, shown, self.walk)
        if isinstance(meant, Unclear) and meant.events:
            self._choose(meant, shown)
        elif isinstance(meant, Unclear):
            options = (indented(text(one)) for one in meant.options)
            self.screen.show(text(meant.text, "yellow"), *options, remind(shown))
        elif isinstance(meant, Local):
            self._local(meant, shown)
        else:
            self._step(meant, shown)

    def _choose(self, meant: Unclear, shown: Prompt) -> None:
        """Ask which of several was meant; any other line than one of their numbers is read as if this was not asked."""
        numbered = rows(((f"{count:>2}", text(one)) for count, one in enumerate(meant.options, 1)), first=2)
        self.screen.show(text(meant.text, "yellow"), numbered)
        line = self.lines.read(WHICH)
        chosen = number(line) if line and line.strip().isdecimal() else 0
        if 0 < chosen <= len(meant.events):
            self._step(meant.events[chosen - 1], shown)
        elif line and line.strip():
            self._take(line)
        else:
            self.screen.show(remind(shown))

    def _step(self, event: ev.Event, shown: Prompt) -> None:
        before = self.walk
        ended = self._is_kept and before.reason in ENDED
        if isinstance(event, ev.Quit) and before.unsaved and self.lines.by_hand and not ended:
            self.screen.show(text(self._kept() if self._is_kept else NOT_SAVED, "yellow"))
        with self.busy():
            turn = step(before, event)
        self.walk = turn.walk
        if not self._keep():
            self._draw()
            return
        self.screen.show(*(draw_said(said) for said in turn.said))
        if any(isinstance(said, Refused) for said in turn.said) or isinstance(event, PASSING):
            self.screen.show(remind(shown))
        else:
            # Right below the cautions of a step, the step itself need not be shown again.
            self._draw(brief=before.phase is Phase.CAUTIONS and isinstance(event, ev.Acknowledge))

    def _keep(self) -> bool:
        """Keep what the step added before it is shown; what is saved, or nothing at all, need not be kept.

        False where the step does not stand.
        """
        if self.keeper is None:
            return True
        if not self.walk.unsaved:
            self.keeper.drop()
            self._written = Fingerprint()
        elif self.walk.fingerprint != self._written or self.keeper.complained:
            complaint = self.keeper.keep(saved.pack(self.walk), self.file)
            if complaint:
                self.screen.show(text(complaint, "yellow"))
            self._written = self.walk.fingerprint
        return True

    @property
    def _is_kept(self) -> bool:
        return self.keeper is not None and self.keeper.path is not None and not self.keeper.complained

    def _prompt(self) -> Prompt:
        """The prompt of the state, built once for each."""
        if self._shown is None or self._shown[0] is not self.walk:
            with self.busy():
                self._shown = (self.walk, prompt(self.walk))
        return self._shown[1]

    def _draw(self, *, brief: bool = False, last: bool = False) -> None:
        self.screen.show(draw(self._prompt(), self.screen.page, brief=brief, last=last))

    # --- what the screen does itself -----------------------------------------------------------

    def _local(self, wanted: Local, shown: Prompt) -> None:
        match wanted:
            case Help():
                self.screen.show(draw_help(shown), remind(shown))
            case ShowAgain():
                self._draw()
            case ShowSuspects():
                table = suspect_table(everyone(self.walk.open_case), self.screen.page, letters=False)
                self.screen.show(table, remind(shown))
            case Write(name, over):
                self._write(name, over)

    def _write(self, name: str, over: bool) -> None:
        """Write the case to a file and tell the machine; what goes wrong is said and changes nothing."""
        if not name and self.file is None:
            self.screen.show(
                text("Save it where? Type a file name behind the word, as in: save my-case.yaml", "yellow")
            )
            return
        try:
            path = files.named(name) if name else self.file
        except CaseError as error:
            self.screen.show(text(f"Nothing was saved: {error}.", "yellow"))
            return
        assert path is not None  # one of the two is there
        if files.there(path) and path != self.file and not over:
            words = f"{path} exists already. Choose another name, or type: overwrite {path}"
            self.screen.show(text(words, "yellow"))
            return
        try:
            store.replace(path, files.dump(saved.pack(self.walk), path.name))
        except OSError as error:
            self.screen.show(text(f"{path} cannot be written: {error.strerror or error}. Nothing was saved.", "yellow"))
            return
        self.file = path
        self._step(ev.Save(str(path)), self._prompt())

    # --- leaving -------------------------------------------------------------------------------

    def _end_of_input(self) -> None:
        """The input has ended: say where the case stands, unless that is on view already, and leave."""
        if self.walk.phase is Phase.OVER:
            self.screen.show("", Text("The input has ended; where the case stands is shown above."))
        elif ev.Finish in TRANSITIONS[self.walk.phase]:
            self.screen.show("", Text("The input has ended; this is where the case stands."))
            self.walk = step(self.walk, ev.Finish()).walk
            self._draw(last=True)
        elif self.walk.case is not None and self.walk.case.steps:
            self.screen.show("", Text("The input has ended before the case was gone on with; it is as it was."))
        else:
            self.screen.show("", Text("The input has ended; no check has been made yet."))
        if self._is_kept:
            self.screen.show(text(self._kept()))

    def _leaves(self, presses: int) -> bool:
        """True at the second interruption in a row, or where nobody is there to type on."""
        self._keep()  # the interruption may have come while the last step was being kept
        state = self._kept()
        if presses > 1 or not self.lines.by_hand:
            self.screen.show("", text(f"Left. {state}"))
            return True
        self.screen.show("", text(f"Interrupted. {state} Type quit, or press Ctrl-C again, to leave."))
        return False

    def _kept(self) -> str:
        if self.walk.unsaved and self._is_kept:
            return "The case is kept as it is: the next 'faultree walk' offers to take it up. (save FILE saves it.)"
        if self.walk.unsaved:
            return "The case is not saved yet: save FILE keeps it."
        return f"The case is saved in {self.file}." if self.file else "There is nothing to save."


def screen_for(stream: TextIO, environ: Mapping[str, str]) -> Screen:
    """The screen for a stream, as the environment of the process asks for it."""
    return Screen(stream, look_of(stream, environ))
