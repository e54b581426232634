"""Reads operands and gates: an id, or a mapping with one of the six gates over further operands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from faultree.base.words import listing
from faultree.library.findings import Findings
from faultree.library.kinds import MISSING, Missing, Whole, wrong
from faultree.library.marked import Array, Node, Refused, Scalar, Table
from faultree.library.model import Gate, GateKind, Operand, Ref
from faultree.library.values import shown

SENTENCE: Mapping[str, GateKind] = {"and": "all", "or": "any", "nor": "none", "xor": "one_of"}
"""The gates by the words that stand for them in sentences and in other notations."""

_AT_LEAST = "write 'at_least: {count: 2, of: [...]}'"


@dataclass(frozen=True, slots=True)
class OperandKind:
    """An id, or a mapping with one gate."""

    def read(self, node: Node, what: str, found: Findings) -> Operand | Missing:
        """What the node says, with full ids, or MISSING after a problem is noted."""
        if isinstance(node, Scalar):
            full = found.refer("node", node.text, node, _gate_for(node.text))
            return MISSING if full is None else Ref(full, found.place(node))
        if isinstance(node, Table):
            return _one_gate(node, what, found)
        return wrong(node, what, "an id or one gate", "put 'all:', 'any:' or another gate before the list", found)


OPERAND = OperandKind()


@dataclass(frozen=True, slots=True)
class GateOf:
    """What stands below one gate key, read as a `Gate` over full ids."""

    gate: GateKind

    def read(self, node: Node, what: str, found: Findings) -> Gate | Missing:
        return _READERS[self.gate](self.gate, node, found)


class Otherwise:
    """The type of OTHERWISE: an answer that holds where no other one does."""


OTHERWISE: Final = Otherwise()


@dataclass(frozen=True, slots=True)
class When:
    """An operand, or the word `otherwise`."""

    def read(self, node: Node, what: str, found: Findings) -> Operand | Otherwise | Missing:
        if isinstance(node, Scalar) and node.text == "otherwise":
            return OTHERWISE
        return OPERAND.read(node, what, found)


def _gate_for(text: str) -> str:
    """How to write as a gate what is written as a sentence; empty where it is none.

    >>> _gate_for("left and right"), _gate_for("not left"), _gate_for("left")
    ("write '{all: [left, right]}'", "write '{not: left}'", '')
    """
    words = text.split()
    if len(words) == 2 and words[0].lower() == "not":
        return f"write '{{not: {shown(words[1])}}}'"
    between = {word.lower() for word in words[1::2]}
    gate = SENTENCE.get(between.pop()) if len(between) == 1 and len(words) % 2 else None
    return f"write '{{{gate}: [{shown(', '.join(words[::2]))}]}}'" if gate else ""


def _one_gate(node: Table, what: str, found: Findings) -> Operand | Missing:
    if not node.pairs:
        found.problem(node, f"'{what}' holds an empty gate", f"write one of {listing(GATES, 'or')}")
    values = [_gate(key, value, found) for key, value in node.pairs]
    for key, _ in node.pairs[1:]:
        if key.text in GATES:
            message = f"'{key.text}' besides '{shown(node.pairs[0][0].text)}' in one operand"
            found.problem(key, message, "an operand has one gate: put one below the other")
    return values[0] if len(values) == 1 else MISSING


def _gate(key: Scalar, value: Node, found: Findings) -> Gate | Missing:
    for gate in GATES:
        if gate == key.text:
            return GateOf(gate).read(value, gate, found)
    known = SENTENCE.get(key.text.lower())
    hint = f"did you mean '{known}'?" if known else found.remedy(key.text, GATES, f"the gates are {listing(GATES)}")
    found.problem(key, f"unknown gate '{shown(key.text)}'", hint)
    return MISSING


def _listed(gate: GateKind, node: Node, found: Findings) -> Gate | Missing:
    operands = _operands(gate, node, found)
    return MISSING if isinstance(operands, Missing) else Gate(gate, operands, at=found.place(node))


def _operands(what: str, node: Node, found: Findings) -> tuple[Operand, ...] | Missing:
    if not isinstance(node, Array):
        return wrong(node, what, "a list of operands", f"write '{what}: [...]', or each on a line with '- '", found)
    if not node.entries:
        found.problem(node, f"'{what}' is empty", "name at least one operand")
        return MISSING
    values = [OPERAND.read(one, what, found) for one in node.entries]
    good = tuple(one for one in values if not isinstance(one, Missing))
    return good if len(good) == len(values) else MISSING


def _negated(gate: GateKind, node: Node, found: Findings) -> Gate | Missing:
    if isinstance(node, Array):
        return wrong(node, gate, "one operand", "write 'none: [...]' where all of several must be false", found)
    operand = OPERAND.read(node, gate, found)
    return MISSING if isinstance(operand, Missing) else Gate(gate, (operand,), at=found.place(node))


def _voted(gate: GateKind, node: Node, found: Findings) -> Gate | Missing:
    if not isinstance(node, Table):
        return wrong(node, gate, "a mapping of 'count' and 'of'", _AT_LEAST, found)
    parts = {key.text: value for key, value in node.pairs}
    for key, _ in node.pairs:
        if key.text not in ("count", "of"):
            found.problem(key, f"unknown key '{shown(key.text)}' in 'at_least'", _AT_LEAST)
    for name in ("count", "of"):
        if name not in parts:
            found.problem(node, f"'at_least' has no '{name}'", _AT_LEAST)
    nothing = Refused(node.line, node.column)  # a missing part is reported already
    count = Whole().read(parts.get("count", nothing), "count", found)
    operands = _operands("of", parts.get("of", nothing), found)
    if isinstance(count, Missing) or isinstance(operands, Missing):
        return MISSING
    if count > len(operands):
        message = f"'count' is {count}, and 'of' names {len(operands)}"
        found.problem(parts["count"], message, f"it must be 1 or more and at most {len(operands)}")
        return MISSING
    return Gate(gate, operands, count, at=found.place(node))


_READERS: Mapping[GateKind, Callable[[GateKind, Node, Findings], Gate | Missing]] = {
    "all": _listed,
    "any": _listed,
    "not": _negated,
    "none": _listed,
    "at_least": _voted,
    "one_of": _listed,
}
GATES: tuple[GateKind, ...] = tuple(_READERS)
"""The keys of the six gates."""
