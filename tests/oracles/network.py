"""A case as a Bayesian network of a general-purpose library (pyagrum), for sizes that enumeration cannot reach.

One variable per item (good or one of its causes) and per cause without an item, one per node, operand
and situation in the cone of what is seen or asked, one per symptom report and check answer. Conditions are
folded into the truth tables. Repairs are not written this way.
"""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable, Iterable, Sequence
from importlib import import_module
from itertools import product
from typing import Any

from faultree.library import model
from tests.oracles.brute import unit_of

with warnings.catch_warnings():
    # Its compiled part warns while it is loaded (types without a module name) and ends the
    # interpreter where that warning is an error.
    warnings.simplefilter("ignore", DeprecationWarning)
    pyagrum: Any = import_module("pyagrum")  # it has no type information

Value = int | bool
"""A network variable's number, or a constant truth value."""


class Network:
    """The network of some symptoms and checks; `posterior` and `answers` ask it."""

    def __init__(self, library: model.Library, symptoms: Sequence[str], checks: Iterable[str]) -> None:
        self.library = library
        self.net = pyagrum.BayesNet()
        self.roots: dict[str, int] = {}
        self.nodes: dict[tuple[str, str | None], Value] = {}
        self.reports = [self._report(library.symptoms[name]) for name in symptoms]
        self.checks = {name: self._check(library.checks[name]) for name in checks}
        self.causes = {name: self._cause(name) for name in library.causes if unit_of(library, name) in self.roots}
        self.engine = pyagrum.LazyPropagation(self.net)
        self.engine.setNumberOfThreads(1)

    @property
    def width(self) -> float:
        """Bits of the largest table that the reference library would need."""
        tree = self.engine.joinTree()
        sizes = [[self.net.variable(one).domainSize() for one in tree.clique(number)] for number in tree.nodes()]
        return max(math.log2(math.prod(one)) for one in sizes)

    def observe(self, given: Iterable[tuple[str, str]]) -> None:
        """Take the reports and these (check, answer) pairs as seen, and propagate."""
        seen = {self.net.variable(report).name(): 1 for report in self.reports}
        for check, answer in given:
            names = [one.id for one in self.library.checks[check].answers]
            seen[self.net.variable(self.checks[check]).name()] = names.index(answer)
        self.engine.setEvidence(seen)
        self.engine.makeInference()

    def posterior(self) -> dict[str, float]:
        """P(cause / what was observed) for each cause in the cone."""
        return {name: float(self.engine.posterior(node)[1]) for name, node in self.causes.items()}

    def answers(self, check: str) -> dict[str, float]:
        """P(answer / what was observed) for each answer of a check."""
        shares = self.engine.posterior(self.checks[check])
        return {one.id: float(shares[place]) for place, one in enumerate(self.library.checks[check].answers)}

    # ---- variables

    def _add(self, parents: Sequence[int], size: int, table: Callable[[Sequence[int]], Sequence[float]]) -> int:
        """A variable with `size` values; `table` gives its distribution for values of its parents."""
        number = int(self.net.add(pyagrum.LabelizedVariable(f"v{self.net.size()}", "", size)))
        for parent in parents:
            self.net.addArc(parent, number)
        sizes = [range(self.net.variable(parent).domainSize()) for parent in reversed(parents)]
        rows = [share for values in product(*sizes) for share in table(values[::-1])]
        self.net.cpt(number).fillWith(rows)
        return number

    def _truth(self, inputs: Sequence[Value], rule: Callable[[Sequence[bool]], bool]) -> Value:
        """A node that is true where `rule` says so of its inputs; constants are put in beforehand."""
        parents = list(dict.fromkeys(one for one in inputs if not isinstance(one, bool)))

        def holds(values: Sequence[int]) -> bool:
            known = dict(zip(parents, values, strict=True))
            return rule([one if isinstance(one, bool) else bool(known[one]) for one in inputs])

        found = {holds(values) for values in product((0, 1), repeat=len(parents))}
        if len(found) == 1:
            return found.pop()
        return self._add(parents, 2, lambda values: [0.0, 1.0] if holds(values) else [1.0, 0.0])

    def _cause(self, name: str) -> int:
        """The yes/no variable of a cause, below the variable of its unit."""
        key = (name, None)
        if key not in self.nodes:
            unit = unit_of(self.library, name)
            modes = sorted(one for one in self.library.causes if unit_of(self.library, one) == unit)
            if unit not in self.roots:
                shares = [self.library.causes[one].probability for one in modes]
                self.roots[unit] = self._add([], len(modes) + 1, lambda _: [1.0 - sum(shares), *shares])
            mine = modes.index(name) + 1
            self.nodes[key] = self._add(
                [self.roots[unit]], 2, lambda values: [0.0, 1.0] if values[0] == mine else [1.0, 0.0]
            )
        return int(self.nodes[key])

    def _node(self, name: str, situation: str | None) -> Value:
        node = self.library.node(name)
        if isinstance(node, model.Condition):
            return self.library.settings(situation)[name]
        if isinstance(node, model.Cause):
            return self._cause(name)
        key = (name, situation or "as usual")
        if key not in self.nodes:
            self.nodes[key] = self._logic(node, situation)
        return self.nodes[key]

    def _logic(self, node: model.Signal | model.Event, situation: str | None) -> Value:
        if isinstance(node, model.Event):
            return self._operand(node.gate, situation)
        follows = True if node.follows is None else self._operand(node.follows, situation)
        lost = self._any([self._operand(one, situation) for one in node.lost_if])
        forced = self._any([self._operand(one, situation) for one in node.forced_if])
        return self._truth([follows, lost, forced], lambda seen: (seen[0] and not seen[1]) or seen[2])

    def _any(self, inputs: Sequence[Value]) -> Value:
        """One or more of these, as a balanced tree so that no table grows large."""
        if len(inputs) <= 3:
            return self._truth(inputs, any)
        half = len(inputs) // 2
        return self._truth([self._any(inputs[:half]), self._any(inputs[half:])], any)

    def _operand(self, operand: model.Operand, situation: str | None) -> Value:
        if isinstance(operand, model.Ref):
            return self._node(operand.id, situation)
        inputs = [self._operand(one, situation) for one in operand.operands]
        match operand.kind:
            case "any":
                return self._any(inputs)
            case "none" | "not":
                return self._not(self._any(inputs))
            case "all":
                return self._not(self._any([self._not(one) for one in inputs]))
            case "at_least":
                return self._truth(inputs, lambda seen: sum(seen) >= operand.count)
            case "one_of":
                return self._truth(inputs, lambda seen: sum(seen) == 1)

    def _not(self, value: Value) -> Value:
        return self._truth([value], lambda seen: not seen[0])

    def _report(self, symptom: model.Symptom) -> int:
        seen = []
        for name, value in symptom.sees:
            found = self._node(name, symptom.situation)
            seen.append(found if value else self._not(found))
        unseen = self._any([self._not(one) for one in seen])
        false = symptom.false_report
        if isinstance(unseen, bool):
            return self._add([], 2, lambda _: [1.0 - false, false] if unseen else [0.0, 1.0])
        return self._add([unseen], 2, lambda values: [1.0 - false, false] if values[0] else [0.0, 1.0])

    def _check(self, check: model.Check) -> int:
        whens = [self._operand(one.when, check.situation) for one in check.answers]
        parents = list(dict.fromkeys(one for one in whens if not isinstance(one, bool)))

        def shares(values: Sequence[int]) -> list[float]:
            known = dict(zip(parents, values, strict=True))
            holds = [one if isinstance(one, bool) else bool(known[one]) for one in whens]
            if sum(holds) != 1:  # never happens, but the table wants a row
                return [1.0 / len(whens)] * len(whens)
            right = check.answers[holds.index(True)].id
            return [check.confusion(one.id, right) for one in check.answers]

        return self._add(parents, len(whens), shares)
