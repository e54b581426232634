"""The screens of an exercise: the report, lists, cautions, what a step found, and the result with its picture."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import listing, minutes
from faultree.library.model import Library
from faultree.practice.curve import Moment
from faultree.practice.exercise import Exercise, Taken
from faultree.practice.feedback import Comment
from faultree.practice.scenario import LEVELS
from faultree.practice.view import Result, Told, outcome, told
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import LEVEL_STYLES, heading, indented, rows, suspect_table
from faultree.terminal.practice_typed import possible
from faultree.walk.prompt import NOTICE, SHORT_NOTICE
from faultree.walk.suspects import leading
from faultree.walk.titles import title as name_of

SUSPECTS = 8

MODES = {
    "coached": "coached: suspects are shown, and hints can be had",
    "blind": "blind: the suspects are kept in your head",
    "exam": "exam: no help, nothing is taken back, the result comes at the end",
}

ENDINGS = {"restored": "The symptom is gone.", "handed over": "Handed over.", "out of time": "The time is up."}


def draw_start(exercise: Exercise, page: Page) -> RenderableType:
    """The report, the rules of this exercise, and how to begin."""
    scenario = exercise.scenario
    facts = [("Code", scenario.code or "of an exercise file"), ("Level", LEVELS.get(scenario.level, "set by hand")),
             ("Mode", MODES[exercise.mode])]  # fmt: skip
    if scenario.doubt:
        share = f"{10 * scenario.doubt:.0f} of 10 reports are wrong: look repeats the operational check"
        facts.append(("Doubt", share))
    if scenario.limit is not None:
        facts.append(("Time", f"the work may take {minutes(scenario.limit)}"))
    return Group(
        heading("Practice: find the hidden fault", page),
        draw_report(exercise),
        rows(((Text(label, "dim"), text(words)) for label, words in facts), first=7),
        "",
        text(NOTICE, "yellow"),
        "",
        text("Type checks for a list, words of a check to make it, replace and words of a part to put it right, "
             "hand over to stop, help for all else."),
    )  # fmt: skip


def draw_report(exercise: Exercise) -> RenderableType:
    """What the crew said, and the report that it is."""
    symptom = exercise.library.symptoms[exercise.scenario.symptom]
    return rows(
        (
            (Text("Crew", "dim"), text(f"“{exercise.scenario.words}”", "bold")),
            (Text("Report", "dim"), title(symptom.title)),
        ),
        first=7,
    )


def draw_cautions(exercise: Exercise, page: Page) -> RenderableType:
    """The cautions to be read before the step that waits."""
    lines = ((Text(one.level.upper(), LEVEL_STYLES[one.level]), text(one.text)) for one in exercise.on_view)
    return Group(
        heading("Before you start", page),
        rows(lines, first=7),
        text(f"Type ok when you have read them (skip does the step without, back leaves it). {SHORT_NOTICE}"),
    )


def draw_step(exercise: Exercise, taken: Taken, page: Page) -> RenderableType:
    """What a step found, what it took, and, where coached, who is still suspected."""
    shown = told(exercise)[-1]
    parts: list[RenderableType] = [
        Text.assemble("Done:  ", text(shown.title)),
        Text.assemble("Found: ", title(outcome(exercise, taken.action, taken.target, taken.outcome), "bold")),
        text(f"{minutes(taken.minutes)}, {minutes(exercise.minutes)} so far", "dim"),
    ]
    if exercise.looked is False:
        parts.append(text("So what was reported is not there: the answers and the report cannot all be right."))
    if exercise.mode == "coached" and exercise.ending is None and exercise.looked is not False:
        parts += ["", draw_suspects(exercise, page)]
    return Group("", *parts)


def draw_suspects(exercise: Exercise, page: Page) -> RenderableType:
    """Who is still suspected, likeliest first."""
    return Group(Text("Suspects", "bold"), suspect_table(leading(exercise.case, SUSPECTS), page, letters=False))


def draw_found(exercise: Exercise, page: Page) -> RenderableType:
    """What was found so far."""
    return Group(
        heading("Found so far", page, f"{minutes(exercise.minutes)} spent"),
        told_rows(told(exercise)) if exercise.steps else text("Nothing yet."),
    )


def told_rows(steps: Sequence[Told]) -> RenderableType:
    """Steps with their outcomes, numbered."""
    return rows(
        ((Text(f"{number:>2}", "bold"), Text.assemble(title(f"{one.title}: "), title(one.outcome, "bold"),
                                                      text(f" ({minutes(one.minutes)})", "dim")))
         for number, one in enumerate(steps, 1)), first=2,
    )  # fmt: skip


def draw_help(exercise: Exercise, page: Page) -> RenderableType:
    """Every command of this mode."""
    pairs = ((Text(f"{one.word} {one.takes}".strip(), "bold"), text(one.does)) for one in possible(exercise.mode))
    return Group(heading("What can be typed", page), rows(pairs, first=16))


# --- the result --------------------------------------------------------------------------------


def draw_result(exercise: Exercise, found: Result, page: Page) -> RenderableType:
    """The mark, the truth, every step with its comment, the habit to work on, and the picture."""
    return Group(*_result(exercise, found, page))


def _result(exercise: Exercise, found: Result, page: Page) -> Iterator[RenderableType]:
    marked = found.mark
    yield ""
    yield heading(f"{ENDINGS[marked.ending]} Mark: {marked.mark:.0f} of 100", page)
    yield rows(((Text(label, "dim"), text(words)) for label, words in _facts(exercise, found)), first=9)
    yield Text("Step by step", "bold")
    for number, comment in enumerate(found.feedback.comments, 1):
        yield _comment(number, comment)
    if found.feedback.enough_before is not None:
        yield text(f"Enough was known to act before step {found.feedback.enough_before + 1}.")
    yield from _recalls(found)
    yield Text("To work on", "bold")
    yield from (indented(text(sentence)) for sentence in found.feedback.habit)
    yield Text("The best strategy on this aircraft", "bold")
    yield told_rows(found.reference_steps)
    yield Text("What was still unknown, in bits, over the minutes", "bold")
    yield draw_curves(found.curve, found.reference_curve, page)
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
    yield (
        "Minutes",
        (
            f"{minutes(found.minutes)} here; the best strategy takes {minutes(found.reference_minutes)} with this "
            f"fault, and expects {minutes(marked.reference)} with this report"
        ),
    )
    lost = f"{minutes(marked.lost)} given away by decisions" if marked.lost >= 1.0 else "no decision gave minutes away"
    yield "Mark", f"{lost}{_found_words(exercise, marked.found)}"
    if marked.cap < 100.0:
        yield "Cap", f"a caution was not read before its step: no mark above {marked.cap:.0f}"
    if found.feedback.needless:
        named = listing([name_of(library, one) for one in found.feedback.needless])
        yield "Needless", f"put right without having been at fault: {named}"


def _hidden(library: Library, found: Result) -> str:
    named = listing([name_of(library, one) for one in found.hidden])
    if found.there:
        return named
    return f"the report was wrong; {f'{named}, which does not show it' if named else 'nothing was at fault'}"


def _found_words(exercise: Exercise, share: float) -> str:
    if share >= 1.0:
        return ""
    if share <= 0.0 and exercise.steps and exercise.ending == "handed over":
        why = "another part was likelier than the one named" if exercise.suspect else "no suspect was named"
        return f"; {why}, which counts as nothing found"
    return f"; of what was unknown, {100 * share:.0f} % was found out"


def _comment(number: int, comment: Comment) -> RenderableType:
    figures = [minutes(comment.minutes)]
    if comment.bits is not None:
        figures.append(f"could tell {comment.bits:.2f} bit")
    if comment.regret >= 1.0:
        figures.append(f"gave away {minutes(comment.regret)}")
    head = Text.assemble(
        title(f"{comment.title}: "), title(comment.outcome, "bold"), text(f" ({', '.join(figures)})", "dim")
    )
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
