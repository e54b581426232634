"""The aircraft of an exercise: it answers checks, and repeats the operational check, as the hidden faults have it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from random import Random

from faultree.belief.frame import frame_of
from faultree.library.model import Library
from faultree.logic.simulate import evaluate, value_of
from faultree.practice.draw import Faults
from faultree.practice.scenario import Scenario


@dataclass(frozen=True, eq=False)
class World:
    """What a scenario answers. An answer depends on the check and on what was put right, never on the order asked."""

    library: Library
    scenario: Scenario

    def remaining(self, repaired: Iterable[str]) -> Faults:
        """The hidden causes that are left once some units (items, or causes without one) were put right."""
        units = frozenset(repaired)
        return frozenset(name for name in self.scenario.hidden if self._unit(name) not in units)

    def at_fault(self, unit: str) -> bool:
        """Whether a hidden cause belongs to this unit."""
        return any(self._unit(name) == unit for name in self.scenario.hidden)

    def answer(self, check: str, repaired: Iterable[str] = ()) -> str:
        """The answer (its id) that the check gives, wrong as often as the check errs."""
        right = self.right_answer(check, repaired)
        entry = self.library.checks[check]
        names = [one.id for one in entry.answers]
        chances = [entry.confusion(name, right) for name in names]
        return Random(f"{self.scenario.symptom} {self.scenario.level} {self.scenario.seed} {check}").choices(
            names, chances
        )[0]

    def right_answer(self, check: str, repaired: Iterable[str] = ()) -> str:
        """The answer that is true, whatever the check's errors."""
        frame, entry = frame_of(self.library), self.library.checks[check]
        values = evaluate(frame.graph, self.library.settings(entry.situation), self.remaining(repaired))
        true = zip(entry.answers, frame.answers[check], strict=True)
        return next(one.id for one, literal in true if value_of(values, literal))

    def shows(self, repaired: Iterable[str] = ()) -> bool:
        """Whether the operational check shows what was reported."""
        frame, symptom = frame_of(self.library), self.scenario.symptom
        settings = self.library.settings(self.library.symptoms[symptom].situation)
        return value_of(evaluate(frame.graph, settings, self.remaining(repaired)), frame.seen[symptom])

    def _unit(self, cause: str) -> str:
        return self.library.causes[cause].item or cause
