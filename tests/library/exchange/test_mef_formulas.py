"""Formulas: what each connective becomes, and what is refused with its place."""

from __future__ import annotations

from typing import Any

import pytest

from faultree.library.exchange.mef_formulas import DEEPEST, depth, equal, parity
from faultree.library.model import Gate, Operand, Ref
from tests.library.exchange.models import gate, library, operand, problems, wrapped

A, B, C = (f'<basic-event name="e{number}"/>' for number in (1, 2, 3))
a, b, c = (Ref(f"f/e{number}") for number in (1, 2, 3))


def _gate(kind: Any, *of: Operand, count: int = 0) -> Gate:
    return Gate(kind, of, count)


@pytest.mark.parametrize(
    ("formula", "expected"),
    [
        (A, _gate("all", a)),
        (f"<and>{A}{B}</and>", _gate("all", a, b)),
        (f"<or>{A}{B}{C}</or>", _gate("any", a, b, c)),
        (f"<not>{A}</not>", _gate("not", a)),
        (f"<nor>{A}{B}</nor>", _gate("none", a, b)),
        (f"<nand>{A}{B}</nand>", _gate("not", _gate("all", a, b))),
        (f"<imply>{A}{B}</imply>", _gate("any", _gate("not", a), b)),
        (f"<xor>{A}{B}</xor>", _gate("one_of", a, b)),
        (f"<xor>{A}{B}{C}</xor>", _gate("one_of", a, _gate("one_of", b, c))),
        (f"<iff>{A}{B}</iff>", _gate("not", _gate("one_of", a, b))),
        (f"<iff>{A}{B}{C}</iff>", _gate("one_of", a, _gate("one_of", b, c))),
        (f"<atleast min='2'>{A}{B}{C}</atleast>", _gate("at_least", a, b, c, count=2)),
        (f"<cardinality min='1' max='1'>{A}{B}{C}</cardinality>", _gate("one_of", a, b, c)),
        (f"<cardinality min='0' max='0'>{A}{B}</cardinality>", _gate("none", a, b)),
        (f"<cardinality min='2' max='9'>{A}{B}{C}</cardinality>", _gate("at_least", a, b, c, count=2)),
        (
            f"<cardinality min='1' max='2'>{A}{B}{C}</cardinality>",
            _gate("all", _gate("at_least", a, b, c, count=1), _gate("not", _gate("at_least", a, b, c, count=3))),
        ),
        ("<constant value='true'/>", _gate("all", Ref("f/always-true"))),
        (f"<cardinality min='0' max='2'>{A}{B}</cardinality>", _gate("all", Ref("f/always-true"))),
        (f"<and>{A}<constant value='false'/></and>", _gate("all", a, Ref("f/always-false"))),
    ],
)
def test_each_connective(formula: str, expected: Gate) -> None:
    assert operand(formula) == expected


def test_constants_are_conditions_that_no_situation_sets() -> None:
    found = library(wrapped(gate("<or><constant value='true'/><constant value='false'/></or>")))
    assert {name: one.usually for name, one in found.conditions.items()} == {
        "f/always-true": True,
        "f/always-false": False,
    }


REFUSED = [
    (f"<nand>{A}{B}{C}</nand>", "'nand' of 3 operands can be read in two ways; write 'not' over 'and' if that"),
    (f"<nor>{A}{B}{C}</nor>", "'nor' of 3 operands can be read in two ways; write 'not' over 'or' if that"),
    ("<and/>", "'and' has no operands; give it at least one"),
    (f"<not>{A}{B}</not>", "'not' has 2 operands; give it one"),
    (f"<imply>{A}</imply>", "'imply' has 1 operands; give it two"),
    (f"<atleast>{A}</atleast>", "'atleast' has min='' over 1 operand; min is a whole number from 1 to 1"),
    (f"<atleast min='3'>{A}{B}</atleast>", "'atleast' has min='3' over 2 operands; min is a whole number from 1 to 2"),
    (
        f"<cardinality min='2' max='1'>{A}{B}</cardinality>",
        "'cardinality' has min='2' and max='1' over 2 operands; min",
    ),
    (f"<cardinality min='1'>{A}{B}</cardinality>", "'cardinality' has min='1' and max='' over 2 operands; min"),
    ("<constant value='1'/>", "the value of 'constant' is '1'; write true or false"),
    (f"<inhibit>{A}</inhibit>", "the formula 'inhibit' has no counterpart in a tree file; write it with and, or"),
    (f"<an>{A}</an>", "the formula 'an' has no counterpart in a tree file; did you mean 'and'?"),
    (f"<and min='1'>{A}{B}</and>", "unknown attribute 'min' of 'and'"),
    (f"<and>and{A}</and>", "the text 'and' in 'and' says nothing"),
]


@pytest.mark.parametrize(("formula", "message"), REFUSED, ids=[message[:40] for _, message in REFUSED])
def test_what_has_no_counterpart_is_refused(formula: str, message: str) -> None:
    (found,) = problems(wrapped(gate(formula)))
    assert found.startswith("1:")
    assert found.partition(": ")[2].startswith(message)


def test_every_mistake_of_a_formula_is_told_in_one_run() -> None:
    found = problems(wrapped(gate('<and><gate name="x"/><not/><or><event name="y"/></or></and>')))
    assert [one.split(": ")[1].split(";")[0] for one in found] == [
        "the gate 'x' is declared nowhere",
        "'not' has no operands",
        "the event 'y' is declared nowhere",
    ]


def test_parity_and_equality_stay_flat() -> None:
    """Folded by halves, so that a long list does not nest too deeply for a tree file."""
    names = [f"e{number}" for number in range(500)]
    assert depth(parity(names)) <= 20
    assert equal(names) == {"not": parity(names)}
    assert parity(["a"]) == "a"


def test_a_formula_that_a_tree_file_cannot_hold_is_refused() -> None:
    deep = "<cardinality min='1' max='2'>" * 12 + A * 3 + f"{B}{C}</cardinality>" * 12
    assert DEEPEST < 60
    (found,) = problems(wrapped(gate(deep)))
    assert found.partition(": ")[2] == "the formula of the gate 'top' is nested too deeply; give parts of it gates"
