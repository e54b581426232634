"""The mark of an exercise: 100 for what the best strategy would have done with the same knowledge, less otherwise.

    mark = min(100 x V / (V + sum of regrets) x share found, cap)

V is the least expected minutes at the start and a regret what a decision gave away (`faultree.practice.judge`), so
luck plays no part: each decision is judged by what was knowable. Hints count as minutes asked of a colleague.
`share found` is 1 where the symptom is gone; after a hand-over it is how much of the not-knowing was removed. A
caution that was not read caps the mark.
"""

from __future__ import annotations

from dataclasses import dataclass

from faultree.library.model import CautionLevel, Library
from faultree.practice.exercise import Ending, Exercise, Taken
from faultree.practice.judge import Choice, Outlook, begun, ignorance, outlook, regret

CAPS: dict[CautionLevel, float] = {"warning": 40.0, "caution": 70.0, "note": 100.0}
"""The highest mark of a run in which a caution of this level was not read before its step."""

HINTS = (0.0, 2.0, 5.0, 8.0)
"""Minutes that help costs, by how far it went: what kind of step, which one, and why."""

WRONG_SUSPECT = 0.5
"""Naming a unit at the hand-over that is less than so likely as the likeliest counts as not having found it."""


@dataclass(frozen=True, slots=True)
class Decision:
    """One step as it was judged: what could be known then, and the expected minutes it gave away (help included)."""

    taken: Taken
    seen: Outlook
    regret: float


@dataclass(frozen=True, slots=True)
class Mark:
    """A mark (0 to 100) and what it is made of.

    `reference` are the least expected minutes at the start, `lost` the sum of the regrets, `found` the share found,
    `cap` the highest mark that the cautions allow.
    """

    mark: float
    reference: float
    lost: float
    found: float
    cap: float
    ending: Ending
    decisions: tuple[Decision, ...]


def mark(exercise: Exercise) -> Mark:
    """The mark of an exercise that has ended; ValueError before."""
    if exercise.ending is None:
        raise ValueError("an exercise is marked when it has ended")
    decisions = tuple(_decision(exercise, one) for one in exercise.steps)
    case, looked = begun(exercise)
    start = outlook(case, exercise.scenario, looked)
    lost = sum(one.regret for one in decisions)
    found = _found(exercise)
    cap = min((CAPS[level] for one in exercise.steps for level in _levels(exercise.library, one)), default=100.0)
    share = start.least / (start.least + lost) if start.least + lost > 0.0 else 1.0
    return Mark(min(100.0 * share * found, cap), start.least, lost, found, cap, exercise.ending, decisions)


def _decision(exercise: Exercise, taken: Taken) -> Decision:
    seen = outlook(taken.before, exercise.scenario, taken.looked)
    return Decision(taken, seen, regret(seen, taken, exercise.scenario.doubt) + HINTS[taken.hints])


def _levels(library: Library, taken: Taken) -> tuple[CautionLevel, ...]:
    return tuple(library.cautions[name].level for name in taken.skipped)


def _found(exercise: Exercise) -> float:
    """How much of the not-knowing was removed: 1 where the report is gone, or is known to be wrong."""
    if exercise.ending == "restored" or exercise.looked is False:
        return 1.0
    case, looked = begun(exercise)
    first = ignorance(case, exercise.scenario, looked)
    left = ignorance(exercise.case, exercise.scenario, exercise.looked)
    if exercise.ending == "handed over" and not _names_it(exercise):
        return 0.0
    return max(1.0 - left / first, 0.0) if first > 0.0 else 1.0


def _names_it(exercise: Exercise) -> bool:
    """Whether the unit named is (nearly) the likeliest; true where nothing is left to name."""
    units = exercise.case.units()
    if not units or units[0].probability <= 0.0:
        return True
    named = next((one.probability for one in units if one.unit == exercise.suspect), 0.0)
    return named >= WRONG_SUSPECT * units[0].probability


def best_at(exercise: Exercise) -> Choice:
    """The best next step with what is known now."""
    return outlook(exercise.case, exercise.scenario, exercise.looked).best
