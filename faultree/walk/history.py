"""How each suspect moved from the report to now, and because of which step."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from faultree.base.words import listing, percent
from faultree.belief.evidence import Repair, Reply
from faultree.strategy.case import Case
from faultree.walk import titles
from faultree.walk.suspects import FAINT, GONE, MOVED, NOTABLE

MOST = 8
"""The courses of so many suspects are told."""


@dataclass(frozen=True, slots=True)
class Course:
    """A suspect's probabilities: by the report alone, then after each step."""

    cause: str
    title: str
    values: tuple[float, ...]

    @property
    def now(self) -> float:
        """The probability after the last step."""
        return self.values[-1]


def courses(case: Case) -> tuple[Course, ...]:
    """Every suspect that was notable at any time and that the evidence pointed to then, likeliest now first."""
    rankings = [
        {one.cause: one for one in Case(case.library, case.symptoms, case.steps[:count], case.limits).ranking()}
        for count in range(len(case.steps) + 1)
    ]
    found = []
    for cause, entry in case.library.causes.items():
        then = [ranking[cause] for ranking in rankings]
        notable = (one.implicated and one.probability >= NOTABLE for one in then)
        if any(notable) and any(one.probability - one.prior >= FAINT for one in then):
            found.append(Course(cause, entry.title, tuple(one.probability for one in then)))
    return tuple(sorted(found, key=lambda one: (-one.now, -max(one.values))))


def told(case: Case, most: int = MOST) -> tuple[str, ...]:
    """The course of each suspect as a sentence that refers to the steps by number."""
    found = courses(case)
    lines = [_sentence(case, one) for one in found[:most]]
    if len(found) > most:
        lines.append(f"and {len(found) - most} more that were at {percent(NOTABLE)} or more at some time")
    return tuple(lines)


def numbered(case: Case) -> tuple[str, ...]:
    """The steps with their numbers."""
    return tuple(f"Step {count}: {titles.sentence(case.library, step)}" for count, step in enumerate(case.steps, 1))


def _sentence(case: Case, course: Course) -> str:
    """A course in words: "pump worn: 40 % by the report, up to 90 % by step 1, excluded by step 3"."""
    moves = ", ".join((f"{percent(course.values[0])} by the report", *_moves(case, course)))
    idle = len(set(map(percent, course.values))) == 1 and len(course.values) > 1
    return f"{course.title}: {moves}" + (" and ever since" if idle else "")


def _moves(case: Case, course: Course) -> Iterator[str]:
    for count, step in enumerate(case.steps, 1):
        before, now = course.values[count - 1], course.values[count]
        if isinstance(step, Repair) and step.unit == case.unit_id(course.cause):
            yield f"put right in step {count}"
        elif now <= GONE < before:
            yield f"excluded by step {count}"
        elif abs(now - before) > MOVED and percent(now) != percent(before):
            yield f"{'up' if now > before else 'down'} to {percent(now)} by step {count}"


def idle_steps(case: Case) -> str:
    """The steps that moved no suspect that is told of, as a sentence; empty where there is none."""
    found = courses(case)
    idle = [
        str(count)
        for count, step in enumerate(case.steps, 1)
        if isinstance(step, Reply) and all(abs(one.values[count] - one.values[count - 1]) <= MOVED for one in found)
    ]
    if not idle:
        return ""
    return f"Step {idle[0]} moved none of them" if len(idle) == 1 else f"Steps {listing(idle)} moved none of them"
