"""A box of the logic has room for its words, and names what it is."""

from __future__ import annotations

import pytest

from faultree.diagrams.drawing import Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.logic_box import WIDTH, box_of
from faultree.diagrams.logic_facts import Facts
from faultree.diagrams.net import net_of
from faultree.strategy.case import Case
from tests.trees.demonstration import library

SYMPTOM = "spoilers/stay-down"


def facts() -> Facts:
    net = net_of(library(), SYMPTOM)
    case = Case.open(library(), [SYMPTOM])
    return Facts(
        Request(library(), SYMPTOM, evidence_of(case)), net, {node.id: node.system for node in net.nodes.values()}
    )


def test_every_word_stands_within_its_box() -> None:
    found = facts()
    for node in found.net.nodes.values():
        box = box_of(node, found)
        for shape in box.group.shapes:
            assert shape.x >= -0.1
            assert shape.y >= -0.1
            assert shape.x + shape.w <= box.w + 0.1
            assert shape.y + shape.h <= box.h + 0.1


@pytest.mark.parametrize(
    ("kind", "form"),
    [("signal", "box"), ("gate", "box"), ("condition", "house"), ("cause", "circle"), ("report", "round")],
)
def test_each_kind_has_its_symbol(kind: str, form: str) -> None:
    found = facts()
    node = next(one for one in found.net.nodes.values() if one.kind == kind)
    box = box_of(node, found)
    assert next(one for one in box.group.shapes if one.id == node.id).form == form
    assert box.w <= WIDTH


def test_a_signal_from_another_panel_is_a_triangle_with_its_mark_and_origin() -> None:
    found = facts()
    name, mark = next(iter(found.marks.items()))
    shapes = box_of(found.net.nodes[name], found, transfer=True).group.shapes
    triangle = next(one for one in shapes if one.form == "triangle")
    assert triangle.lines == (mark,)
    assert any(" ".join(one.lines).startswith("from: ") for one in shapes)


def test_a_cause_shows_its_probability() -> None:
    found = facts()
    node = next(one for one in found.net.nodes.values() if one.rows)
    bars = [one.value for one in box_of(node, found).group.shapes if one.form == "bar"]
    causes = [row.name for row in node.rows if row.name in library().causes]
    assert bars == [found.asked.evidence.probabilities[name] for name in causes]
