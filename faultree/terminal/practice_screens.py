"""The screens of an exercise: the report, lists, cautions, what a step found, and the result with its picture."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.base.words import capital, minutes, percent
from faultree.practice.about import About
from faultree.practice.exercise import Exercise, Taken, takes
from faultree.practice.scenario import LEVELS
from faultree.practice.view import NOT_THERE, Told, suspects, told
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import LEVEL_STYLES, heading, indented, rows, suspect_table
from faultree.terminal.practice_typed import possible
from faultree.walk.prompt import NOTICE, SHORT_NOTICE
from faultree.walk.titles import said

MODES = {
    "coached": "coached: suspects are shown, and hints can be had",
    "blind": "blind: the suspects are kept in your head",
    "exam": "exam: no help, nothing is taken back, the result comes at the end",
}


def draw_start(exercise: Exercise, page: Page, clock: float | None = None) -> RenderableType:
    """The report, the rules of this exercise, and how to begin; `clock` is how many minutes are left on the clock."""
    scenario = exercise.scenario
    facts = [("Code", scenario.code or "of an exercise file"), ("Level", LEVELS.get(scenario.level, "set by hand")),
             ("Mode", MODES[exercise.mode])]  # fmt: skip
    if scenario.doubt:
        share = f"{10 * scenario.doubt:.0f} of 10 reports are wrong: look repeats the operational check"
        facts.append(("Doubt", f"{share} ({minutes(takes(exercise, 'look', ''))})"))
    if scenario.limit is not None:
        facts.append(("Time", f"the work may take {minutes(scenario.limit)}"))
    if clock is not None:
        facts.append(("Clock", f"{on_clock(clock)}; it runs on while you think, and while the run is left"))
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
    library = exercise.library
    symptom = library.symptoms[exercise.scenario.symptom]
    lines = [
        (Text("Crew", "dim"), text(f"“{exercise.scenario.words}”", "bold")),
        (Text("Report", "dim"), title(symptom.title)),
    ]
    if symptom.situation is not None:
        lines.append((Text("When", "dim"), text(library.situations[symptom.situation].title)))
    return rows(lines, first=7)


def on_clock(left: float) -> str:
    """How much time is left, rounded down so that nobody is told more than there is.

    >>> on_clock(20.0), on_clock(1.9), on_clock(0.4)
    ('20 min left', '1 min left', 'less than a minute left')
    """
    return f"{minutes(float(int(left)))} left" if left >= 1.0 else "less than a minute left"


def draw_cautions(exercise: Exercise, page: Page) -> RenderableType:
    """The cautions to be read before the step that waits."""
    lines = ((Text(one.level.upper(), LEVEL_STYLES[one.level]), text(one.text)) for one in exercise.on_view)
    return Group(
        heading("Before you start", page),
        rows(lines, first=7),
        text(f"Type ok when you have read them (skip does the step without, back leaves it). {SHORT_NOTICE}"),
    )


def draw_step(exercise: Exercise, taken: Taken, page: Page, clock: float | None = None) -> RenderableType:
    """What a step found, what it took, how long the clock still runs, and, where coached, who is still suspected."""
    shown = told(exercise)[-1]
    parts: list[RenderableType] = [
        Text.assemble("Done:  ", text(shown.title)),
        Text.assemble("Found: ", title(shown.outcome, "bold")),
        text(f"{minutes(taken.minutes)}, {minutes(exercise.minutes)} so far{_clock(clock)}", "dim"),
    ]
    if exercise.looked is False and exercise.ending is None:
        if taken.action == "check":
            parts.append(text("The answers and the report cannot all be right."))
        parts.append(text(NOT_THERE))
    if exercise.mode == "coached" and exercise.ending is None and exercise.looked is not False:
        parts += ["", draw_suspects(exercise, page)]
    return Group("", *parts)


def _clock(left: float | None) -> str:
    return "" if left is None else f"; on the clock {on_clock(left)}"


def draw_suspects(exercise: Exercise, page: Page, *, everyone: bool = False) -> RenderableType:
    """Who is still suspected, likeliest first, and how likely it is that the report is wrong."""
    found, unsure = suspects(exercise, everyone=everyone)
    parts: list[RenderableType] = [Text("Suspects", "bold"), suspect_table(found, page, letters=False)]
    if unsure > 0.0:
        parts.append(indented(text(f"With {percent(unsure)} the report is wrong and it is none of them.")))
    return Group(*parts)


def draw_about(found: About, page: Page) -> RenderableType:
    """What a manual would say of a system or a part."""
    lines = [
        Text.assemble(title(f"{label}: ", "dim"), text(words)) if label else text(words) for label, words in found.lines
    ]
    return Group(heading(capital(found.title), page), *map(text, found.sentences), *map(indented, lines))


def draw_found(exercise: Exercise, page: Page) -> RenderableType:
    """What was found so far."""
    return Group(
        heading("Found so far", page, f"{minutes(exercise.minutes)} spent"),
        told_rows(told(exercise)) if exercise.steps else text("Nothing yet."),
    )


def told_rows(steps: Sequence[Told]) -> RenderableType:
    """Steps with their outcomes, numbered."""
    return rows(((Text(f"{number:>2}", "bold"), _told(one)) for number, one in enumerate(steps, 1)), first=2)


def _told(one: Told) -> RenderableType:
    head = outcome_line(one.title, one.outcome, minutes(one.minutes))
    return Group(head, text(one.note)) if one.note else head


def outcome_line(asked: str, outcome: str, figures: str) -> Text:
    """A step with its outcome and figures on one line; a question is not followed by a colon."""
    asked = said(asked, outcome).removesuffix(outcome)
    return Text.assemble(title(asked), title(outcome, "bold"), text(f" ({figures})", "dim"))


def draw_help(exercise: Exercise, page: Page) -> RenderableType:
    """Every command of this mode."""
    look = f" ({minutes(takes(exercise, 'look', ''))})"
    pairs = (
        (Text(f"{one.word} {one.takes}".strip(), "bold"), text(one.does + (look if one.word == "look" else "")))
        for one in possible(exercise.mode)
    )
    return Group(heading("What can be typed", page), rows(pairs, first=16))
