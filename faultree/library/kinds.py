"""The kinds of value that a field can hold: each reads a node, or says what is wrong with it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any, Protocol

from faultree.base.words import listing
from faultree.library.findings import Findings
from faultree.library.marked import Array, Node, Refused, Scalar, Table
from faultree.library.values import control, flag, number, shown, whole


class Missing:
    """The type of MISSING: a value that could not be read and is reported already."""


MISSING = Missing()


class Kind(Protocol):
    """Reads one node."""

    def read(self, node: Node, what: str, found: Findings) -> Any:
        """The value, or MISSING after a problem is noted; `what` names the field in messages."""


def describe(node: Node) -> str:
    """What a node is, for "... must be ..., not ..."."""
    if isinstance(node, Scalar):
        return f"'{shown(node.text)}'" if node.text or not node.plain else "nothing"
    return "a list" if isinstance(node, Array) else "a mapping"


def wrong(node: Node, what: str, wanted: str, hint: str, found: Findings) -> Missing:
    """Note that a node is of the wrong kind."""
    if not isinstance(node, Refused):
        found.problem(node, f"'{shown(what)}' must be {wanted}, not {describe(node)}", hint)
    return MISSING


@dataclass(frozen=True, slots=True)
class Text:
    """An author's text, shown as it stands; a `line` is a text without line breaks."""

    line: bool = False

    def read(self, node: Node, what: str, found: Findings) -> str | Missing:
        if not isinstance(node, Scalar):
            return wrong(node, what, "a text", "put a text that begins with '{' or '[' in quotes", found)
        text = node.text.strip()
        bad = control(text)
        if bad is not None:
            found.problem(node, f"'{what}' holds the control character U+{ord(bad):04X}", "remove it")
        elif not text:
            found.problem(node, f"'{what}' is empty", "write a text or remove it")
        elif self.line and "\n" in text:
            found.problem(node, f"'{what}' has more than one line", "write it on one line, or fold it with '>-'")
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
        if not self._holds(value):
            found.problem(node, f"'{what}' is {shown(node.text)}", f"it must be {self.range()}")
            return MISSING
        return value

    def _holds(self, value: float) -> bool:
        high_enough = value > self.low if self.above else value >= self.low
        low_enough = value < self.high if self.below else value <= self.high
        return high_enough and low_enough

    def range(self) -> str:
        """The limits in words.

        >>> Number(0, 1, above=True, below=True).range(), Number().range()
        ('above 0 and below 1', '0 or more and at most 100000')
        """
        low = f"above {self.low:g}" if self.above else f"{self.low:g} or more"
        high = f"below {self.high:g}" if self.below else f"at most {self.high:.0f}"
        return f"{low} and {high}"


def _number_hint(node: Scalar) -> str:
    """How to write what an author most likely meant by a text that is no number."""
    text = node.text.strip()
    if not node.plain and number(text) is not None:
        return "remove the quotes"
    percent = number(text.removesuffix("%").strip())
    if percent is not None:
        return f"write {percent / 100:g}"
    if number(text.replace(",", ".", 1)) is not None:
        return f"write {text.replace(',', '.', 1)} with a decimal point"
    clock = re.fullmatch(r"([0-9]{1,3}):([0-5][0-9])", text)
    if clock:
        return f"write one number, such as {60 * int(clock[1]) + int(clock[2])} for minutes"
    share = re.fullmatch(r"([0-9]{1,9})/([1-9][0-9]{0,8})", text)
    if share:
        return f"write {int(share[1]) / int(share[2]):g}"
    if number(re.sub(r" *[A-Za-z]+\.?$", "", text)) is not None:
        return "write the number alone, without its unit"
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
    """One of a few words; `hint` is the remedy where the word is another one."""

    options: tuple[str, ...]
    hint: str = ""

    def read(self, node: Node, what: str, found: Findings) -> str | Missing:
        if isinstance(node, Scalar) and node.text in self.options:
            return node.text
        one_of = listing(self.options, "or")
        hint = self.hint or f"write {one_of}"
        if isinstance(node, Scalar):
            hint = found.remedy(node.text, self.options, hint)
        return wrong(node, what, one_of, hint, found)


@dataclass(frozen=True, slots=True)
class Id:
    """The id of something, as `id` or `file/id`, read as a full id; `target` says what it must be."""

    target: str

    def read(self, node: Node, what: str, found: Findings) -> str | Missing:
        if not isinstance(node, Scalar):
            more = "; a gate needs an event of its own" if self.target == "node" and isinstance(node, Table) else ""
            return wrong(node, what, "one id", f"name one {self.target}{more}", found)
        return found.refer(self.target, node.text, node) or MISSING


@dataclass(frozen=True, slots=True)
class AnswerName:
    """The id of an answer, read as the node, for its check tells only later which ones it has."""

    def read(self, node: Node, what: str, found: Findings) -> Scalar | Missing:
        return node if isinstance(node, Scalar) else wrong(node, what, "one answer", "name one answer", found)


@dataclass(frozen=True, slots=True)
class Many:
    """A list of at least `least` values of one kind; a single value stands for a list of one."""

    kind: Kind
    least: int = 0

    def read(self, node: Node, what: str, found: Findings) -> tuple[Any, ...] | Missing:
        nodes = node.entries if isinstance(node, Array) else (node,)
        if len(nodes) < self.least:
            found.problem(node, f"'{what}' is empty", "name at least one")
            return MISSING
        values = tuple(self.kind.read(one, what, found) for one in nodes)
        if isinstance(self.kind, Id):
            _note_twice([one for one in nodes if isinstance(one, Scalar)], found)
        return MISSING if MISSING in values else values


@dataclass(frozen=True, slots=True)
class Pairs:
    """A mapping from ids of something to values of one kind, as a tuple of (full id, value)."""

    target: str
    kind: Kind

    def read(self, node: Node, what: str, found: Findings) -> tuple[tuple[str, Any], ...] | Missing:
        if not isinstance(node, Table):
            example = f"{self.target}: {'yes' if isinstance(self.kind, Flag) else 'answer'}"
            return wrong(node, what, "a mapping", f"write '{example}', one below the other", found)
        if not node.pairs:
            found.problem(node, f"'{what}' is empty", "name at least one or remove it")
            return MISSING
        values: dict[str, Any] = {}
        for key, value in node.pairs:
            full = found.refer(self.target, key.text, key)
            read = self.kind.read(value, key.text, found)
            values[full or key.text] = MISSING if full is None else read
        # Keys that are the same to the letter are reported where the mapping is read.
        _note_twice(list({key.text: key for key, _ in node.pairs}.values()), found)
        return MISSING if MISSING in values.values() else tuple(values.items())


def _note_twice(names: list[Scalar], found: Findings) -> None:
    """Note ids that are named twice, be it once with and once without their file."""
    seen: set[str] = set()
    for name in names:
        full = found.full(name.text)
        if full in seen:
            found.problem(name, f"'{shown(name.text)}' is named twice", "keep one of the two")
        seen.add(full)
