"""Declarations: labels, attributes, containers; and what the format knows and a tree file has no place for."""

from __future__ import annotations

import pytest

from faultree.library.exchange.elements import elements
from faultree.library.exchange.mef_model import Attribute, declarations, kept
from tests.library.exchange.models import E1, gate, problems, wrapped

TOP = gate('<basic-event name="e1"/>')


def test_a_declaration_keeps_label_attributes_and_containers() -> None:
    text = (
        "<opsa-mef name='M'><define-fault-tree name='FT'><define-component name='C' role='private'>"
        "<define-gate name=' g '><label>two\n  lines</label><attributes><attribute name='a' value='1' type='int'/>"
        "<attribute name='b' value=''/></attributes><constant value='true'/></define-gate>"
        "</define-component></define-fault-tree></opsa-mef>"
    )
    root = elements(text.encode(), "f.xml").root
    assert root is not None
    model = declarations(root)
    (found,) = model.events
    assert (found.kind, found.name, found.scope, found.public) == ("gate", "g", ("FT", "C"), False)
    assert (found.label, found.attributes) == ("two lines", (Attribute("a", "1", "int"), Attribute("b", "")))
    assert kept(found.attributes) == {"a": {"value": "1", "type": "int"}, "b": ""}
    assert [one.path for one in model.containers] == [("M",), ("FT",), ("FT", "C")]
    assert not model.problems


REFUSED = [
    ("<include file='x.xml'/>", "'x.xml' is to be included, and no other file is read; put its content here"),
    ("<define-CCF-group name='c'/>", "'define-CCF-group' has no counterpart in a tree file; remove it"),
    ("<define-substitution name='c'/>", "'define-substitution' has no counterpart in a tree file; remove it"),
    ("<define-gat name='c'/>", "'define-gat' has no counterpart in a tree file; did you mean 'define-gate'?"),
    ("<model-data/>", "'model-data' has no place in 'define-fault-tree'; put it into a fault tree"),
    ("some text", "the text 'some text' in 'define-fault-tree' says nothing; remove it, or write it as a label"),
    ("<define-gate><constant value='true'/></define-gate>", "it has no name for 'define-gate'; a name begins"),
    (gate("<constant value='true'/>", "a--b"), "'a--b' is no name for 'define-gate'; a name begins with a letter"),
    (gate("<constant value='true'/>", "1a"), "'1a' is no name for 'define-gate'; a name begins with a letter"),
    (gate(""), "the gate 'top' has no formula; add it, or remove the declaration"),
    (gate("<constant value='true'/><constant value='true'/>"), "the gate 'top' has a second formula; keep one"),
    (
        "<define-gate name='g' rol='x'><constant value='true'/></define-gate>",
        "unknown attribute 'rol' of 'define-gate'",
    ),
    (
        "<define-gate name='g' role='x'><constant value='true'/></define-gate>",
        "the role is 'x'; write public or private",
    ),
    ("<label>a</label><label>b</label>", "'define-fault-tree' has a second label; keep one"),
    ("<label><b/></label>", "'b' in a label; write a label as plain text"),
    ("<label>a\u202eb</label>", "the label holds the character U+202E; remove it: it could hide text"),
    ("<attributes/><attributes/>", "'define-fault-tree' has a second list of attributes; keep one"),
    ("<attributes><b/></attributes>", "'b' in 'attributes'; write each one as 'attribute'"),
    ("<attributes><attribute value='1'/></attributes>", "an attribute has no name; give it one"),
    ("<attributes><attribute name='a'/><attribute name='a'/></attributes>", "the attribute 'a' stands here twice"),
    (
        "<define-parameter name='p' unit='years'><float value='1'/></define-parameter>",
        "the unit 'years' is not converted",
    ),
]


@pytest.mark.parametrize(("inner", "message"), REFUSED, ids=[message[:40] for _, message in REFUSED])
def test_what_has_no_place_is_refused_by_name_with_its_place(inner: str, message: str) -> None:
    found = problems(wrapped(TOP + inner if "'top'" not in message else inner, E1))
    assert any(one.partition(": ")[2].startswith(message) for one in found), found
    assert all(one.startswith("1:") for one in found)


@pytest.mark.parametrize("tag", ["define-event-tree", "define-initiating-event", "define-alignment", "define-rule"])
def test_layers_beside_fault_trees_are_refused_by_name(tag: str) -> None:
    content = wrapped(TOP, E1).replace(b"</opsa-mef>", f"\n<{tag} name='x'/></opsa-mef>".encode())
    (found,) = problems(content)
    assert found.startswith(f"3:1: '{tag}' has no counterpart in a tree file; remove it; write declarations of gates, ")


def test_declarations_stand_in_their_containers() -> None:
    content = wrapped(TOP, E1 + gate("<constant value='true'/>", "g")).replace(
        b"</opsa-mef>", f"{E1}</opsa-mef>".encode()
    )
    assert [one.partition(": ")[2] for one in problems(content)] == [
        "'define-gate' has no place in 'model-data'; put it into a fault tree",
        "'define-basic-event' has no place in 'opsa-mef'; put it into a fault tree",
    ]


def test_another_document_is_no_model() -> None:
    assert problems(b"<html/>") == [
        "1:1: the outermost element is 'html', so this is no Open-PSA model; begin it with <opsa-mef>"
    ]


def test_names_of_schemas_may_stand_at_an_element() -> None:
    head = b"<opsa-mef xmlns:xsi='http://www.w3.org/2001/XMLSchema-instance' xsi:noNamespaceSchemaLocation='m.xsd'>"
    root = elements(head + b"</opsa-mef>", "f.xml").root
    assert root is not None
    assert not declarations(root).problems
