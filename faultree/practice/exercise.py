"""The course of an exercise: a state and an event give the next state; the aircraft answers, nothing is ranked here.

A state holds what a trainee could know: the case of all answers so far. What they cost, what they could
have told and what would have been better is judged afterwards from the steps (`faultree.practice.judge`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Literal

from faultree.base.errors import CaseError, Contradiction, FaultreeError
from faultree.library.model import Caution, Library
from faultree.practice import care
from faultree.practice.care import LookStep
from faultree.practice.events import (
    Ask,
    Event,
    HandOver,
    Hint,
    Leave,
    Look,
    Possible,
    PutRight,
    Read,
    Skip,
    TakeBack,
    TimeUp,
)
from faultree.practice.scenario import Scenario
from faultree.practice.world import World
from faultree.strategy.case import Case
from faultree.walk import effort
from faultree.walk.state import CheckStep, RepairStep

Mode = Literal["coached", "blind", "exam"]
MODES: tuple[Mode, ...] = ("coached", "blind", "exam")

Ending = Literal["restored", "handed over", "out of time"]
"""How an exercise ends with a mark; one that was left has none."""


# --- the state ---------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Taken:
    """A step that was made, and what the trainee could know when it was chosen.

    `action` is "check", "replace" or "look"; `target` the check or unit, `outcome` the answer's id, or "gone" or
    "there" where the operational check was repeated. `before` is the case at the decision, `looked` what was known
    then of the report itself (None: not looked at). `skipped` are the cautions that were not read, `hints` how far
    help went.
    """

    action: Literal["check", "replace", "look"]
    target: str
    outcome: str
    minutes: float
    before: Case
    looked: bool | None
    skipped: tuple[str, ...] = ()
    hints: int = 0
    taken_back: bool = False


def step_of(taken: Taken) -> care.Step:
    """A step that was made as the step that it was before."""
    if taken.action == "look":
        return LookStep()
    return CheckStep(taken.target) if taken.action == "check" else RepairStep(taken.target)


@dataclass(frozen=True, slots=True)
class Named:
    """What was named as still possible (unit ids), after how many steps, and what could be known then."""

    units: tuple[str, ...]
    after: int
    before: Case
    looked: bool | None


@dataclass(frozen=True, slots=True)
class Exercise:
    """Where an exercise stands; every event gives a new one.

    `looked` says whether what was reported is there, as far as that is known: None before anybody looked. It is
    False too once the answers cannot be true together with the report.
    """

    library: Library
    scenario: Scenario
    mode: Mode
    case: Case
    steps: tuple[Taken, ...] = ()
    looked: bool | None = None
    pending: care.Step | None = None
    hints: int = 0
    ending: Ending | None = None
    suspect: str = ""
    named: tuple[Named, ...] = ()

    @property
    def world(self) -> World:
        """The aircraft."""
        return World(self.library, self.scenario)

    @property
    def minutes(self) -> float:
        """Minutes spent, those of steps that were taken back included."""
        return sum(one.minutes for one in self.steps)

    @property
    def on_view(self) -> tuple[Caution, ...]:
        """The cautions to be read before the step that waits; empty where none waits."""
        return () if self.pending is None else care.before(self.case, self.pending)

    @property
    def repaired(self) -> tuple[str, ...]:
        """Units that were put right, in order."""
        return tuple(one.target for one in self.steps if one.action == "replace")

    @property
    def done(self) -> frozenset[str]:
        """Checks that have an answer."""
        return frozenset(one.target for one in self.steps if one.action == "check" and not one.taken_back)


@dataclass(frozen=True, slots=True)
class Turn:
    """What an event led to: the new state, and words where it was refused."""

    exercise: Exercise
    refused: str = ""


def begin(library: Library, scenario: Scenario, mode: Mode = "coached") -> Exercise:
    """An exercise at its beginning; raises CaseError where the scenario belongs to another library."""
    if scenario.library and scenario.library != library.digest:
        raise CaseError("this exercise was made with another version of the tree files; use that one")
    case = Case.open(library, [scenario.symptom])
    return Exercise(library, scenario, mode, case, looked=None if scenario.doubt else True)


def step(exercise: Exercise, event: Event) -> Turn:
    """What `event` leads to; one that is not possible is refused with words and changes nothing."""
    if exercise.ending is not None:
        return Turn(exercise, "The exercise is over.")
    try:
        return Turn(_within_limit(_HANDLERS[type(event)](exercise, event)))
    except FaultreeError as error:
        return Turn(exercise, f"{str(error)[:1].upper()}{str(error)[1:]}.")


def _within_limit(exercise: Exercise) -> Exercise:
    """The exercise as it is, or ended where the work took longer than it may; the step under way is finished."""
    limit = exercise.scenario.limit
    if exercise.ending is not None or limit is None or exercise.minutes <= limit:
        return exercise
    return replace(exercise, ending="out of time", pending=None)


# --- choosing ----------------------------------------------------------------------------------


def _ask(exercise: Exercise, event: Ask) -> Exercise:
    check = exercise.library.check_id(event.check)
    if check in exercise.done:
        raise CaseError("this check has its answer already; asked again it would say the same")
    if check in exercise.scenario.closed:
        raise CaseError("this check cannot be made today")
    return _choose(exercise, CheckStep(check))


def _put_right(exercise: Exercise, event: PutRight) -> Exercise:
    unit = exercise.case.unit_id(event.unit)
    if unit in exercise.repaired:
        raise CaseError("this was put right already")
    return _choose(exercise, RepairStep(unit))


def _look(exercise: Exercise, event: Look) -> Exercise:
    del event
    return _choose(exercise, LookStep())


def _choose(exercise: Exercise, pending: care.Step) -> Exercise:
    chosen = replace(exercise, pending=pending)
    return chosen if chosen.on_view else _carry_out(chosen, ())


def _read(exercise: Exercise, event: Read) -> Exercise:
    del event
    return _carry_out(_waiting(exercise), ())


def _skip(exercise: Exercise, event: Skip) -> Exercise:
    del event
    return _carry_out(exercise, tuple(one.id for one in _waiting(exercise).on_view))


def _leave(exercise: Exercise, event: Leave) -> Exercise:
    del event
    return replace(_waiting(exercise), pending=None)


def _waiting(exercise: Exercise) -> Exercise:
    if exercise.pending is None:
        raise CaseError("no step waits for its cautions")
    return exercise


# --- carrying out ------------------------------------------------------------------------------


def _carry_out(exercise: Exercise, skipped: tuple[str, ...]) -> Exercise:
    pending = exercise.pending
    if isinstance(pending, CheckStep):
        return _checked(exercise, pending.check, skipped)
    if isinstance(pending, LookStep):
        return _looked(exercise, skipped)
    assert isinstance(pending, RepairStep)  # one of the three is on view
    return _repaired_now(exercise, pending.unit, skipped)


def _checked(exercise: Exercise, check: str, skipped: tuple[str, ...]) -> Exercise:
    answer = exercise.world.answer(check, exercise.repaired)
    return _learnt(exercise, "check", check, answer, skipped, lambda case: case.answer(check, answer))


def _repaired_now(exercise: Exercise, unit: str, skipped: tuple[str, ...]) -> Exercise:
    gone = not exercise.world.shows([*exercise.repaired, unit])
    done = _learnt(
        exercise, "replace", unit, "gone" if gone else "there", skipped, lambda case: case.repair(unit, gone=gone)
    )
    if done.looked is False:
        return done
    return replace(done, ending="restored") if gone else replace(done, looked=True)  # it was seen just now


def _learnt(
    exercise: Exercise,
    action: Literal["check", "replace"],
    target: str,
    outcome: str,
    skipped: tuple[str, ...],
    learn: Callable[[Case], Case],
) -> Exercise:
    before, looked = exercise.case, exercise.looked
    try:
        case = learn(before)
    except Contradiction:
        # Checks that never err and the report cannot all be right: then the report is wrong.
        case, looked = before, False
    minutes = takes(exercise, action, target)
    taken = Taken(action, target, outcome, minutes, before, exercise.looked, skipped, exercise.hints)
    return replace(exercise, case=case, looked=looked, steps=(*exercise.steps, taken), pending=None, hints=0)


def takes(exercise: Exercise, action: str, target: str) -> float:
    """Minutes that a step takes now: with the access to open, and behind a replacement the operational check."""
    library = exercise.library
    if action == "look":
        return library.symptoms[exercise.scenario.symptom].retest
    opened = frozenset(name for one in exercise.steps for name in _access(library, one.action, one.target))
    if action == "check":
        return effort.of_check(library, target, opened).total
    return effort.of_repair(library, target, [exercise.scenario.symptom], opened).total


def _access(library: Library, action: str, target: str) -> tuple[str, ...]:
    if action == "look":
        return ()
    entry = library.checks.get(target) if action == "check" else library.items.get(target)
    return entry.access if entry else ()


def _looked(exercise: Exercise, skipped: tuple[str, ...]) -> Exercise:
    there = exercise.world.shows(exercise.repaired)
    minutes = takes(exercise, "look", "")
    outcome = "there" if there else "gone"
    taken = Taken("look", "", outcome, minutes, exercise.case, exercise.looked, skipped, exercise.hints)
    known = there if exercise.looked is None else exercise.looked
    return replace(exercise, looked=known, steps=(*exercise.steps, taken), pending=None, hints=0)


# --- help and endings --------------------------------------------------------------------------


def _hint(exercise: Exercise, event: Hint) -> Exercise:
    del event
    if exercise.mode != "coached":
        raise CaseError("there are no hints in this mode")
    return replace(exercise, hints=min(exercise.hints + 1, 3))


def _take_back(exercise: Exercise, event: TakeBack) -> Exercise:
    del event
    if exercise.mode == "exam":
        raise CaseError("in an exam nothing is taken back")
    if exercise.pending is not None:
        return replace(exercise, pending=None)
    place = next((p for p in reversed(range(len(exercise.steps))) if not exercise.steps[p].taken_back), None)
    if place is None:
        raise CaseError("there is no answer to take back yet")
    last = exercise.steps[place]
    if last.action == "replace":
        raise CaseError("what was put right stays so; only an answer can be taken back")
    steps = (*exercise.steps[:place], replace(last, taken_back=True), *exercise.steps[place + 1 :])
    return replace(exercise, case=last.before, looked=last.looked, steps=steps, hints=0)


def _possible(exercise: Exercise, event: Possible) -> Exercise:
    if exercise.mode == "coached":
        raise CaseError("the suspects are on view in this mode; name them in a blind exercise")
    units = [exercise.case.unit_id(name) for one in event.units.split(",") if (name := one.strip())]
    named = Named(tuple(dict.fromkeys(units)), len(exercise.steps), exercise.case, exercise.looked)
    kept = tuple(one for one in exercise.named if one.after < named.after)
    return replace(exercise, named=(*kept, named))


def _hand_over(exercise: Exercise, event: HandOver) -> Exercise:
    suspect = exercise.case.unit_id(event.suspect) if event.suspect else ""
    return replace(exercise, ending="handed over", suspect=suspect, pending=None)


def _time_up(exercise: Exercise, event: TimeUp) -> Exercise:
    suspect = exercise.case.unit_id(event.suspect) if event.suspect else ""
    return replace(exercise, ending="out of time", suspect=suspect, pending=None)


_HANDLERS: dict[type[Event], Callable[[Exercise, Any], Exercise]] = {
    Ask: _ask,
    PutRight: _put_right,
    Look: _look,
    Read: _read,
    Skip: _skip,
    Leave: _leave,
    Hint: _hint,
    TakeBack: _take_back,
    Possible: _possible,
    HandOver: _hand_over,
    TimeUp: _time_up,
}
