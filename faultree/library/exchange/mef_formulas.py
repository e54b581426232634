"""Turns the formulas of an Open-PSA model into operands of a tree file, as plain data."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from faultree.base.words import did_you_mean
from faultree.library.exchange.elements import Element
from faultree.library.exchange.mef_model import Declared, check_attributes, check_text
from faultree.library.exchange.mef_scopes import Scopes
from faultree.library.values import shown, whole

Operand = str | dict[str, Any]
"""An id, or a mapping with one gate, as in a tree file."""

REFERENCES = {"event": "event", "gate": "gate", "basic-event": "basic event", "house-event": "house event"}
"""The elements that refer to an event, and what each of them refers to."""

DEEPEST = 50
"""Deepest nesting of one formula in the tree file; each gate takes two or three levels there."""


def parity(operands: Sequence[Operand]) -> Operand:
    """True when an odd number of operands are: the format's `xor`, which is "exactly one" only of two.

    >>> parity(["a", "b", "c"])
    {'one_of': ['a', {'one_of': ['b', 'c']}]}
    """
    if len(operands) == 1:
        return operands[0]
    middle = len(operands) // 2
    return {"one_of": [parity(operands[:middle]), parity(operands[middle:])]}


def equal(operands: Sequence[Operand]) -> Operand:
    """The format's `iff`, which is associative: of three it is true when an odd number are.

    >>> equal(["a", "b"])
    {'not': {'one_of': ['a', 'b']}}
    """
    odd = parity(operands)
    return odd if len(operands) % 2 else {"not": odd}


_PLAIN: Mapping[str, Callable[[list[Operand]], Operand]] = {
    "and": lambda of: {"all": of},
    "or": lambda of: {"any": of},
    "not": lambda of: {"not": of[0]},
    "xor": parity,
    "iff": equal,
    "nand": lambda of: {"not": {"all": of}},
    "nor": lambda of: {"none": of},
    "imply": lambda of: {"any": [{"not": of[0]}, of[1]]},
}
_COUNTS = {"not": (1, 1), "imply": (2, 2), "nand": (1, 2), "nor": (1, 2)}
_LIMITS = {"atleast": ("min",), "cardinality": ("min", "max")}
CONNECTIVES = (*_PLAIN, *_LIMITS, "constant")
"""The elements of a formula that refer to nothing."""


@dataclass
class Formulas:
    """Turns formulas into operands; `ids` gives the id of each event by its path.

    `constants` holds the ids of the conditions that stand for true and false; `used` collects those needed.
    """

    scopes: Scopes
    ids: Mapping[tuple[str, ...], str]
    constants: Mapping[bool, str]
    used: set[bool] = field(default_factory=set)

    def operand(self, element: Element, scope: Sequence[str]) -> Operand | None:
        """The operand of a formula in a container, or None after a problem is noted."""
        check_text(element, self.scopes.model)
        if element.tag in REFERENCES:
            found = referred(self.scopes, element, scope)
            return None if found is None else self.ids[found.path]
        if element.tag not in CONNECTIVES:
            hint = did_you_mean(element.tag, [*CONNECTIVES, *REFERENCES], "write it with and, or, not and atleast")
            self._note(element, f"the formula '{shown(element.tag)}' has no counterpart in a tree file", hint)
            return None
        check_attributes(element, self.scopes.model, ("value",) if element.tag == "constant" else _limits(element))
        if element.tag == "constant":
            value = truth(element, self.scopes)
            return None if value is None else self._constant(value)
        inner = [self.operand(child, scope) for child in element.children]
        operands = [one for one in inner if one is not None]
        if not self._counted(element) or len(operands) < len(inner):
            return None
        return _PLAIN[element.tag](operands) if element.tag in _PLAIN else self._between(element, operands)

    def _note(self, element: Element, message: str, hint: str) -> None:
        self.scopes.model.note(element, message, hint)

    def _constant(self, value: bool) -> str:
        self.used.add(value)
        return self.constants[value]

    def _counted(self, element: Element) -> bool:
        """Whether a connective has as many operands as it takes."""
        count = len(element.children)
        least, most = _COUNTS.get(element.tag, (1, count))
        if least <= count and count <= most:
            return True
        if element.tag in ("nand", "nor") and count:
            message = f"'{element.tag}' of {count} operands can be read in two ways"
            self._note(element, message, f"write 'not' over '{element.tag[1:]}' if that is what is meant")
            return False
        wanted = {(1, 1): "one", (2, 2): "two"}.get((least, most), "at least one")
        self._note(element, f"'{element.tag}' has {count or 'no'} operands", f"give it {wanted}")
        return False

    def _between(self, element: Element, operands: list[Operand]) -> Operand | None:
        """A count of operands between limits: `atleast` and `cardinality`."""
        count = len(operands)
        values = [whole(element.attributes.get(name, "").strip()) for name in _limits(element)]
        low, high = values[0], values[-1] if element.tag == "cardinality" else count
        least = 1 if element.tag == "atleast" else 0
        if low is None or high is None or not least <= low <= min(high, count):
            limits = " and ".join(f"{name}='{shown(element.attributes.get(name, ''))}'" for name in _limits(element))
            message = f"'{element.tag}' has {limits} over {count} operand{'' if count == 1 else 's'}"
            hint = f"min is a whole number from {least} to {count}"
            self._note(
                element, message, hint + (", and max one that is no smaller" if element.tag == "cardinality" else "")
            )
            return None
        return self._limited(low, high, operands)

    def _limited(self, low: int, high: int, operands: list[Operand]) -> Operand:
        count = len(operands)
        if low == high == 1:
            return {"one_of": operands}
        if high == 0:
            return {"none": operands}
        parts: list[Operand] = [{"at_least": {"count": low, "of": operands}}] if low else []
        if high < count:
            parts.append({"not": {"at_least": {"count": high + 1, "of": operands}}})
        if not parts:
            return self._constant(True)
        return parts[0] if len(parts) == 1 else {"all": parts}


def _limits(element: Element) -> tuple[str, ...]:
    return _LIMITS.get(element.tag, ())


def referred(scopes: Scopes, element: Element, scope: Sequence[str]) -> Declared | None:
    """The event that an element of a formula refers to, or None after a problem is noted."""
    check_attributes(element, scopes.model, ("name", "type") if element.tag == "event" else ("name",))
    for child in element.children:
        scopes.model.note(child, f"'{shown(child.tag)}' in '{element.tag}'", "put it beside, below a gate")
    kind = element.attributes.get("type", "event") if element.tag == "event" else element.tag
    if kind not in REFERENCES:
        scopes.model.note(element, f"'{shown(kind)}' is no type of event", "write gate, basic-event or house-event")
        return None
    return scopes.need(element, scope, REFERENCES[kind])


def truth(element: Element, scopes: Scopes) -> bool | None:
    """The value of a constant, or None after a problem is noted."""
    text = element.attributes.get("value", "").strip()
    if text not in ("true", "false"):
        scopes.model.note(element, f"the value of 'constant' is '{shown(text)}'", "write true or false")
        return None
    return text == "true"


def depth(operand: Operand) -> int:
    """How many levels of a tree file an operand takes.

    >>> depth("a"), depth({"all": ["a", {"not": "b"}]}), depth({"at_least": {"count": 1, "of": ["a"]}})
    (0, 3, 3)
    """
    if isinstance(operand, str):
        return 0
    ((_, inner),) = operand.items()
    if isinstance(inner, dict) and "of" in inner:
        return 3 + max(map(depth, inner["of"]))
    return 2 + max(map(depth, inner)) if isinstance(inner, list) else 1 + depth(inner)
