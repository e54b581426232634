"""What a trainee is shown, as frozen values: the report, lists of what can be done, and the result at the end."""

from __future__ import annotations

from dataclasses import dataclass, replace

from faultree.library.model import Library, Who
from faultree.practice.curve import Moment, curve
from faultree.practice.doubt import doubt
from faultree.practice.exercise import Exercise, Taken, takes
from faultree.practice.feedback import (
    Comment,
    Feedback,
    asked_title,
    at_the_end,
    feedback,
    outcome,
    step_title,
    wrong_answer,
)
from faultree.practice.judge import Outlook, outlook
from faultree.practice.mark import HINTS, Mark, mark
from faultree.practice.recall import Recall, recall
from faultree.practice.reference import reference
from faultree.practice.telling import open_suspects
from faultree.walk import cautions
from faultree.walk.names import matches
from faultree.walk.prompt import SHORT_NOTICE, Suspects
from faultree.walk.state import CheckStep, RepairStep
from faultree.walk.suspects import everyone as every_suspect
from faultree.walk.suspects import leading
from faultree.walk.titles import title, unit_title

SUSPECTS = 8
"""So many suspects have a line of their own."""

NOT_THERE = (
    "What was reported is not there, so no part is to be taken out for it. That clears nothing: the report stands. "
    "Hand over without a suspect, so that it is written down that it could not be seen again."
)


@dataclass(frozen=True, slots=True)
class Option:
    """A check or unit that can be chosen: what it takes now (access still to open included), who does it, and where."""

    target: str
    title: str
    minutes: float
    by: Who
    cautions: bool
    place: str = ""


@dataclass(frozen=True, slots=True)
class Told:
    """What was found so far: each step with its outcome; `note` says that it was taken back, or, at the end, wrong."""

    title: str
    outcome: str
    minutes: float
    note: str = ""


@dataclass(frozen=True, slots=True)
class Result:
    """The end of an exercise: the mark with its feedback, the truth, and the best strategy on the same aircraft.

    `left` are the hidden causes that are still there though the symptom is gone.
    """

    mark: Mark
    feedback: Feedback
    hidden: tuple[str, ...]
    there: bool
    minutes: float
    reference_minutes: float
    reference_steps: tuple[Told, ...]
    curve: tuple[Moment, ...]
    reference_curve: tuple[Moment, ...]
    left: tuple[str, ...] = ()
    recalls: tuple[Recall, ...] = ()


def check_options(exercise: Exercise, words: str = "") -> tuple[Option, ...]:
    """The checks that have no answer yet; those of a system, or that fit some words, where these are given."""
    library, scenario = exercise.library, exercise.scenario
    left = {name: one for name, one in library.checks.items() if name not in exercise.done | scenario.closed}
    found = _wanted(library, {name: one.title for name, one in left.items()}, words)
    return tuple(
        Option(name, left[name].title, takes(exercise, "check", name), left[name].by, _care(exercise, CheckStep(name)))
        for name in found
    )


def unit_options(exercise: Exercise, words: str = "") -> tuple[Option, ...]:
    """The units that can be put right: those of a system, or that fit some words, where these are given."""
    library = exercise.library
    done = {one.target for one in exercise.steps if one.action == "replace"}
    units = dict.fromkeys(cause.item or cause.id for cause in library.causes.values())
    found = _wanted(library, {unit: unit_title(library, unit) for unit in units if unit not in done}, words)
    return tuple(
        Option(
            unit,
            unit_title(library, unit),
            takes(exercise, "replace", unit),
            "line",
            _care(exercise, RepairStep(unit)),
            library.items[unit].place if unit in library.items else "",
        )
        for unit in found
    )


def named_units(exercise: Exercise, words: str) -> tuple[Option, ...]:
    """The units that some words mean: by their own title, else by that of a cause."""
    found = unit_options(exercise, words)
    if found or not words:
        return found
    causes = matches(words, {name: one.title for name, one in exercise.library.causes.items()})
    units = {exercise.library.causes[name].item or name for name in causes}
    return tuple(one for one in unit_options(exercise) if one.target in units)


def _wanted(library: Library, table: dict[str, str], words: str) -> list[str]:
    if not words:
        return list(table)
    if words in library.systems:
        return [name for name in table if name.partition("/")[0] == words]
    return matches(words, table)


def _care(exercise: Exercise, pending: CheckStep | RepairStep) -> bool:
    return bool(cautions.before(exercise.case, pending))


def told(exercise: Exercise) -> tuple[Told, ...]:
    """What was found so far; once the exercise is over, also which answers were wrong."""
    return tuple(
        Told(asked_title(exercise, one), outcome(exercise, one), one.minutes, _note(exercise, one))
        for one in exercise.steps
    )


def _note(exercise: Exercise, taken: Taken) -> str:
    if taken.taken_back:
        return "Taken back; its minutes are spent."
    return wrong_answer(exercise, taken) if exercise.ending is not None else ""


def hint(exercise: Exercise) -> str:
    """Help with the next step, as far as it was asked for: what kind of step, which one, and why; empty without a hint.

    Computed from what the answers so far leave open.
    """
    if not exercise.hints:
        return ""
    seen = outlook(exercise.case, exercise.scenario, exercise.looked)
    action, target = seen.best
    if action == "hand over":
        return NOT_THERE if exercise.looked is False else "Nothing is left to find: hand over."
    if action == "look":
        return "The report may be wrong: repeat the operational check first (look)."
    price = f"(Hints at this step count {HINTS[exercise.hints]:.0f} min in the mark.)"
    if exercise.hints == 1:
        return f"{_kind(exercise, action, target)} {price} {SHORT_NOTICE}"
    name = step_title(exercise, action, target)
    why = "" if exercise.hints == 2 else f" {_why(exercise, seen)}"
    return f"Best next: {name}.{why} {price} {SHORT_NOTICE}"


def _kind(exercise: Exercise, action: str, target: str) -> str:
    library = exercise.library
    if action == "replace":
        return "Enough is known to put something right now."
    system = library.systems[target.partition("/")[0]].title
    return f"A check would tell more first; look among those of: {system}."


def _why(exercise: Exercise, seen: Outlook) -> str:
    action, target = seen.best
    if action == "replace":
        unit = next(one for one in exercise.case.units() if one.unit == target)
        return f"It is at fault with {100 * unit.probability:.0f} %, and no check is worth its time before."
    sentences = exercise.case.why(target)
    return " ".join(sentences)


def suspects(exercise: Exercise, *, everyone: bool = False) -> tuple[Suspects, float]:
    """The suspects as a trainee sees them, and the chance that the report is wrong, which their figures allow for."""
    found = every_suspect(exercise.case) if everyone else leading(exercise.case, SUSPECTS)
    unsure = doubt(exercise.case, exercise.scenario, exercise.looked)
    lines = tuple(replace(one, probability=(1.0 - unsure) * one.probability) for one in found.lines)
    return replace(found, lines=lines, at_most=(1.0 - unsure) * found.at_most), unsure


def suspects_left(exercise: Exercise) -> tuple[str, ...]:
    """Titles of the causes that are still open, likeliest first; for coached exercises and for feedback."""
    return tuple(title(exercise.library, one) for one in open_suspects(exercise.case))


def result(exercise: Exercise) -> Result:
    """Everything about an exercise that has ended; ValueError before."""
    marked = mark(exercise)
    best = reference(exercise.library, exercise.scenario)
    return Result(
        mark=marked,
        feedback=feedback(exercise, marked),
        hidden=tuple(sorted(exercise.scenario.hidden)),
        there=exercise.scenario.there,
        minutes=exercise.minutes,
        reference_minutes=best.minutes,
        reference_steps=told(best),
        curve=curve(exercise),
        reference_curve=curve(best),
        left=tuple(sorted(exercise.world.remaining(exercise.repaired))) if marked.ending == "restored" else (),
        recalls=recall(exercise),
    )


def summary(exercise: Exercise, found: Result) -> dict[str, object]:
    """What a journal keeps of a run beside its mark: plain data for progress and class sheets."""
    comments: tuple[Comment, ...] = found.feedback.comments
    end = [mistake.name] if (mistake := at_the_end(found.mark)) is not None else []
    return {
        "level": exercise.scenario.level,
        "minutes": found.minutes,
        "reference_minutes": found.reference_minutes,
        "expected_minutes": found.mark.reference,
        "lost": found.mark.lost,
        "ending": found.mark.ending,
        "steps": len(comments),
        "hints": sum(one.hints for one in exercise.steps),
        "needless": list(found.feedback.needless),
        "hidden": list(found.hidden),
        "named": sum(len(one.right) for one in found.recalls),
        "left_out": sum(len(one.left_out) for one in found.recalls),
        "named_excluded": sum(len(one.excluded) for one in found.recalls),
        "mistakes": [*(mistake.name for one in comments for mistake in one.mistakes), *end],
    }
