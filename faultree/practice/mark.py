"""The mark of an exercise: 100 for what the best strategy would have done with the same knowledge, less otherwise.

    mark = min(100 x V / (V + sum of regrets) x share found, cap)

V is the least expected minutes at the start and a regret what a decision gave away (`faultree.practice.judge`), in
whole minutes, so luck plays no part: each decision is judged by what was knowable. Hints count as minutes asked of a
colleague. `share found` is 1 where the symptom is gone; after a hand-over it is how many of the bits that were missing
to know which part it is were found, and 1 where the part named is as good as certain. A caution that was not read caps
the mark.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from faultree.library.model import CautionLevel, Library
from faultree.practice.doubt import doubt
from faultree.practice.exercise import Ending, Exercise, Taken
from faultree.practice.judge import CERTAIN, Choice, Outlook, begun, outlook, regret
from faultree.practice.telling import missing

CAPS: dict[CautionLevel, float] = {"warning": 40.0, "caution": 70.0, "note": 100.0}
"""The highest mark of a run in which a caution of this level was not read before its step."""

HINTS = (0.0, 2.0, 5.0, 8.0)
"""Minutes that help costs, by how far it went: what kind of step, which one, and why."""

WRONG_SUSPECT = 0.5
"""Naming a unit at the hand-over that is less than so likely as the likeliest counts as not having found it."""

SURE = 0.99
"""A part that is this likely is found: handing it over is worth as much as putting it right."""

Short = Literal["", "early", "unnamed", "less likely", "nothing there"]
"""Why a run found less than all: too much was unknown; no part was named, or one that a likelier one should have been
put before; or a part was named though what was reported was known not to be there."""


@dataclass(frozen=True, slots=True)
class Decision:
    """One step as it was judged: what could be known then, the minutes it gave away, and those of its hints."""

    taken: Taken
    seen: Outlook
    regret: float
    hints: float = 0.0


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark (0 to 100) and what it is made of.

    `reference` are the least expected minutes at the start, `lost` the sum of the regrets and hints, `found` the share
    found and `short` why it is not all, `cap` the highest mark that the cautions allow.
    """

    mark: float
    reference: float
    lost: float
    found: float
    cap: float
    ending: Ending
    decisions: tuple[Decision, ...]
    short: Short = ""


def mark(exercise: Exercise) -> Mark:
    """The mark of an exercise that has ended; ValueError before."""
    if exercise.ending is None:
        raise ValueError("an exercise is marked when it has ended")
    decisions = tuple(_decision(exercise, one) for one in exercise.steps)
    case, looked = begun(exercise)
    start = outlook(case, exercise.scenario, looked)
    lost = sum(one.regret + one.hints for one in decisions)
    short = _short(exercise)
    found = _found(exercise) if short in ("", "early") else 0.0
    cap = min((CAPS[level] for one in exercise.steps for level in _levels(exercise.library, one)), default=100.0)
    share = start.least / (start.least + lost) if start.least + lost > 0.0 else 1.0
    return Mark(min(100.0 * share * found, cap), start.least, lost, found, cap, exercise.ending, decisions, short)


def _decision(exercise: Exercise, taken: Taken) -> Decision:
    seen = outlook(taken.before, exercise.scenario, taken.looked)
    return Decision(taken, seen, float(round(regret(seen, taken))), HINTS[taken.hints])


def _levels(library: Library, taken: Taken) -> tuple[CautionLevel, ...]:
    return tuple(library.cautions[name].level for name in taken.skipped)


def _found(exercise: Exercise) -> float:
    """How much of the not-knowing was removed: 1 where nothing is left to find."""
    if exercise.ending == "restored" or exercise.looked is False or _certain(exercise):
        return 1.0
    (case, looked), scenario = begun(exercise), exercise.scenario
    first = missing(case, doubt(case, scenario, looked))
    left = missing(exercise.case, doubt(exercise.case, scenario, exercise.looked))
    return max(1.0 - left / first, 0.0) if first > 0.0 else 1.0


def _certain(exercise: Exercise) -> bool:
    """Whether the part named (where time ran out, the likeliest) is as good as certain, or enough to act on."""
    units = exercise.case.units()
    if not units or units[0].probability <= 0.0:
        return True
    named = exercise.suspect if exercise.ending == "handed over" else units[0].unit
    true = 1.0 - doubt(exercise.case, exercise.scenario, exercise.looked)
    likely = true * next((one.probability for one in units if one.unit == named), 0.0)
    return likely >= SURE or (likely >= CERTAIN and best_at(exercise) == ("replace", named))


def _short(exercise: Exercise) -> Short:
    """Why a run found less than all; empty where it did not."""
    if exercise.ending == "handed over":
        if exercise.looked is False:
            return "nothing there" if exercise.suspect else ""
        if not _names_it(exercise):
            return "less likely" if exercise.suspect else "unnamed"
    return "early" if _found(exercise) < 1.0 else ""


def _names_it(exercise: Exercise) -> bool:
    """Whether the unit named is (nearly) the likeliest, or that of the likeliest cause, which stands first on screen.

    True where nothing is left to name.
    """
    units = exercise.case.units()
    if not units or units[0].probability <= 0.0:
        return True
    first = next(one for one in exercise.case.ranking() if one.implicated)
    if exercise.suspect == (first.item or first.cause):
        return True
    named = next((one.probability for one in units if one.unit == exercise.suspect), 0.0)
    return named >= WRONG_SUSPECT * units[0].probability


def best_at(exercise: Exercise) -> Choice:
    """The best next step with what is known now."""
    return outlook(exercise.case, exercise.scenario, exercise.looked).best
