"""Events and gates have the symbols that the open standards give them."""

from __future__ import annotations

import pytest

from faultree.diagrams.parts import Part
from faultree.diagrams.symbols import BOX, FORMS, GATE, head_of, likelihood, qualifier, row_of, unsaid
from faultree.library.model import GateKind, Likelihood
from faultree.logic.fault_tree import TreeNode

# IEC 60617-12 / IEEE 91a qualifiers, and event shapes of NUREG-0492 table IV-1: from memory.
QUALIFIERS = [
    ("all", 0, "&"),
    ("any", 0, "≥1"),
    ("at_least", 2, "≥2"),
    ("one_of", 0, "=1"),
    ("not", 0, "1"),
    ("none", 0, "≥1"),
]
SHAPES = {"cause": "circle", "house": "house", "undeveloped": "diamond", "transfer": "triangle"}


def gate(kind: GateKind, count: int = 0, title: str = "gate", **more: object) -> Part:
    node = TreeNode("g", "gate", title, "s/g", kind, count, ("a", "b"))
    return Part("g", node, "gate", **more)  # type: ignore[arg-type]  # fields by name


@pytest.mark.parametrize(("kind", "count", "sign"), QUALIFIERS)
def test_a_gate_carries_its_qualifier(kind: GateKind, count: int, sign: str) -> None:
    part = gate(kind, count)
    assert qualifier(part) == sign
    (symbol,) = [one for one in head_of(part, (), {}).group.shapes if one.id == "g!gate"]
    assert (symbol.form, symbol.lines) == ("box", (sign,))


def test_a_turned_output_has_a_ring() -> None:
    for kind, ring in (("none", "ring"), ("not", "ring"), ("all", "")):
        (line,) = head_of(gate(kind), (), {}).group.lines  # type: ignore[arg-type]  # kinds by name
        assert line.ending == ring


def test_events_have_their_shapes() -> None:
    assert {kind: FORMS[kind] for kind in SHAPES} == SHAPES


def test_a_house_event_shows_its_state() -> None:
    part = Part("h", TreeNode("h", "house", "lever armed", "s/h", state=True), "house")
    group, _ = row_of(part, (), None, {})
    assert group.shapes[0].lines == ("on",)


def test_a_described_event_is_a_rectangle_over_its_gate() -> None:
    head = head_of(gate("any"), ("a note",), {})
    box = next(one for one in head.group.shapes if one.id == "g")
    symbol = next(one for one in head.group.shapes if one.id == "g!gate")
    assert (box.form, box.w) == ("box", BOX)
    assert symbol.y > box.y + box.h
    assert (symbol.w, symbol.h) == GATE


def test_an_undescribed_gate_is_its_symbol_alone_and_says_what_it_is_elsewhere() -> None:
    part = gate("at_least", 2, title="")
    assert head_of(part, (), {}).bare
    assert unsaid(part) == "2 or more of 2 inputs"


def test_a_transfer_names_the_page_of_its_other_end() -> None:
    node = TreeNode("g", "gate", "gate", "s/g", "any", 0, ("a",))
    group, _ = row_of(Part("g@2", node, "transfer", mark="C"), (), None, {"C": 3})
    assert any("to page 3" in one.lines for one in group.shapes)
    other = head_of(Part("g", node, "gate", mark="C"), (), {"C": 3, "C<": 1})
    assert any("from page 1" in one.lines for one in other.group.shapes)
    assert any(one.form == "triangle" and one.lines == ("C",) for one in other.group.shapes)


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        (Likelihood(band="remote"), "remote, p = 0.001"),
        (Likelihood(rate=1e-6, hours=1000), "1e-06/h × 1000 h, p = 0.001"),
        (Likelihood(probability=0.001), "p = 0.001"),
    ],
)
def test_a_likelihood_is_shown_as_it_was_stated(stated: Likelihood, words: str) -> None:
    assert likelihood(stated, 0.001) == words
