"""Computes the expressions of an Open-PSA model: numbers, parameters, the mission time, arithmetic, distributions."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from graphlib import TopologicalSorter
from typing import NamedTuple

from faultree.base.words import did_you_mean, listing
from faultree.library.cycles import cycles
from faultree.library.exchange.elements import Element
from faultree.library.exchange.mef_model import UNITS, Declared, check_attributes, check_text
from faultree.library.exchange.mef_scopes import Scopes
from faultree.library.values import number, shown, whole


class Value(NamedTuple):
    """What an expression gives: its number, how it is written as a formula, and the values of its operands.

    `plain` says that it is a number as it stands, and not one that was computed.
    """

    number: float
    text: str
    operator: str = ""
    operands: tuple[Value, ...] = ()

    @property
    def plain(self) -> bool:
        """Whether it is a number as it stands."""
        return not self.operator


class Rule(NamedTuple):
    """How many operands an operator takes, and what it gives."""

    least: int
    most: int
    give: Callable[..., float]


MANY = 10_000


def exponential(rate: float, time: float) -> float:
    """The probability of a failure at a constant rate within a time.

    >>> exponential(1e-9, 1.0)
    9.999999995e-10
    """
    return -math.expm1(-rate * time)


def general_life(gamma: float, rate: float, repair: float, time: float) -> float:
    """The format's GLM: failure on demand, failure and repair at constant rates.

    >>> general_life(0.0, 1e-3, 0.0, 10.0) == exponential(1e-3, 10.0)
    True
    >>> general_life(0.2, 1e-3, 1e-2, 0.0)
    0.2
    """
    total = rate + repair
    gone = -math.expm1(-total * time)
    return gamma * (1.0 - gone) + (rate / total) * gone if total else gamma


def weibull(scale: float, shape: float, shift: float, time: float) -> float:
    """The format's Weibull distribution: 1 - exp(-((time - shift) / scale) ** shape), and 0 before the shift.

    >>> weibull(1000.0, 1.0, 0.0, 10.0) == exponential(1e-3, 10.0)
    True
    """
    return -math.expm1(-((max(time - shift, 0.0) / scale) ** shape))


OPERATORS: Mapping[str, Rule] = {
    "neg": Rule(1, 1, lambda one: -one),
    "add": Rule(1, MANY, lambda *all_: math.fsum(all_)),
    "sub": Rule(1, MANY, lambda first, *rest: first - math.fsum(rest)),
    "mul": Rule(1, MANY, lambda *all_: math.prod(all_)),
    "div": Rule(1, MANY, lambda first, *rest: first / math.prod(rest)),
    "pi": Rule(0, 0, lambda: math.pi),
    "abs": Rule(1, 1, abs),
    "exp": Rule(1, 1, math.exp),
    "log": Rule(1, 1, math.log),
    "log10": Rule(1, 1, math.log10),
    "pow": Rule(2, 2, lambda base, power: float(base**power)),
    "sqrt": Rule(1, 1, math.sqrt),
    "min": Rule(1, MANY, lambda *all_: min(all_)),
    "max": Rule(1, MANY, lambda *all_: max(all_)),
    "mean": Rule(1, MANY, lambda *all_: math.fsum(all_) / len(all_)),
    "exponential": Rule(2, 2, exponential),
    "GLM": Rule(4, 4, general_life),
    "Weibull": Rule(4, 4, weibull),
}
"""The operators that are computed, named as the format names them."""


_READERS: Mapping[str, Callable[[str], float | None]] = {
    "float": number,
    "int": whole,
    "bool": {"true": 1.0, "false": 0.0}.get,
}


@dataclass
class Calculator:
    """Computes the expressions of one model; `hours` is the mission time, None where nobody gave one.

    `parameters` holds what each parameter gives, by path; None where something is wrong with it.
    """

    scopes: Scopes
    hours: float | None
    parameters: dict[tuple[str, ...], Value | None] = field(default_factory=dict)

    def value(self, element: Element, scope: Sequence[str]) -> Value | None:
        """What an expression in a container gives, or None after a problem is noted."""
        check_text(element, self.scopes.model)
        if element.tag in _READERS:
            return self._constant(element)
        if element.tag == "parameter":
            return self._parameter(element, scope)
        if element.tag == "system-mission-time":
            return self._mission_time(element)
        rule = OPERATORS.get(element.tag)
        if rule is None:
            hint = did_you_mean(element.tag, OPERATORS, "write its value as a float")
            self._note(element, f"the expression '{shown(element.tag)}' is not computed here", hint)
            return None
        return self._operation(element, rule, scope)

    def _note(self, element: Element, message: str, hint: str) -> None:
        self.scopes.model.note(element, message, hint)

    def _leaf(self, element: Element, known: tuple[str, ...]) -> None:
        """Check an expression that has no operands."""
        check_attributes(element, self.scopes.model, known)
        for child in element.children:
            self._note(child, f"'{shown(child.tag)}' in '{element.tag}'", "put it beside, within an operation")
        unit = element.attributes.get("unit", "float")
        if unit not in UNITS:
            hint = f"write the value in {listing(UNITS, 'or')}"
            self._note(element, f"the unit '{shown(unit)}' is not converted", hint)

    def _constant(self, element: Element) -> Value | None:
        self._leaf(element, ("value",))
        text = element.attributes.get("value", "").strip()
        found = _READERS[element.tag](text)
        if found is None or not math.isfinite(found):
            what = {"bool": "true or false", "int": "a whole number"}.get(element.tag, "a number such as 1.0e-3")
            self._note(element, f"the value of '{element.tag}' is '{shown(text)}'", f"write {what}")
            return None
        return Value(found, text)

    def _parameter(self, element: Element, scope: Sequence[str]) -> Value | None:
        self._leaf(element, ("name", "unit"))
        found = self.scopes.need(element, scope, "parameter")
        value = None if found is None else self.parameters.get(found.path)
        return None if value is None or found is None else Value(value.number, found.name, "parameter", (value,))

    def _mission_time(self, element: Element) -> Value | None:
        self._leaf(element, ("unit",))
        if self.hours is None:
            self._note(element, "the mission time is not known", "give it in hours (--hours)")
            return None
        return Value(self.hours, "system-mission-time", "mission time")

    def _operation(self, element: Element, rule: Rule, scope: Sequence[str]) -> Value | None:
        check_attributes(element, self.scopes.model, ())
        count = len(element.children)
        if not rule.least <= count <= rule.most:
            wanted = str(rule.least) if rule.least == rule.most else f"{rule.least} or more"
            self._note(element, f"'{element.tag}' has {count} operands", f"it takes {wanted}")
            return None
        values = [self.value(child, scope) for child in element.children]
        operands = tuple(one for one in values if one is not None)
        if len(operands) < count:
            return None
        text = f"{element.tag}({', '.join(one.text for one in operands)})"
        try:
            found = rule.give(*(one.number for one in operands))
        except (ArithmeticError, ValueError, TypeError):  # TypeError: a complex power is no float
            found = math.nan
        if not math.isfinite(found):
            self._note(element, f"{shown(text, 80)} has no value", "correct its operands")
            return None
        return Value(found, text, element.tag, operands)


def calculator(scopes: Scopes, hours: float | None) -> Calculator:
    """A calculator that knows every parameter; parameters that depend on themselves are noted."""
    found = Calculator(scopes, hours)
    table = {one.path: one for one in scopes.model.parameters}
    uses = {path: [other.path for other in _used(scopes, one)] for path, one in table.items()}
    names = {path: ".".join(path) for path in table}
    circular = cycles({names[path]: [names[other] for other in inner] for path, inner in uses.items()})
    for circle in circular:
        first = next(one for path, one in table.items() if names[path] == circle[0])
        way = " -> ".join(shown(name) for name in (*circle[:5], *(["..."] if len(circle) > 5 else []), circle[0]))
        scopes.model.note(first.element, f"the parameter depends on itself: {way}", "break the circle")
    if not circular:
        for path in TopologicalSorter(uses).static_order():
            body = table[path].body
            found.parameters[path] = found.value(body[0], table[path].scope) if body else None
    return found


def _used(scopes: Scopes, parameter: Declared) -> list[Declared]:
    """The parameters that a parameter names."""
    inner = [one for body in parameter.body for one in body.walk() if one.tag == "parameter"]
    found = [scopes.find(one.attributes.get("name", "").strip(), parameter.scope) for one in inner]
    return [one for one in found if one is not None and one.kind == "parameter"]
