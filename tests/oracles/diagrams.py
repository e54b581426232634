"""A symptom as a function of a general-purpose library of decision diagrams (dd, its pure-Python back end).

It is read from the model's own signals, events and operands, not from the graph that the package reasons with.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from importlib import import_module
from itertools import combinations
from typing import Any

from faultree.library import model

dd: Any = import_module("dd.autoref")  # it has no type information


class Functions:
    """The functions of a library's nodes in one situation, over its causes."""

    def __init__(self, library: model.Library, situation: str | None) -> None:
        self.library = library
        self.settings = library.settings(situation)
        self.bdd = dd.BDD()
        self.bdd.configure(reordering=False)
        self.bdd.declare(*library.causes)
        self.known: dict[str, Any] = {}

    def symptom(self, name: str) -> Any:
        """All that a report says."""
        seen = self.library.symptoms[name].sees
        return self.all([self.node(node) if value else ~self.node(node) for node, value in seen])

    def node(self, name: str) -> Any:
        if name not in self.known:
            self.known[name] = self._find(self.library.node(name))
        return self.known[name]

    def _find(self, node: model.Node) -> Any:
        if isinstance(node, model.Condition):
            return self.bdd.true if self.settings[node.id] else self.bdd.false
        if isinstance(node, model.Cause):
            return self.bdd.var(node.id)
        if isinstance(node, model.Event):
            return self.operand(node.gate)
        follows = self.bdd.true if node.follows is None else self.operand(node.follows)
        lost = self.any([self.operand(one) for one in node.lost_if])
        return (follows & ~lost) | self.any([self.operand(one) for one in node.forced_if])

    def operand(self, operand: model.Operand) -> Any:
        if isinstance(operand, model.Ref):
            return self.node(operand.id)
        inputs = [self.operand(one) for one in operand.operands]
        match operand.kind:
            case "any":
                return self.any(inputs)
            case "all":
                return self.all(inputs)
            case "one_of":
                return self.just(1, inputs) & ~self.just(2, inputs)
            case "at_least":
                return self.just(operand.count, inputs)
        return ~self.any(inputs)

    def any(self, inputs: Iterable[Any]) -> Any:
        found = self.bdd.false
        for one in inputs:
            found |= one
        return found

    def all(self, inputs: Iterable[Any]) -> Any:
        found = self.bdd.true
        for one in inputs:
            found &= one
        return found

    def just(self, count: int, inputs: Sequence[Any]) -> Any:
        """So many or more: some combination of so many is all true."""
        return self.any(self.all(some) for some in combinations(inputs, count))

    def sets(self, sets: Iterable[Iterable[str]]) -> Any:
        """True where all causes of one or more of these sets are present."""
        return self.any(self.all(self.bdd.var(name) for name in sorted(one)) for one in sets)

    def holds(self, function: Any, faults: Iterable[str]) -> bool:
        """The value of a function under a fault set."""
        present = frozenset(faults)
        return bool(self.bdd.let({name: name in present for name in self.library.causes}, function) == self.bdd.true)

    def probability(self, function: Any) -> float:
        """P(function), for causes that are all independent."""
        chances: Mapping[str, float] = {name: cause.probability for name, cause in self.library.causes.items()}
        known: dict[Any, float] = {self.bdd.true: 1.0, self.bdd.false: 0.0}  # holds its nodes, so none is freed
        return _weight(function, known, chances)


def _weight(function: Any, known: dict[Any, float], chances: Mapping[str, float]) -> float:
    if function not in known:
        p = chances[function.var]
        high, low = (~one if function.negated else one for one in (function.high, function.low))
        parts = (p * _weight(high, known, chances), (1.0 - p) * _weight(low, known, chances))
        known[function] = math.fsum(parts)
    return known[function]
