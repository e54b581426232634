"""References lead to the declaration that the format means: by name, by local path, by full path."""

from __future__ import annotations

import pytest

from faultree.library.model import Ref
from tests.library.exchange.models import E1, gate, library, problems, wrapped

PRIVATE = (
    '<define-component name="A" role="private"><define-component name="B">'
    '<define-basic-event name="e"><float value="0.1"/></define-basic-event></define-component>'
    + gate('<basic-event name="B.e"/>', "ga")
    + "</define-component>"
    '<define-component name="C" role="private">'
    '<define-basic-event name="e"><float value="0.2"/></define-basic-event>'
    + gate('<basic-event name="e"/>', "gc")
    + "</define-component>"
    + gate('<and><gate name="FT.A.ga"/><gate name="C.gc"/><basic-event name="FT.A.B.e"/></and>')
)


def test_private_names_are_told_apart_by_their_paths() -> None:
    found = library(wrapped(PRIVATE, ""))
    assert found.causes["f/e"].probability == 0.1
    assert found.causes["f/FT_C_e"].probability == 0.2
    assert found.causes["f/FT_C_e"].extra == {"x-name": "e", "x-container": "FT.C", "x-role": "private"}
    assert found.events["f/ga"].gate.operands == (Ref("f/e"),)
    assert found.events["f/gc"].gate.operands == (Ref("f/FT_C_e"),)
    assert found.events["f/top"].gate.operands == (Ref("f/ga"), Ref("f/gc"), Ref("f/e"))


def test_a_private_name_is_not_seen_from_outside() -> None:
    inner = f'<define-component name="A" role="private">{E1}</define-component>'
    (found,) = problems(wrapped(inner + gate('<basic-event name="e1"/>'), ""))
    assert found.endswith("the basic event 'e1' is declared nowhere; the one in 'FT.A' is private: write 'FT.A.e1'")


@pytest.mark.parametrize(
    ("formula", "message"),
    [
        ('<basic-event name="e11"/>', "the basic event 'e11' is declared nowhere; did you mean 'e1'?"),
        (
            '<basic-event name="zzz"/>',
            "the basic event 'zzz' is declared nowhere; declare it with its probability, or ",
        ),
        ('<gate name="zzz"/>', "the gate 'zzz' is declared nowhere; add its declaration"),
        ('<event name="zzz"/>', "the event 'zzz' is declared nowhere; add its declaration"),
        ('<gate name="e1"/>', "'e1' is the basic event of line 2, not a gate; write <basic-event name=\"e1\"/>, or"),
        ('<event name="e1" type="gate"/>', "'e1' is the basic event of line 2, not a gate; write <basic-event"),
        ('<event name="p"/>', "'p' is the parameter of line 2, not an event; write <parameter name=\"p\"/>, or"),
        ('<event name="e1" type="x"/>', "'x' is no type of event; write gate, basic-event or house-event"),
        ("<gate/>", "there is no name of a gate; write the name of a declaration"),
        ('<gate name="a b"/>', "'a b' is no name of a gate; write the name of a declaration"),
        ('<gate name="e1" x="1"/>', "unknown attribute 'x' of 'gate'"),
        ('<basic-event name="e1"><and/></basic-event>', "'and' in 'basic-event'; put it beside, below a gate"),
    ],
)
def test_a_reference_that_leads_nowhere_has_its_remedy(formula: str, message: str) -> None:
    data = E1 + '<define-parameter name="p"><float value="1"/></define-parameter>'
    found = problems(wrapped(gate(formula), data))
    assert any(one.partition(": ")[2].startswith(message) for one in found)


def test_names_that_are_declared_twice_are_refused_with_the_first_place() -> None:
    """Events and parameters share one namespace; containers have their own."""
    data = E1 + '<define-parameter name="e1"><float value="1"/></define-parameter>'
    inner = gate('<basic-event name="e1"/>') + gate('<basic-event name="e1"/>')
    component = '<define-component name="C"/>'
    assert [one.partition(": ")[2] for one in problems(wrapped(inner + component * 2, data))] == [
        "the name 'top' is that of the gate on line 1 already; rename one of the two, or remove one",
        "the component 'C' is there already, on line 1; rename one of the two",
        "the name 'e1' is that of the basic event on line 2 already; rename one of the two, or remove one",
    ]
