"""Reads a mapping with known keys into a record, by a shape that says what each key holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, NamedTuple

from faultree.base.problem import Place, Problem
from faultree.base.words import listing
from faultree.library.findings import ID_FORM, Findings
from faultree.library.kinds import MISSING, Kind, Missing, describe, wrong, wrong_empty
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

    `id` is the full id, or a name for messages where the mapping has none; `key` marks where the
    record begins. A field that was given but wrong is in `keys` and not in `values`.
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

    def get(self, name: str, default: Any = None) -> Any:
        """A good value, or the default."""
        return self.values.get(name, default)

    def problem(self, at: Scalar, message: str, hint: str, rule: str) -> Problem:
        """The problem of something in this record."""
        return Problem(Place(self.place.file, at.line, at.column), message, hint, rule=rule)


Rule = Callable[[Record, Findings], None]


def no_rule(record: Record, found: Findings) -> None:
    """A shape whose fields have nothing to do with each other."""


@dataclass(frozen=True, slots=True)
class Shape:
    """What a mapping may hold; `name` is what one of them is called, as in 'a cause'."""

    name: str
    doc: str
    fields: Mapping[str, Field]
    rule: Rule = field(default=no_rule)
    owns: bool = True


def read_record(shape: Shape, id: str, key: Scalar, node: Node, found: Findings) -> Record:
    """The record in a mapping; everything wrong with it is noted.

    A node that is no mapping gives a record without values, and only that is noted.
    """
    values: dict[str, Any] = {}
    keys: dict[str, Scalar] = {}
    extra: dict[str, object] = {}
    record = Record(shape, id, key, found.place(key), values, keys, extra)
    if isinstance(node, Scalar) and node.plain and node.text in NOTHING:
        node = Table((), node.line, node.column)
    if not isinstance(node, Table):
        known = ", ".join(shape.fields)
        wrong(node, record.short, f"a mapping ({shape.name})", f"write its fields below it: {known}", found)
        return record
    for name, value in node.pairs:
        if name.text in shape.fields:
            _read_field(shape.fields[name.text], name, value, values, keys, found)
        elif shape.owns and name.text.startswith("x-"):
            extra[name.text] = plain(value)
        else:
            _unknown_key(shape, name, found)
    _check_required(record, found)
    shape.rule(record, found)
    return record


def _read_field(
    spec: Field, key: Scalar, node: Node, values: dict[str, Any], keys: dict[str, Scalar], found: Findings
) -> None:
    keys[key.text] = key
    if isinstance(node, Scalar) and node.plain and node.text in NOTHING and not isinstance(spec.kind, Records):
        found.problem(key, f"'{key.text}' has no value", "write one or remove the key")
        return
    value = spec.kind.read(node, key.text, found)
    if not isinstance(value, Missing):
        values[key.text] = value


def _unknown_key(shape: Shape, key: Scalar, found: Findings) -> None:
    hint = found.remedy(key.text, shape.fields, f"its keys are {listing(shape.fields)}")
    found.problem(key, f"unknown key '{shown(key.text)}' in {shape.name}", hint)


def _check_required(record: Record, found: Findings) -> None:
    for name, spec in record.shape.fields.items():
        if spec.required and name not in record.keys:
            found.problem(record.key, f"{named(record)} has no '{name}'", f"add '{name}: ...'")


def named(record: Record) -> str:
    """A record as the subject of a sentence.

    The article of the shape's name goes where an id follows it.
    """
    name = record.shape.name
    return f"{name.partition(' ')[2]} '{shown(record.short)}'" if record.short else name


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
        if not isinstance(node, Table):
            known = listing(self.shape.fields)
            return wrong(node, what, "a mapping", f"write its fields below it: {known}", found)
        key = Scalar(what, True, node.line, node.column)
        return read_record(self.shape, what, key, node, found)


@dataclass(frozen=True, slots=True)
class Records:
    """A mapping from ids to records of one shape; `full` says that the ids belong to the library.

    A section that holds nothing yet is read as empty.
    """

    shape: Shape
    full: bool = True

    def read(self, node: Node, what: str, found: Findings) -> tuple[Record, ...] | Missing:
        if isinstance(node, Scalar) and node.plain and node.text in NOTHING:
            return ()
        if not isinstance(node, Table):
            hint = f"write each id of {self.shape.name} as a key with its fields below it, without '-'"
            return wrong(node, what, "a mapping from ids", hint, found)
        return tuple(self._one(key, value, found) for key, value in node.pairs)

    def _one(self, key: Scalar, node: Node, found: Findings) -> Record:
        if not is_id(key.text):
            found.problem(key, f"'{shown(key.text)}' is not an id", ID_FORM)
        name = f"{found.system}/{key.text}" if self.full else key.text
        return read_record(self.shape, name, key, node, found)


@dataclass(frozen=True, slots=True)
class Listed:
    """A list of records without ids."""

    shape: Shape

    def read(self, node: Node, what: str, found: Findings) -> tuple[Record, ...] | Missing:
        if not isinstance(node, Array):
            return wrong(node, what, "a list", f"begin each of its mappings with '- ', not {describe(node)}", found)
        if not node.entries:
            return wrong_empty(node, what, "remove the key or add an entry", found)
        return tuple(self._one(entry, found) for entry in node.entries if not isinstance(entry, Refused))

    def _one(self, node: Node, found: Findings) -> Record:
        return read_record(self.shape, "", Scalar("", True, node.line, node.column), node, found)


__all__ = ["MISSING", "Field", "Listed", "One", "Record", "Records", "Shape", "named", "plain", "read_record"]
