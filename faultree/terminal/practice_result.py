"""The result of an exercise: every step with its comment, the picture, and last the mark, the truth and the habit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import listing, minutes, percent
from faultree.library.model import Library
from faultree.practice.curve import Moment
from faultree.practice.exercise import Exercise
from faultree.practice.feedback import Comment
from faultree.practice.mark import CAPS, Mark, Short
from faultree.practice.view import Result
from faultree.terminal.look import Page, text
from faultree.terminal.parts import heading, indented, rows
from faultree.terminal.practice_screens import outcome_line, told_rows
from faultree.walk.prompt import SHORT_NOTICE
from faultree.walk.titles import title as name_of

ENDINGS = {"restored": "The symptom is gone.", "handed over": "Handed over.", "out of time": "The time is up."}


CLEARS_NOTHING = (
    "What was reported was not there. On an aircraft that clears nothing: the report stands, and the hand-over says "
    "that it could not be seen again, and when."
)


def draw_result(exercise: Exercise, found: Result, page: Page) -> RenderableType:
    """Every step with its comment, the best strategy and the picture; last, where the screen stops, what matters most.

    That is the mark, the truth, and the habit to work on.
    """
    return Group(*_steps(found), *_reference(found, page), *_summary(exercise, found, page))


def _steps(found: Result) -> Iterator[RenderableType]:
    yield ""
    if found.feedback.comments:
        yield Text("Step by step", "bold")
    for number, comment in enumerate(found.feedback.comments, 1):
        yield _comment(number, comment)
    if found.feedback.enough_before is not None:
        yield text(f"Enough was known to act before step {found.feedback.enough_before + 1}.")
    yield from _recalls(found)


def _reference(found: Result, page: Page) -> Iterator[RenderableType]:
    yield Text("The best strategy on this aircraft", "bold")
    yield told_rows(found.reference_steps)
    yield Text("What was still unknown, in bits, over the minutes", "bold")
    yield draw_curves(found.curve, found.reference_curve, page)
    yield ""


def _summary(exercise: Exercise, found: Result, page: Page) -> Iterator[RenderableType]:
    marked = found.mark
    yield heading(f"{ENDINGS[marked.ending]} Mark: {marked.mark:.0f} of 100", page)
    yield rows(((Text(label, "dim"), text(words)) for label, words in _facts(exercise, found)), first=9)
    if not found.there:
        yield text(CLEARS_NOTHING)
    yield Text("To work on", "bold")
    yield from (indented(text(sentence)) for sentence in found.feedback.habit)
    yield text(SHORT_NOTICE, "yellow")


def _recalls(found: Result) -> Iterator[RenderableType]:
    """What was named as still possible, held against what was; it is no part of the mark."""
    if found.recalls:
        yield Text("What you named as still possible (no part of the mark)", "bold")
        yield rows(
            (
                (Text(f"after step {one.after}", "dim"), Group(*(text(sentence) for sentence in one.sentences)))
                for one in found.recalls
            ),
            first=13,
        )


def _facts(exercise: Exercise, found: Result) -> Iterator[tuple[str, str]]:
    library, marked = exercise.library, found.mark
    yield "Hidden", _hidden(library, found)
    if found.left:
        named = listing([name_of(library, one) for one in found.left])
        yield "Left", f"{named}: still on the aircraft. The operational check does not show it; the mark is without it"
    if exercise.suspect:
        true = "was" if exercise.world.at_fault(exercise.suspect) else "was not"
        yield "Named", f"{name_of(library, exercise.suspect)} ({_likely(exercise)}); it {true} at fault"
    here = "with this fault" if exercise.scenario.there else "as the report is wrong"
    yield (
        "Minutes",
        (
            f"{minutes(found.minutes)} here; the best strategy takes {minutes(found.reference_minutes)} {here}, "
            f"and expects {minutes(marked.reference)} with this report"
        ),
    )
    yield "Mark", f"{_lost(marked)}{_short(marked)}"
    if marked.cap < 100.0:
        level = "warning" if marked.cap <= CAPS["warning"] else "caution"
        yield "Cap", f"a {level} was not read before its step: no mark above {marked.cap:.0f}"
    if found.feedback.needless:
        named = listing([name_of(library, one) for one in found.feedback.needless])
        yield "Needless", f"put right without having been at fault: {named}"


def _likely(exercise: Exercise) -> str:
    units = {one.unit: one.probability for one in exercise.case.units()}
    return percent(units.get(exercise.suspect, 0.0))


def _lost(marked: Mark) -> str:
    """What decisions and hints took from the mark; the steps add up to it."""
    away, helped = sum(one.regret for one in marked.decisions), sum(one.hints for one in marked.decisions)
    said = f"{minutes(away)} given away by decisions" if away >= 1.0 else "no decision gave minutes away"
    return f"{said}, {minutes(helped)} counted for hints" if helped else said


def _hidden(library: Library, found: Result) -> str:
    named = listing([name_of(library, one) for one in found.hidden])
    if found.there:
        return named
    return f"the report was wrong; {f'{named}, which does not show it' if named else 'nothing was at fault'}"


_WHY: dict[Short, str] = {
    "unnamed": "no suspect was named, which counts as nothing found",
    "less likely": "another part was more than twice as likely as the one named, which counts as nothing found",
    "nothing there": "a part was named for what is known not to be there, which counts as nothing found",
}


def _short(marked: Mark) -> str:
    """Why less than all was found; empty where all was."""
    if marked.short in _WHY:
        return f"; {_WHY[marked.short]}"
    if marked.found >= 1.0:
        return ""
    return f"; of what was unknown, {percent(marked.found) if marked.found > 0.0 else 'nothing'} was found out"


def _comment(number: int, comment: Comment) -> RenderableType:
    figures = [minutes(comment.minutes)]
    if comment.bits is not None:
        figures.append(f"could tell {comment.bits:.2f} bit")
    if comment.regret >= 1.0:
        figures.append(f"gave away {minutes(comment.regret)}")
    if comment.hints:
        figures.append(f"hints {minutes(comment.hints)}")
    head = outcome_line(comment.title, comment.outcome, ", ".join(figures))
    return rows([(Text(f"{number:>2}", "bold"), Group(head, *(text(one) for one in comment.sentences)))], first=2)


HEIGHT = 8


def draw_curves(own: Sequence[Moment], best: Sequence[Moment], page: Page) -> RenderableType:
    """Bits missing over minutes: `o` is this run, `.` the best strategy, and `*` both; in words where it is spoken."""
    if page.spoken:
        return Group(_spoken_curve("This run", own), _spoken_curve("The best strategy", best))
    cells = min(page.width - 12, 72)
    longest = max([one.minutes for one in (*own, *best)] + [1.0])
    highest = max([one.bits for one in (*own, *best)] + [0.1])
    field = [[" "] * cells for _ in range(HEIGHT)]
    for moments, sign in ((best, "."), (own, "o")):
        for cell in range(cells):
            level = _level(moments, longest * cell / (cells - 1))
            row = HEIGHT - 1 - min(round(level / highest * (HEIGHT - 1)), HEIGHT - 1)
            field[row][cell] = "*" if field[row][cell] not in (" ", sign) else sign
    lines = [
        f"{highest * (HEIGHT - 1 - row) / (HEIGHT - 1):6.2f} | {''.join(field[row]).rstrip()}" for row in range(HEIGHT)
    ]
    axis = f"{'':6} +{'-' * (cells + 1)}"
    ends = f"{'':8} 0{minutes(longest):>{cells - 1}}"
    return Group(*(Text(line) for line in (*lines, axis, ends)), text("o this run, . the best strategy, * both", "dim"))


def _spoken_curve(who: str, moments: Sequence[Moment]) -> Text:
    later = "".join(f", {one.bits:.2f} bits after {minutes(one.minutes)}" for one in moments[1:])
    return text(f"{who}: {moments[0].bits:.2f} bits at the start{later}.")


def _level(moments: Sequence[Moment], at: float) -> float:
    """The bits missing at a moment: those after the last step that was finished by then."""
    level = moments[0].bits
    for one in moments:
        if one.minutes <= at + 1e-9:
            level = one.bits
    return level
