"""The meaning of an Open-PSA model by plain enumeration, read with the standard library's own tree of elements.

It shares nothing with the reader and the writer under test. The rules are those of the Model Exchange Format
2.0d, fault tree layer: `xor` and `iff` are folded from the left, `cardinality` counts from min to max, a house
event is false unless it says otherwise, and basic events are independent of each other.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, reduce
from itertools import product
from xml.etree import ElementTree
from xml.etree.ElementTree import Element

REFERENCES = ("event", "gate", "basic-event", "house-event")


@dataclass(frozen=True)
class Mef:
    """A model of public names; `hours` is the mission time."""

    text: str
    hours: float = 1.0

    @cached_property
    def root(self) -> Element:
        """The outermost element."""
        return ElementTree.fromstring(self.text)

    def named(self, tag: str) -> dict[str, Element]:
        """The declarations of one kind, wherever they stand."""
        return {one.attrib["name"]: one for one in self.root.iter(tag)}

    @cached_property
    def gates(self) -> dict[str, Element]:
        """The formula of each gate."""
        return {name: _body(one)[0] for name, one in self.named("define-gate").items()}

    @cached_property
    def houses(self) -> dict[str, bool]:
        """The value of each house event."""
        found = {}
        for name, one in self.named("define-house-event").items():
            body = _body(one)
            found[name] = bool(body) and body[0].attrib["value"] == "true"
        return found

    @cached_property
    def probabilities(self) -> dict[str, float]:
        """The probability of each basic event."""
        return {name: self.number(_body(one)[0]) for name, one in self.named("define-basic-event").items()}

    def number(self, one: Element) -> float:
        """What an expression gives; only what the tests write."""
        if one.tag in ("float", "int"):
            return float(one.attrib["value"])
        if one.tag == "parameter":
            return self.number(_body(self.named("define-parameter")[one.attrib["name"]])[0])
        if one.tag == "system-mission-time":
            return self.hours
        inner = [self.number(child) for child in one]
        if one.tag == "exponential":
            return 1.0 - math.exp(-inner[0] * inner[1])
        assert one.tag == "mul"
        return math.prod(inner)

    @cached_property
    def tops(self) -> list[str]:
        """The gates that no gate refers to."""
        used = {
            one.attrib["name"] for formula in self.gates.values() for one in formula.iter() if one.tag in REFERENCES
        }
        return [name for name in self.gates if name not in used]

    def true(self, name: str, present: Iterable[str]) -> bool:
        """Whether an event is true while these basic events, and no others, are."""
        return _Values(self, frozenset(present)).event(name)

    def worlds(self) -> Iterator[tuple[frozenset[str], float]]:
        """Every set of basic events with its probability."""
        names = list(self.probabilities)
        for truth in product((False, True), repeat=len(names)):
            chosen = dict(zip(names, truth, strict=True))
            yield (
                frozenset(name for name, there in chosen.items() if there),
                math.prod(
                    self.probabilities[name] if there else 1.0 - self.probabilities[name]
                    for name, there in chosen.items()
                ),
            )

    def producing(self, top: str) -> dict[frozenset[str], float]:
        """The sets of basic events with which an event is true, with their probabilities."""
        return {present: share for present, share in self.worlds() if self.true(top, present)}


@dataclass(frozen=True)
class _Values:
    model: Mef
    present: frozenset[str]

    def event(self, name: str) -> bool:
        if name in self.model.gates:
            return self.formula(self.model.gates[name])
        return self.model.houses.get(name, name in self.present)

    def formula(self, one: Element) -> bool:
        if one.tag in REFERENCES:
            return self.event(one.attrib["name"])
        if one.tag == "constant":
            return one.attrib["value"] == "true"
        inner = [self.formula(child) for child in one]
        low, high = int(one.attrib.get("min", 0)), int(one.attrib.get("max", len(inner)))
        meaning: Mapping[str, bool] = {
            "and": all(inner),
            "or": any(inner),
            "not": not inner[0],
            "xor": reduce(lambda a, b: a != b, inner),
            "iff": reduce(lambda a, b: a == b, inner),
            "nand": not all(inner),
            "nor": not any(inner),
            "imply": not inner[0] or inner[-1],
            "atleast": sum(inner) >= low,
            "cardinality": low <= sum(inner) <= high,
        }
        return meaning[one.tag]


def _body(one: Element) -> list[Element]:
    return [child for child in one if child.tag not in ("label", "attributes")]


def minimal(sets: Iterable[frozenset[str]]) -> set[frozenset[str]]:
    """Those sets that hold no other one of them."""
    found: set[frozenset[str]] = set()
    for one in sorted(sets, key=len):
        if not any(smaller <= one for smaller in found):
            found.add(one)
    return found
