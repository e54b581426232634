"""One case as an immutable value: what was reported and found, and what follows from it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.base.errors import CaseError, UnknownName
from faultree.belief.conflict import contradiction
from faultree.belief.engine import Limits
from faultree.belief.evidence import Repair, Reply, Step, reading_of
from faultree.belief.explain import Explanation
from faultree.belief.frame import Frame, frame_of
from faultree.belief.plan import finding
from faultree.belief.posterior import Posterior, Suspect
from faultree.belief.reasons import why_cause, why_check
from faultree.library.model import find
from faultree.strategy.advice import AHEAD, Advice, advise
from faultree.strategy.bench import Bench
from faultree.strategy.clearing import clearing_of
from faultree.strategy.worth import Worth, worths

if TYPE_CHECKING:
    from faultree.library.model import Library

SAVED = 1
"""The number of the saved form that `to_dict` writes."""


class Unit(NamedTuple):
    """A replaceable item, or a cause that has none: P(at fault), and its causes by probability."""

    unit: str
    probability: float
    causes: tuple[Suspect, ...]


class Outlook(NamedTuple):
    """What one answer would leave: how likely it is, and the ranking after it."""

    probability: float
    ranking: tuple[Suspect, ...]


@dataclass(frozen=True)
class Case:
    """Reports and steps over one library; every method that adds something returns a new case.

    Ids are full; methods accept short ids where they are unique. A case that contradicts itself
    cannot be made: the step that would do so raises Contradiction.
    """

    library: Library
    symptoms: tuple[str, ...]
    steps: tuple[Step, ...] = ()
    limits: Limits = Limits()

    @classmethod
    def open(cls, library: Library, symptoms: Iterable[str], limits: Limits = Limits()) -> Case:
        """A case of one or more reports; raises UnknownName, CaseError (none given), Contradiction."""
        names = tuple(dict.fromkeys(library.symptom_id(name) for name in symptoms))
        if not names:
            raise CaseError("a case needs at least one symptom")
        return cls(library, names, (), limits)

    def __post_init__(self) -> None:
        """Refuse a case that nothing explains."""
        if not self._posterior.possible:
            raise contradiction(self.library, self.symptoms, self.steps, self._posterior.log_z_of)

    @cached_property
    def _frame(self) -> Frame:
        return frame_of(self.library)

    @cached_property
    def _posterior(self) -> Posterior:
        return Posterior(self._frame, self.symptoms, self.steps, self.limits)

    def _with(self, steps: Iterable[Step]) -> Case:
        return Case(self.library, self.symptoms, tuple(steps), self.limits)

    # -- steps -----------------------------------------------------------------------------------

    def answer(self, check: str, answer: str) -> Case:
        """The case after a check was answered; a reply to a check answered before takes its place.

        Raises UnknownName for the check or the answer, and Contradiction where no set of faults
        explains everything then.
        """
        name = self.library.check_id(check)
        return self._replied(Reply(name, self.library.checks[name].answer(answer).id))

    def cannot_tell(self, check: str) -> Case:
        """The case after a check that gave no answer: it changes no probability and is not asked again."""
        return self._replied(Reply(self.library.check_id(check), None))

    def _replied(self, reply: Reply) -> Case:
        return self._with([*self._others(reply.check), reply])

    def _others(self, check: str) -> list[Step]:
        return [step for step in self.steps if not (isinstance(step, Reply) and step.check == check)]

    def repair(self, unit: str, *, gone: bool | None = False) -> Case:
        """The case after a unit (item, or cause without one) was put right and the report looked at again.

        With `gone` every report has cleared, without it every one is still there; None where that cannot be told.
        """
        name = self.unit_id(unit)
        if self._frame.prior.index[name] in self._posterior.repaired:
            raise CaseError(f"'{name}' was put right already in this case; undo that step first")
        return self._with([*self.steps, Repair(name, gone)])

    def without(self, check: str) -> Case:
        """The case with the reply to a check taken back."""
        return self._with(self._others(self.library.check_id(check)))

    def undo(self) -> Case:
        """The case before its last step; raises CaseError where there is none."""
        if not self.steps:
            raise CaseError("there is no step to undo")
        return self._with(self.steps[:-1])

    def unit_id(self, name: str) -> str:
        """The full id of a unit: an item's, that of a cause without item, or the item of a cause."""
        if name in self._frame.prior.index:
            return name
        items, causes = self.library.items, self.library.causes
        if name in causes or not any(name in (full, full.partition("/")[2]) for full in items):
            cause = causes[self.library.cause_id(name)]
            return cause.item or cause.id
        item = self.library.item_id(name)
        if item not in self._frame.prior.index:
            raise CaseError(f"nothing can be wrong with '{item}' in this library: no cause belongs to it")
        return item

    # -- what follows ------------------------------------------------------------------------------

    @property
    def bound(self) -> float:
        """No probability is off by more than this; 0.0 where exact."""
        return self._posterior.bound

    @cached_property
    def _ranking(self) -> tuple[Suspect, ...]:
        return self._posterior.ranking()

    def ranking(self) -> tuple[Suspect, ...]:
        """Every cause of the library, most likely first."""
        return self._ranking

    def units(self) -> tuple[Unit, ...]:
        """What would be replaced or repaired, most likely first; only what the evidence reaches."""
        grouped: dict[str, list[Suspect]] = {}
        for suspect in self._ranking:
            if suspect.implicated:
                grouped.setdefault(suspect.item or suspect.cause, []).append(suspect)
        units = [
            Unit(unit, min(sum(one.probability for one in some), 1.0), tuple(some)) for unit, some in grouped.items()
        ]
        return tuple(sorted(units, key=lambda unit: -unit.probability))

    def explanations(self, limit: int = 20, least: float = 0.0) -> tuple[Explanation, ...]:
        """Minimal consistent fault sets, heaviest first, down to a least probability."""
        return tuple(self._posterior.explanations(limit, least))

    def checks(self, by: Iterable[str] | None = None, *, leaving_out: Collection[str] = ()) -> tuple[Worth, ...]:
        """Every check that has no reply yet, most bits first.

        `by` keeps those for crew, line or shop; `leaving_out` names checks (full ids) that cannot be made.
        """
        allowed = None if by is None else frozenset(by)
        done = {step.check for step in self.steps if isinstance(step, Reply)}
        opened = self.opened
        minutes = {
            name: check.minutes + self._access_minutes(check.access, opened)
            for name, check in self.library.checks.items()
            if name not in done and name not in leaving_out and (allowed is None or check.by in allowed)
        }
        return tuple(worths(self._posterior, list(minutes), minutes))

    def advice(
        self,
        by: Iterable[str] | None = None,
        limit: int = 24,
        *,
        leaving_out: Collection[str] = (),
        ahead: int = AHEAD,
    ) -> tuple[Advice, ...]:
        """What to do next, least expected minutes to restoration first.

        A shortlist of `limit` checks (by bits per minute) is looked at closely, and the best repairs. `leaving_out`
        names checks and units (full ids) that are not advised because they cannot be done now; a repair that is left
        undone until later still counts in the expected minutes. The best few are followed to their end (`ahead`).
        """
        telling = [worth for worth in self.checks(by, leaving_out=leaving_out) if worth.bits > 1e-9]
        telling.sort(key=lambda worth: -worth.bits / max(worth.minutes, 0.1))
        most = min(limit, max(3, self.limits.work // max(1, 3 * self._posterior.plan.size)))
        return advise(self._posterior, self._bench, telling, self.opened, most, leaving_out, ahead)

    @cached_property
    def _bench(self) -> Bench:
        posterior, library = self._posterior, self.library
        inside = sorted(posterior.implicated - posterior.repaired)
        units = tuple(self._frame.prior.roots[row].unit for row in inside)
        retest = sum(library.symptoms[name].retest for name in self.symptoms)
        minutes = [(library.items.get(unit) or library.causes[unit]).minutes + retest for unit in units]
        access = tuple(self._access(unit) for unit in units)
        clearing = clearing_of(posterior, units)
        prior = np.array([1.0 - self._frame.prior.roots[row].probabilities[0] for row in inside])
        rows, costs = np.array(inside, dtype=np.intp), np.maximum(minutes, 1e-6)
        wrong = any(library.symptoms[name].false_report > 0.0 for name in self.symptoms)
        return Bench(units, rows, costs, access, clearing, prior, certain=not (wrong or self.untold))

    def _access(self, unit: str) -> Mapping[str, float]:
        item = self.library.items.get(unit)
        return {name: self.library.access[name].minutes for name in item.access} if item else {}

    def clears(self, unit: str) -> float:
        """P(every report is gone once this unit is put right / evidence).

        Not the same as P(unit at fault): another fault may be enough by itself.
        """
        name = self.unit_id(unit)
        return self._posterior.clears(self._frame.prior.index[name])

    @property
    def untold(self) -> bool:
        """Whether nobody could tell what came of the last repair, so that the report may be gone already."""
        repairs = [step for step in self.steps if isinstance(step, Repair)]
        return bool(repairs) and repairs[-1].gone is None

    @cached_property
    def cured(self) -> float:
        """P(every report is gone already / evidence): above 0 only where nobody could tell what a repair did."""
        return self._posterior.clears() if self.untold else 0.0

    def outlook(self, check: str) -> dict[str, Outlook]:
        """For each answer of a check: how likely it is, and the ranking that it would leave.

        An answer that cannot come has probability 0 and an empty ranking.
        """
        name = self.library.check_id(check)
        worth = next((one for one in self.checks() if one.check == name), None)
        if worth is None:
            raise CaseError(f"check '{name}' was answered already in this case")
        readings = [reading_of(self._frame, Reply(name, answer), self._posterior.repaired) for answer in worth.answers]
        results = self._posterior.plan.run_columns(self._posterior.findings, [[finding(one)] for one in readings])
        found = {}
        for (answer, probability), result in zip(worth.answers.items(), results, strict=True):
            possible = result.log_z > float("-inf")
            ranking = self._posterior.ranking(result.causes.tolist()) if possible else ()
            found[answer] = Outlook(probability if possible else 0.0, ranking)
        return found

    def why(self, name: str) -> tuple[str, ...]:
        """Plain sentences about a cause or a check.

        For a cause that is possible: the steps that lead from it to each report. For an excluded one: the answer
        that excludes it. For a check: what it separates. Raises UnknownName for anything else.
        """
        library = self.library
        if name in library.checks:
            return why_check(self._posterior, name)
        try:
            return why_cause(self._posterior, library.cause_id(name))
        except UnknownName as unknown:
            if unknown.ambiguous:
                raise
        return why_check(self._posterior, find("cause or check", library.checks, name))

    # -- what was spent ----------------------------------------------------------------------------

    @cached_property
    def opened(self) -> frozenset[str]:
        """Access that the steps so far have opened."""
        return frozenset(name for step in self.steps for name in self._step_access(step))

    def _step_access(self, step: Step) -> tuple[str, ...]:
        if isinstance(step, Reply):
            return self.library.checks[step.check].access
        item = self.library.items.get(step.unit)
        return item.access if item else ()

    def _access_minutes(self, needed: Iterable[str], opened: frozenset[str]) -> float:
        return sum(self.library.access[name].minutes for name in needed if name not in opened)

    @cached_property
    def minutes(self) -> float:
        """Minutes that the steps so far take: checks, repairs with their retest, each access once."""
        retest = sum(self.library.symptoms[name].retest for name in self.symptoms)
        total = self._access_minutes(self.opened, frozenset())
        for step in self.steps:
            if isinstance(step, Reply):
                total += self.library.checks[step.check].minutes
            else:
                total += (self.library.items.get(step.unit) or self.library.causes[step.unit]).minutes + retest
        return total

    # -- saving ------------------------------------------------------------------------------------

    def to_dict(self) -> dict[str, object]:
        """The case as plain data (JSON and YAML safe); `from_dict` makes an equal case of it."""
        steps: list[dict[str, object]] = []
        for step in self.steps:
            if isinstance(step, Reply):
                steps.append({"check": step.check, "answer": step.answer})
            else:
                steps.append({"repair": step.unit, "gone": step.gone})
        return {"case": SAVED, "library": self.library.digest, "symptoms": list(self.symptoms), "steps": steps}

    @classmethod
    def from_dict(cls, library: Library, data: Mapping[str, object], limits: Limits = Limits()) -> Case:
        """The case that `to_dict` wrote; raises CaseError, UnknownName or Contradiction."""
        symptoms, steps = read_saved(library, data)
        return cls(library, symptoms, steps, limits)


def read_saved(library: Library, data: Mapping[str, object]) -> tuple[tuple[str, ...], tuple[Step, ...]]:
    """Symptoms and steps of a saved case, checked against the library."""
    if data.get("case") != SAVED:
        raise CaseError(f"this is not a saved case: 'case: {SAVED}' is missing")
    symptoms, steps = data.get("symptoms"), data.get("steps", [])
    if not isinstance(symptoms, list) or not symptoms or not isinstance(steps, list):
        raise CaseError("a saved case needs a list of 'symptoms' and a list of 'steps'")
    names = tuple(dict.fromkeys(library.symptom_id(str(name)) for name in symptoms))
    read = tuple(_read_step(library, step) for step in steps)
    done = [(type(step), step[0]) for step in read]
    for kind, name in done:
        if done.count((kind, name)) > 1:  # asked again, an imperfect check would count as new evidence
            raise CaseError(f"'{name}' stands in more than one saved step; keep the last of them")
    return names, read


def _read_step(library: Library, step: object) -> Step:
    if isinstance(step, Mapping) and isinstance(step.get("check"), str) and "answer" in step:
        name = library.check_id(step["check"])
        answer = step["answer"]
        return Reply(name, None if answer is None else library.checks[name].answer(str(answer)).id)
    if isinstance(step, Mapping) and isinstance(step.get("repair"), str):
        gone = step.get("gone", "")  # None stands for "could not be told"
        if gone is None or isinstance(gone, bool):
            return Repair(_read_unit(library, step["repair"]), gone)
    raise CaseError(f"a saved step reads 'check' with 'answer', or 'repair' with 'gone', not {step!r}")


def _read_unit(library: Library, name: str) -> str:
    """The unit of a saved repair; the item is meant where a cause of it is named."""
    if name in frame_of(library).prior.index:
        return name
    if name in library.causes:
        return library.causes[name].item or name
    raise CaseError(f"a saved step repairs '{name}', which is neither a cause nor an item that has one")
