"""The kinds of value that a field can hold: each reads a node, or says what is wrong with it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, cast

from faultree.base.words import listing
from faultree.library.findings import Findings
from faultree.library.marked import Array, Node, Refused, Scalar, Table
from faultree.library.model import Gate, GateKind, Operand, Ref
from faultree.library.values import control, flag, number, shown, whole


class Missing:
    """The type of MISSING: a value that could not be read and is reported already."""


MISSING = Missing()


class Kind(Protocol):
    """Reads one node; `what` names the field in messages."""

    def read(self, node: Node, what: str, found: Findings) -> Any:
        """The value, or MISSING after a problem is noted."""


def describe(node: Node) -> str:
    """What a node is, for "... is wanted, not ..."."""
    if isinstance(node, Scalar):
        return f"'{shown(node.text)}'"
    return "a list" if isinstance(node, Array) else "a mapping"


def wrong(node: Node, what: str, wanted: str, hint: str, found: Findings) -> Missing:
    """Note that a node is of the wrong kind."""
    if not isinstance(node, Refused):
        found.problem(node, f"'{what}' must be {wanted}, not {describe(node)}", hint)
    return MISSING


@dataclass(frozen=True, slots=True)
class Text:
    """An author's text, shown as it stands; a `line` is a text without line breaks."""

    line: bool = False

    def read(self, node: Node, what: str, found: Findings) -> str | Missing:
        if not isinstance(node, Scalar):
            hint = "put a text that begins with '{' or '[' or holds ': ' in quotes"
            return wrong(node, what, "a text", hint, found)
        text = node.text.strip()
        bad = control(text)
        if bad is not None:
            found.problem(node, f"'{what}' holds the control character U+{ord(bad):04X}", "remove it")
        elif not text:
            found.problem(node, f"'{what}' is empty", "write a text or remove the key")
        elif self.line and "\n" in text:
            found.problem(node, f"'{what}' has more than one line", "write it on one line; 'note' may be longer")
        else:
            return text
        return MISSING


@dataclass(frozen=True, slots=True)
class Number:
    """A number between two limits; `above` and `below` say that the limit itself is excluded."""

    low: float = 0.0
    high: float = 100_000.0
    above: bool = False
    below: bool = False

    def read(self, node: Node, what: str, found: Findings) -> float | Missing:
        if not isinstance(node, Scalar):
            return wrong(node, what, "a number", "write one number, such as 12 or 0.5", found)
        value = number(node.text) if node.plain else None
        if value is None:
            return wrong(node, what, "a number", _number_hint(node), found)
        if not self.holds(value):
            found.problem(node, f"'{what}' is {shown(node.text)}", f"it must be {self.range()}")
            return MISSING
        return value

    def holds(self, value: float) -> bool:
        """Whether a value is within the limits."""
        return (self.low < value or not self.above and self.low == value) and (
            value < self.high or not self.below and self.high == value
        )

    def range(self) -> str:
        """The limits in words.

        >>> Number(0, 1, above=True, below=True).range()
        'above 0 and below 1'
        """
        low = f"above {self.low:g}" if self.above else f"{self.low:g} or more"
        high = f"below {self.high:g}" if self.below else f"at most {self.high:.0f}"
        return f"{low} and {high}"


def _number_hint(node: Scalar) -> str:
    if not node.plain and number(node.text) is not None:
        return "remove the quotes"
    text = node.text.strip()
    if text.endswith("%") and number(text[:-1].strip()) is not None:
        return f"write {number(text[:-1].strip()) / 100:g}"  # type: ignore[operator]  # checked in the line above
    if number(text.replace(",", ".", 1)) is not None:
        return f"write {text.replace(',', '.', 1)} with a decimal point"
    if re.fullmatch(r"[0-9]{1,3}:[0-5][0-9]", text):
        hours, minutes = text.split(":")
        return f"write minutes as one number, such as {60 * int(hours) + int(minutes)}"
    return "write digits, such as 12, 0.5 or 1e-4"


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number of `low` or more."""

    low: int = 1

    def read(self, node: Node, what: str, found: Findings) -> int | Missing:
        value = whole(node.text) if isinstance(node, Scalar) and node.plain else None
        if value is None:
            return wrong(node, what, "a whole number", f"write {self.low} or more", found)
        if value < self.low:
            found.problem(node, f"'{what}' is {value}", f"it must be {self.low} or more")
            return MISSING
        return value


@dataclass(frozen=True, slots=True)
class Flag:
    """Yes or no; true, false, on and off are understood as well."""

    def read(self, node: Node, what: str, found: Findings) -> bool | Missing:
        value = flag(node.text) if isinstance(node, Scalar) else None
        return wrong(node, what, "yes or no", "write yes or no", found) if value is None else value


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words."""

    options: tuple[str, ...]

    def read(self, node: Node, what: str, found: Findings) -> str | Missing:
        if isinstance(node, Scalar) and node.text in self.options:
            return node.text
        one_of = listing(self.options, "or")
        hint = found.remedy(node.text, self.options, f"write {one_of}") if isinstance(node, Scalar) else "write one word"
        return wrong(node, what, one_of, hint, found)


@dataclass(frozen=True, slots=True)
class Reference:
    """The id of something, as `id` or `file/id`; `target` names what it must be."""

    target: str

    def read(self, node: Node, what: str, found: Findings) -> str | Missing:
        if not isinstance(node, Scalar):
            return wrong(node, what, "one id", f"name one {self.target}", found)
        return found.refer(self.target, node.text, node) or MISSING


@dataclass(frozen=True, slots=True)
class Many:
    """A list of values of one kind; a single value stands for a list of one."""

    kind: Kind

    def read(self, node: Node, what: str, found: Findings) -> tuple[Any, ...] | Missing:
        nodes = node.entries if isinstance(node, Array) else (node,)
        values = tuple(self.kind.read(one, what, found) for one in nodes)
        return MISSING if MISSING in values else values


@dataclass(frozen=True, slots=True)
class Pairs:
    """A mapping from ids of something to values of one kind, as a tuple of (full id, value)."""

    target: str
    kind: Kind

    def read(self, node: Node, what: str, found: Findings) -> tuple[tuple[str, Any], ...] | Missing:
        if not isinstance(node, Table):
            return wrong(node, what, "a mapping", f"write '{self.target}-id: value' on lines of their own", found)
        if not node.pairs:
            return wrong_empty(node, what, "name at least one", found)
        values: dict[str, Any] = {}
        for key, value in node.pairs:
            full = found.refer(self.target, key.text, key)
            read = self.kind.read(value, key.text, found)
            values[full or key.text] = MISSING if full is None else read
        self._twice(node, found)
        return MISSING if MISSING in values.values() else tuple(values.items())

    def _twice(self, node: Table, found: Findings) -> None:
        """Note an id that stands there both with and without its file; plain duplicates are noted already."""
        written: dict[str, str] = {}
        for key, _ in node.pairs:
            if written.setdefault(found.full(key.text), key.text) != key.text:
                found.problem(key, f"'{shown(key.text)}' is named twice", "keep one of the two")


def wrong_empty(node: Node, what: str, hint: str, found: Findings) -> Missing:
    """Note that a list or mapping holds nothing."""
    found.problem(node, f"'{what}' is empty", hint)
    return MISSING


@dataclass(frozen=True, slots=True)
class GateOf:
    """The operands below one gate key, as a `Gate` over full ids."""

    gate: GateKind

    def read(self, node: Node, what: str, found: Findings) -> Gate | Missing:
        return _GATES[self.gate](self.gate, node, found)


@dataclass(frozen=True, slots=True)
class OperandKind:
    """An id, or a mapping with one gate."""

    def read(self, node: Node, what: str, found: Findings) -> Operand | Missing:
        if isinstance(node, Scalar):
            full = found.refer("node", node.text, node)
            return MISSING if full is None else Ref(full, found.place(node))
        if isinstance(node, Array):
            return wrong(node, what, "an id or one gate", "put 'all:', 'any:' or another gate before the list", found)
        return self.table(node, what, found) if isinstance(node, Table) else MISSING

    def table(self, node: Table, what: str, found: Findings) -> Operand | Missing:
        gates = [(key, value) for key, value in node.pairs if key.text in _GATES]
        for key, _ in node.pairs:
            if key.text not in _GATES:
                hint = found.remedy(key.text, _GATES, f"the gates are {listing(_GATES)}")
                found.problem(key, f"unknown gate '{shown(key.text)}'", hint)
        if len(gates) > 1:
            found.problem(gates[1][0], f"a second gate '{gates[1][0].text}' in one operand", "put one gate in the other")
        elif not node.pairs:
            wrong_empty(node, what, f"write one gate: {listing(_GATES, 'or')}", found)
        values = [GateOf(cast(GateKind, key.text)).read(value, key.text, found) for key, value in gates]
        return values[0] if len(values) == len(node.pairs) == 1 else MISSING


def _listed(gate: GateKind, node: Node, found: Findings) -> Gate | Missing:
    operands = _operands(gate, node, found)
    return MISSING if isinstance(operands, Missing) else Gate(gate, operands, at=found.place(node))


def _operands(what: str, node: Node, found: Findings) -> tuple[Operand, ...] | Missing:
    if not isinstance(node, Array):
        return wrong(node, what, "a list of operands", f"write '{what}: [...]' or one '- ' line for each", found)
    if not node.entries:
        return wrong_empty(node, what, "name at least one operand", found)
    values = [OPERAND.read(one, what, found) for one in node.entries]
    good = tuple(one for one in values if not isinstance(one, Missing))
    return good if len(good) == len(values) else MISSING


def _negated(gate: GateKind, node: Node, found: Findings) -> Gate | Missing:
    if isinstance(node, Array):
        return wrong(node, gate, "one operand", "write 'none: [...]' to negate several", found)
    operand = OPERAND.read(node, gate, found)
    return MISSING if isinstance(operand, Missing) else Gate(gate, (operand,), at=found.place(node))


def _voted(gate: GateKind, node: Node, found: Findings) -> Gate | Missing:
    hint = "write 'at_least: {count: 2, of: [...]}'"
    if not isinstance(node, Table):
        return wrong(node, gate, "a mapping of 'count' and 'of'", hint, found)
    parts = {key.text: value for key, value in node.pairs}
    for key, _ in node.pairs:
        if key.text not in ("count", "of"):
            found.problem(key, f"unknown key '{shown(key.text)}' in 'at_least'", hint)
    for name in ("count", "of"):
        if name not in parts:
            found.problem(node, f"'at_least' has no '{name}'", hint)
    count = Whole().read(parts["count"], "count", found) if "count" in parts else MISSING
    operands = _operands("of", parts["of"], found) if "of" in parts else MISSING
    if isinstance(count, Missing) or isinstance(operands, Missing):
        return MISSING
    if count > len(operands):
        message = f"'count' is {count}, but 'of' has {len(operands)} operand{'s' * (len(operands) > 1)}"
        found.problem(parts["count"], message, f"it must be between 1 and {len(operands)}")
        return MISSING
    return Gate(gate, operands, count, at=found.place(node))


_GATES: Mapping[str, Callable[[GateKind, Node, Findings], Gate | Missing]] = {
    "all": _listed,
    "any": _listed,
    "not": _negated,
    "none": _listed,
    "at_least": _voted,
    "one_of": _listed,
}
GATES: Sequence[GateKind] = cast(Sequence[GateKind], tuple(_GATES))
"""The keys of the six gates."""

OPERAND = OperandKind()


class Otherwise:
    """The type of OTHERWISE: an answer that holds where no other one does."""


OTHERWISE = Otherwise()


@dataclass(frozen=True, slots=True)
class When:
    """An operand, or the word `otherwise`."""

    def read(self, node: Node, what: str, found: Findings) -> Operand | Otherwise | Missing:
        if isinstance(node, Scalar) and node.text == "otherwise":
            return OTHERWISE
        return OPERAND.read(node, what, found)


@dataclass(frozen=True, slots=True)
class Name:
    """A name that is checked later, such as that of an answer; read as the scalar, for its place."""

    def read(self, node: Node, what: str, found: Findings) -> Scalar | Missing:
        return node if isinstance(node, Scalar) else wrong(node, what, "one word", "name one answer", found)
