"""The meaning of a result by plain enumeration: every fault set, every node by recursion, every sum as it is defined.

Nothing here is fast and nothing is clever; that is its worth. It shares only the model's values
with the engine under test. The rules are those of the tree format:

- a fault set F holds at most one cause of each item and any of the causes without an item;
  P(F) is the product of the causes' priors and of what is left for the items and causes not in it;
- a symptom has likelihood 1 where all of its `sees` hold, else its `false_report`;
- a check has the likelihood `confusion(given, right)`, where `right` is the one answer whose
  operand holds in the check's own situation;
- a repair takes the unit's causes out of every later world. "Gone" and "still there" are exact
  observations made right after it, in the symptom's own situation: still there means that every
  reported symptom's `sees` hold, gone means that they do not hold (of several symptoms: none's).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, product
from typing import NamedTuple

from faultree.library import model


class Answered(NamedTuple):
    """A check that was answered."""

    check: str
    answer: str


class Repaired(NamedTuple):
    """A unit (item, or cause without an item) that was made good, and whether the symptom went."""

    unit: str
    gone: bool


Step = Answered | Repaired
Faults = frozenset[str]


def causes_of(library: model.Library, unit: str) -> Faults:
    """The causes that making this unit (an item, or a cause without one) good takes away."""
    found = {name for name, cause in library.causes.items() if unit_of(library, name) == unit}
    return frozenset(found)


def unit_of(library: model.Library, cause: str) -> str:
    """What is replaced or put right when this cause is found."""
    return library.causes[cause].item or cause


def fault_sets(library: model.Library) -> Iterator[tuple[Faults, float]]:
    """Every set of causes that can be present together, with its prior."""
    for chosen in product(*choices(library)):
        faults = frozenset(name for name, _ in chosen if name is not None)
        yield faults, math.prod(share for _, share in chosen)


def choices(library: model.Library) -> list[list[tuple[str | None, float]]]:
    """For each item and each cause without one: no fault, or one of its causes, each with its share."""
    alone = [[name] for name, cause in library.causes.items() if cause.item is None]
    items = [sorted(name for name, cause in library.causes.items() if cause.item == item) for item in library.items]
    choices: list[list[tuple[str | None, float]]] = []
    for modes in alone + items:
        good = 1.0 - math.fsum(library.causes[name].probability for name in modes)
        choices.append([(None, good), *((name, library.causes[name].probability) for name in modes)])
    return choices


def count_fault_sets(library: model.Library) -> int:
    """How many sets `fault_sets` would list."""
    return math.prod(map(len, choices(library)))


class World:
    """One fault set in one setting of the conditions; answers what is true there."""

    def __init__(self, library: model.Library, faults: Iterable[str], situation: str | None) -> None:
        self._library = library
        self._faults = frozenset(faults)
        self._settings = library.settings(situation)
        self._known: dict[str, bool] = {}

    def node(self, name: str) -> bool:
        """The value of a node."""
        if name not in self._known:
            self._known[name] = self._find(name)
        return self._known[name]

    def _find(self, name: str) -> bool:
        node = self._library.node(name)
        if isinstance(node, model.Condition):
            return self._settings[name]
        if isinstance(node, model.Cause):
            return name in self._faults
        if isinstance(node, model.Event):
            return self.holds(node.gate)
        follows = True if node.follows is None else self.holds(node.follows)
        lost = any(self.holds(one) for one in node.lost_if)
        forced = any(self.holds(one) for one in node.forced_if)
        return (follows and not lost) or forced

    def holds(self, operand: model.Operand) -> bool:
        """The value of an operand: a node's, or a gate's by its truth table."""
        if isinstance(operand, model.Ref):
            return self.node(operand.id)
        count = sum(self.holds(one) for one in operand.operands)
        match operand.kind:
            case "all":
                return count == len(operand.operands)
            case "any":
                return count >= 1
            case "not":
                (inner,) = operand.operands
                return not self.holds(inner)
            case "none":
                return count == 0
            case "at_least":
                return count >= operand.count
            case "one_of":
                return count == 1


@dataclass
class Brute:
    """A case by enumeration: symptoms and steps in the order in which they came.

    All names are full ids. `order` lists the symptoms; `steps` may hold a check once.
    """

    library: model.Library
    symptoms: Sequence[str]
    steps: Sequence[Step] = ()
    _worlds: dict[tuple[Faults, str | None], World] = field(default_factory=dict, repr=False)
    _sets: list[tuple[Faults, float, float]] | None = field(default=None, repr=False)

    # ---- what is true in one fault set

    def world(self, faults: Faults, situation: str | None) -> World:
        """The world of a fault set in a situation, kept so that its nodes are found once."""
        key = (faults, situation)
        if key not in self._worlds:
            self._worlds[key] = World(self.library, faults, situation)
        return self._worlds[key]

    def sees(self, symptom: str, faults: Faults) -> bool:
        """Whether everything that the symptom sees holds under these faults."""
        told = self.library.symptoms[symptom]
        world = self.world(faults, told.situation)
        return all(world.node(name) == value for name, value in told.sees)

    def right_answer(self, check: str, faults: Faults) -> str:
        """The one answer that holds under these faults; it is an error if not exactly one does."""
        asked = self.library.checks[check]
        world = self.world(faults, asked.situation)
        (right,) = [one.id for one in asked.answers if world.holds(one.when)]
        return right

    def answer_likelihood(self, check: str, answer: str, faults: Faults) -> float:
        """P(this answer is given / faults)."""
        return self.library.checks[check].confusion(answer, self.right_answer(check, faults))

    def report_likelihood(self, faults: Faults) -> float:
        """P(all symptoms are reported / faults)."""
        factors = (1.0 if self.sees(one, faults) else self.library.symptoms[one].false_report for one in self.symptoms)
        return math.prod(factors)

    def after_repairs(self, faults: Faults) -> Faults:
        """What is left of a fault set when every repair of the case has been made."""
        for step in self.steps:
            if isinstance(step, Repaired):
                faults = faults - causes_of(self.library, step.unit)
        return faults

    def step_likelihoods(self, faults: Faults) -> list[float]:
        """P(what each step showed / faults at the start of the case)."""
        found = []
        for step in self.steps:
            if isinstance(step, Repaired):
                faults = faults - causes_of(self.library, step.unit)
                seen = [self.sees(one, faults) for one in self.symptoms]
                found.append(1.0 if (not any(seen) if step.gone else all(seen)) else 0.0)
            else:
                found.append(self.answer_likelihood(step.check, step.answer, faults))
        return found

    # ---- sums over all fault sets

    def sets(self) -> list[tuple[Faults, float, float]]:
        """Every fault set with its prior and with P(all evidence / set)."""
        if self._sets is None:
            self._sets = [
                (faults, prior, self.report_likelihood(faults) * math.prod(self.step_likelihoods(faults)))
                for faults, prior in fault_sets(self.library)
            ]
        return self._sets

    def evidence(self) -> float:
        """P(all evidence)."""
        return math.fsum(prior * likelihood for _, prior, likelihood in self.sets())

    def posterior(self) -> list[tuple[Faults, float]]:
        """Every consistent fault set F at the start of the case with P(F / all evidence)."""
        total = self.evidence()
        return [(faults, prior * seen / total) for faults, prior, seen in self.sets() if seen > 0.0]

    def ranking(self) -> dict[str, float]:
        """P(cause is present now / all evidence), by cause; 0 for the causes of a repaired unit."""
        shares = [(self.after_repairs(faults), share) for faults, share in self.posterior()]
        return {name: math.fsum(share for left, share in shares if name in left) for name in self.library.causes}

    def units(self) -> dict[str, float]:
        """P(the unit has some fault now / all evidence), by item or cause without an item."""
        found: dict[str, float] = {}
        ranking = self.ranking()
        for name in self.library.causes:
            unit = unit_of(self.library, name)
            found[unit] = found.get(unit, 0.0) + ranking[name]
        return found

    def explanations(self) -> dict[Faults, float]:
        """The fault sets that are minimal among the consistent ones, with P(F / all evidence)."""
        minimal: dict[Faults, float] = {}
        for faults, share in sorted(self.posterior(), key=lambda one: len(one[0])):
            if not any(smaller < faults for smaller in minimal):
                minimal[faults] = share
        return minimal

    def answers(self, check: str) -> dict[str, float]:
        """P(each answer of a check, asked now / all evidence)."""
        shares = [(self.after_repairs(faults), share) for faults, share in self.posterior()]
        return {
            one.id: math.fsum(share * self.answer_likelihood(check, one.id, left) for left, share in shares)
            for one in self.library.checks[check].answers
        }

    def bits(self, check: str) -> float:
        """H(answer / E) - sum over F of P(F / E) H(answer / F), in bits."""
        inner = []
        for faults, share in self.posterior():
            left = self.after_repairs(faults)
            given = [self.answer_likelihood(check, one.id, left) for one in self.library.checks[check].answers]
            inner.append(share * entropy(given))
        return entropy(self.answers(check).values()) - math.fsum(inner)

    def cleared_by(self, unit: str) -> float:
        """P(none of the symptoms is there once this unit is made good now / all evidence)."""
        gone = causes_of(self.library, unit)
        shares = []
        for faults, share in self.posterior():
            left = self.after_repairs(faults) - gone
            if not any(self.sees(one, left) for one in self.symptoms):
                shares.append(share)
        return math.fsum(shares)

    # ---- contradictions

    def explained_steps(self) -> int | None:
        """How many of the first steps some fault set explains beside the symptoms; None if not even those."""
        longest = None
        for faults, _ in fault_sets(self.library):
            if self.report_likelihood(faults) > 0.0:
                seen = self.step_likelihoods(faults)
                longest = max(longest or 0, seen.index(0.0) if 0.0 in seen else len(seen))
        return longest

    def contradictions(self) -> set[frozenset[int]]:
        """Every minimal set of step positions that no fault set explains beside the symptoms.

        A repair that is not in such a set was still made; only what was seen right after it is left out.
        """
        if not any(self.report_likelihood(faults) > 0.0 for faults, _ in fault_sets(self.library)):
            return {frozenset()}
        refuted = {
            frozenset(position for position, seen in enumerate(self.step_likelihoods(faults)) if seen == 0.0)
            for faults, _ in fault_sets(self.library)
            if self.report_likelihood(faults) > 0.0
        }
        minimal: set[frozenset[int]] = set()
        for size in range(1, len(self.steps) + 1):
            for chosen in map(frozenset, combinations(range(len(self.steps)), size)):
                hits_all = all(chosen & one for one in refuted)
                if hits_all and not any(smaller < chosen for smaller in minimal):
                    minimal.add(chosen)
        return minimal


def entropy(shares: Iterable[float]) -> float:
    """The entropy of a distribution in bits.

    >>> entropy([0.5, 0.25, 0.25, 0.0])
    1.5
    """
    return -math.fsum(share * math.log2(share) for share in shares if share > 0.0)


def expected_minutes(order: Sequence[tuple[float, float]]) -> float:
    """Mean cost of repairing in this order until the one fault is met; pairs of (probability, minutes).

    >>> round(expected_minutes([(0.3, 5.0), (0.2, 4.0), (0.5, 12.0)]), 9)
    13.8
    """
    left, total = 1.0, 0.0
    for share, minutes in order:
        total += left * minutes
        left -= share
    return total


def same(found: Mapping[str, float], expected: Mapping[str, float], tolerance: float) -> list[str]:
    """The names whose values differ by more than `tolerance`, or that only one side has; each as a sentence."""
    words = []
    for name in sorted(set(found) | set(expected)):
        left, right = found.get(name, math.nan), expected.get(name, math.nan)
        if not abs(left - right) <= tolerance:
            words.append(f"{name}: found {left!r}, expected {right!r}")
    return words
