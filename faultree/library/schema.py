"""Makes a JSON Schema from the table of the format, so that an editor can complete, explain and underline.

The schema refuses nothing that the reader accepts, but for ids that YAML itself takes for a value
(`true`, `false` and `null` without quotes). It cannot see everything that the reader sees: what
stays for `faultree lint` is told in the documents, and held by the tests.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, TypeVar

from faultree.library import kinds, operands, records, shapes
from faultree.library.operands import GATES
from faultree.library.records import Shape

Schema = dict[str, Any]
K = TypeVar("K")

DIALECT = "https://json-schema.org/draft/2020-12/schema"
TITLE = "faultree tree file, format 1"

_NAME = "[A-Za-z][A-Za-z0-9_-]*"
_ID = f"^{_NAME}$"
_REF = f"^{_NAME}(/{_NAME})?$"
_FLAG = "^([Yy][Ee][Ss]|[Nn][Oo]|[Oo][Nn]|[Oo][Ff][Ff]|[Tt][Rr][Uu][Ee]|[Ff][Aa][Ll][Ss][Ee])$"
# Control characters and changes of direction, but for those that are no harm at the end of a text.
_ILL = "\\u0000-\\u0008\\u000e-\\u001b\\u007f-\\u0084\\u0086-\\u009f\\u202a-\\u202e\\u2066-\\u2069"
_TEXT = f"^[^{_ILL}]*[^\\s{_ILL}][^{_ILL}]*$"
_LINE = f"^\\s*[^\\s{_ILL}]([^\\n{_ILL}]*[^\\s{_ILL}])?\\s*$"


def schema() -> Schema:
    """The schema of a tree file in the dialect 2020-12, as plain data.

    >>> made = schema()
    >>> made["required"], made["properties"]["symptoms"]["patternProperties"]
    (['faultree', 'title'], {'^[A-Za-z][A-Za-z0-9_-]*$': {'$ref': '#/$defs/symptom'}})
    """
    found = [value for value in vars(shapes).values() if isinstance(value, Shape) and value is not shapes.FILE]
    own: dict[str, Schema] = {_key(shape): _shape(shape) for shape in found}
    return {
        "$schema": DIALECT,
        **_shape(shapes.FILE),
        "title": TITLE,
        "$defs": {**own, "operand": _operand(), "gate": _gate()},
    }


def _key(shape: Shape) -> str:
    return shape.noun.replace(" ", "-")


def _to(name: str) -> Schema:
    return {"$ref": f"#/$defs/{name}"}


def _shape(shape: Shape) -> Schema:
    """One mapping: its keys, which of them it must have, and what they demand of each other."""
    required = [name for name, spec in shape.fields.items() if spec.required]
    return {
        "title": shape.noun,
        "description": shape.doc,
        "type": "object",
        "properties": {name: _field(shape, name) for name in shape.fields},
        **({"patternProperties": {"^x-": {"description": _OWN}}} if shape.own else {}),
        "additionalProperties": False,
        **({"required": required} if required else {}),
        **_DEMANDS.get(shape.noun, {}),
    }


def _field(shape: Shape, name: str) -> Schema:
    spec = shape.fields[name]
    return {"title": f"{shape.noun}: {name}", "description": spec.doc, **_kind(spec.kind)}


def _kind(kind: kinds.Kind) -> Schema:
    """What a field can hold, as its kind says."""
    return _MAKERS[type(kind)](kind)


def _text(kind: kinds.Text) -> Schema:
    # A text such as 27 or yes is a number or a truth to an editor, and still a text to the reader.
    return {"type": ["string", "number", "boolean"], "pattern": _LINE if kind.line else _TEXT}


def _number(kind: kinds.Number) -> Schema:
    low = "exclusiveMinimum" if kind.above else "minimum"
    high = "exclusiveMaximum" if kind.below else "maximum"
    return {"type": "number", low: kind.low, high: kind.high}


def _word(kind: kinds.Word) -> Schema:
    numbers = [int(option) for option in kind.options if option.isdigit()]
    return {"enum": [*numbers, *kind.options]}


def _flag(kind: kinds.Flag) -> Schema:
    del kind
    return {"anyOf": [{"enum": ["yes", "no"]}, {"type": "boolean"}, {"type": "string", "pattern": _FLAG}]}


def _many(kind: kinds.Many) -> Schema:
    one = _kind(kind.kind)
    several: Schema = {"type": "array", "items": one}
    if kind.least:
        several["minItems"] = kind.least
    if isinstance(kind.kind, kinds.Id):
        several["uniqueItems"] = True
    return {"anyOf": [several, one]}


def _pairs(kind: kinds.Pairs) -> Schema:
    named = {_REF: {"title": f"the id of a {kind.target}", **_kind(kind.kind)}}
    return {"type": "object", "patternProperties": named, "additionalProperties": False, "minProperties": 1}


def _records(kind: records.Records) -> Schema:
    named = {_ID: _to(_key(kind.shape))}
    # A section whose entries are still to be written is fine; a check without answers is not.
    empty: Schema = {"type": ["object", "null"]} if kind.full else {"type": "object", "minProperties": 2}
    return {**empty, "patternProperties": named, "additionalProperties": False}


def _operand() -> Schema:
    return {
        "title": "operand",
        "description": "The id of a condition, cause, signal or event, or one gate over further operands.",
        "oneOf": [_to("gate"), {"type": "string", "pattern": _REF}],
    }


def _gate() -> Schema:
    fields = shapes.EVENT.fields
    return {
        "title": "gate",
        "description": "Exactly one gate.",
        "type": "object",
        "properties": {
            gate: {"title": f"gate: {gate}", "description": fields[gate].doc, **_kind(fields[gate].kind)}
            for gate in GATES
        },
        "additionalProperties": False,
        "minProperties": 1,
        "maxProperties": 1,
    }


def _below(kind: operands.GateOf) -> Schema:
    """What stands below the key of a gate."""
    several = {"type": "array", "items": _to("operand"), "minItems": 1}
    if kind.gate == "not":
        return _to("operand")
    if kind.gate != "at_least":
        return several
    count = {"title": "at_least: count", "description": "How many must be true.", "type": "integer", "minimum": 1}
    of = {"title": "at_least: of", "description": "The operands that are counted.", **several}
    return {
        "type": "object",
        "properties": {"count": count, "of": of},
        "additionalProperties": False,
        "required": ["count", "of"],
    }


def _maker(kind: type[K], make: Callable[[K], Schema]) -> tuple[type[Any], Callable[[Any], Schema]]:
    return kind, make


_MAKERS: Mapping[type[Any], Callable[[Any], Schema]] = dict(
    [
        _maker(kinds.Text, _text),
        _maker(kinds.Number, _number),
        _maker(kinds.Word, _word),
        _maker(kinds.Flag, _flag),
        _maker(kinds.Id, lambda kind: {"type": "string", "pattern": _REF}),
        _maker(kinds.AnswerName, lambda kind: {"type": "string", "pattern": _ID}),
        _maker(kinds.Many, _many),
        _maker(kinds.Pairs, _pairs),
        _maker(records.One, lambda kind: _to(_key(kind.shape))),
        _maker(records.Records, _records),
        _maker(records.Listed, lambda kind: {"type": ["array", "null"], "items": _to(_key(kind.shape))}),
        _maker(operands.OperandKind, lambda kind: _to("operand")),
        _maker(operands.When, lambda kind: {"anyOf": [{"enum": ["otherwise"]}, _to("operand")]}),
        _maker(operands.GateOf, _below),
    ]
)
"""What makes the schema of each kind of value."""

_OWN = "A key of your own, kept and not looked at."


def _with(*names: str, without: tuple[str, ...] = ()) -> Schema:
    """A form in which some keys must be there, and others must not."""
    refused = {"properties": dict.fromkeys(without, False)} if without else {}
    return {**({"required": list(names)} if names else {}), **refused}


_DEMANDS: Mapping[str, Schema] = {
    "cause": {
        "oneOf": [
            _with("probability", without=("rate", "hours", "likelihood")),
            _with("rate", without=("probability", "likelihood")),
            _with("likelihood", without=("probability", "rate", "hours")),
        ],
        "if": _with("item"),
        "then": _with(without=("minutes",)),
    },
    "event": {"oneOf": [_with(gate) for gate in GATES]},
    "check": {
        "oneOf": [
            _with("reads", without=("answers", "error")),
            _with("answers", without=("reads", "yes", "no", "false_yes", "false_no")),
        ]
    },
    "symptom": {"oneOf": [_with("event", without=("sees",)), _with("sees", without=("event",))]},
    "expectation": {"anyOf": [_with("first"), _with("cleared", without=("at_least",))]},
}
"""What the rules of a shape ask, as far as a schema can say it, by the shape's noun."""
