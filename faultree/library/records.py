"""Reads a mapping with known keys into a record, by a shape that says what each key holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from faultree.base.problem import Place, Problem
from faultree.base.words import listing
from faultree.library.findings import ID_FORM, Findings
from faultree.library.kinds import Kind, Missing, Word, describe, wrong
from faultree.library.marked import Array, Node, Refused, Scalar, Table
from faultree.library.values import NOTHING, is_id, own, shown


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a shape: what it holds, what it means to an author, and whether it must be there."""

    kind: Kind
    doc: str
    required: bool = False


class Record(NamedTuple):
    """A mapping that was read: its good values, the key of every field given, and the author's own keys.

    `id` is the full id where the library knows it by one, and `key` marks where the record begins.
    A field that was given but is wrong stands in `keys` and not in `values`.
    """

    shape: Shape
    id: str
    key: Scalar
    place: Place
    values: Mapping[str, Any]
    keys: Mapping[str, Scalar]
    extra: Mapping[str, object]

    @property
    def short(self) -> str:
        """The id without its file."""
        return self.id.rpartition("/")[2]

    @property
    def called(self) -> str:
        """The record as the subject of a sentence, such as "cause 'pump-worn'"."""
        return f"{self.shape.noun} '{shown(self.short)}'" if self.id else f"this {self.shape.noun}"

    def get(self, name: str, default: Any = None) -> Any:
        """A good value, or the default."""
        return self.values.get(name, default)

    def problem(self, at: Scalar, message: str, hint: str, rule: str) -> Problem:
        """The problem of something in this record."""
        return Problem(Place(self.place.file, at.line, at.column), message, hint, rule=rule)


Rule = Callable[[Record, Findings], None]


def no_rule(record: Record, found: Findings) -> None:
    """The rule of a shape whose fields demand nothing of each other."""


@dataclass(frozen=True, slots=True)
class Shape:
    """What a mapping may hold; `noun` is what one of them is called.

    `own` allows the author's own keys, which begin with `x-`. `rule` says what the fields demand of
    each other.
    """

    noun: str
    doc: str
    fields: Mapping[str, Field]
    rule: Rule = field(default=no_rule)
    own: bool = True


def read_record(shape: Shape, name: str, key: Scalar, node: Node, found: Findings, whole: bool = True) -> Record:
    """The record in a mapping, called `name`; everything wrong with it is noted.

    A node that is no mapping gives a record without values, and only that is noted. Of a mapping
    that is not `whole`, since reading stopped within it, nothing is said to be missing.
    """
    record = Record(shape, name, key, found.place(key), {}, {}, {})
    if is_nothing(node):
        node = Table((), node.line, node.column)
    if not isinstance(node, Table):
        if not isinstance(node, Refused):
            hint = f"write its fields below it, such as '{next(iter(shape.fields))}: ...'"
            found.problem(node, f"{record.called} must be a mapping, not {describe(node)}", hint)
        return record
    record = _read_fields(record, node, found)
    if whole:
        _check_required(record, found)
    shape.rule(record, found)
    return record


def is_nothing(node: Node) -> bool:
    """Whether a key has no value: nothing behind it, `~` or `null`."""
    return isinstance(node, Scalar) and node.plain and node.text in NOTHING


def _read_fields(record: Record, node: Table, found: Findings) -> Record:
    values: dict[str, Any] = {}
    keys: dict[str, Scalar] = {}
    extra: dict[str, object] = {}
    for key, value in node.pairs:
        spec = record.shape.fields.get(key.text)
        if spec is not None:
            keys[key.text] = key
            read = _read_field(spec, key, value, found)
            if not isinstance(read, Missing):
                values[key.text] = _joined(values.get(key.text), read)
        elif record.shape.own and key.text.startswith("x-"):
            extra[key.text] = plain(value)
        else:
            _unknown_key(record.shape, key, value, found)
    return record._replace(values=values, keys=keys, extra=extra)


def _joined(before: Any, read: Any) -> Any:
    """A value; of a section that is written twice, which is reported already, the records of both."""
    return before + read if isinstance(before, tuple) and isinstance(read, tuple) else read


def _read_field(spec: Field, key: Scalar, node: Node, found: Findings) -> Any:
    if is_nothing(node) and not isinstance(spec.kind, Records | Listed):
        found.problem(key, f"'{key.text}' has no value", "write one or remove the key")
        return Missing()
    return spec.kind.read(node, key.text, found)


def _unknown_key(shape: Shape, key: Scalar, value: Node, found: Findings) -> None:
    hint = found.remedy(key.text, shape.fields, f"its keys are {listing(shape.fields)}")
    if " " in key.text and is_nothing(value):
        hint = "within '{ }' a comma begins a new key: put the text that holds it in quotes"
    found.problem(key, f"unknown key '{shown(key.text)}' of {article(shape.noun)}", hint)


def article(noun: str) -> str:
    """A noun with "a" or "an" before it.

    >>> article("item"), article("cause")
    ('an item', 'a cause')
    """
    return f"{'an' if noun[0] in 'aeiou' else 'a'} {noun}"


def _check_required(record: Record, found: Findings) -> None:
    for name, spec in record.shape.fields.items():
        if spec.required and name not in record.keys:
            value = spec.kind.options[0] if isinstance(spec.kind, Word) else "..."
            found.problem(record.key, f"{record.called} has no '{name}'", f"add '{name}: {value}'")


def plain(node: Node) -> object:
    """An author's own data, as plain values: dict, tuple, str, int, float, bool and None."""
    if isinstance(node, Scalar):
        return own(node.text, node.plain)
    if isinstance(node, Array):
        return tuple(plain(one) for one in node.entries)
    if isinstance(node, Table):
        return {key.text: plain(value) for key, value in node.pairs}
    return None


@dataclass(frozen=True, slots=True)
class One:
    """A nested mapping of one shape."""

    shape: Shape

    def read(self, node: Node, what: str, found: Findings) -> Record | Missing:
        """What the node holds, right or wrong within, or MISSING where it is no mapping (or list)."""
        if not isinstance(node, Table):
            hint = f"write its fields below it: {listing(self.shape.fields)}"
            return wrong(node, what, "a mapping", hint, found)
        return read_record(self.shape, "", Scalar(what, True, node.line, node.column), node, found)


@dataclass(frozen=True, slots=True)
class Records:
    """A mapping from ids to records of one shape, as a tuple; `full` gives them full ids.

    A key without a value stands for none.
    """

    shape: Shape
    full: bool = True

    def read(self, node: Node, what: str, found: Findings) -> tuple[Record, ...] | Missing:
        if is_nothing(node):
            return ()
        if not isinstance(node, Table):
            hint = f"write the id of each {self.shape.noun} as a key, with its fields below it and no '-'"
            return wrong(node, what, "a mapping", hint, found)
        return tuple(self._one(key, value, found) for key, value in node.pairs)

    def _one(self, key: Scalar, node: Node, found: Findings) -> Record:
        if not is_id(key.text):
            found.problem(key, f"'{shown(key.text)}' is not an id", ID_FORM)
        name = f"{found.system}/{key.text}" if self.full else key.text
        return read_record(self.shape, name, key, node, found)


@dataclass(frozen=True, slots=True)
class Listed:
    """A list of records without ids; a key without a value stands for none."""

    shape: Shape

    def read(self, node: Node, what: str, found: Findings) -> tuple[Record, ...] | Missing:
        if is_nothing(node):
            return ()
        if not isinstance(node, Array):
            return wrong(node, what, "a list", f"begin each {self.shape.noun} with '- '", found)
        return tuple(self._one(entry, found) for entry in node.entries)

    def _one(self, node: Node, found: Findings) -> Record:
        return read_record(self.shape, "", Scalar("", True, node.line, node.column), node, found)
