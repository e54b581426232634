"""A model becomes a tree file as a whole: symptoms, ids, what is kept; or every problem in one run."""

from __future__ import annotations

import pytest

from faultree.library.exchange.open_psa import Options, read_open_psa
from faultree.library.model import Ref
from tests.library.exchange.models import E1, E2, E3, gate, library, problems, wrapped

A, B = '<basic-event name="e1"/>', '<basic-event name="e2"/>'


def test_each_top_gate_becomes_a_symptom_of_its_name() -> None:
    inner = (
        gate(f'<and>{A}<gate name="mid"/></and>', "one") + gate('<not><gate name="mid"/></not>', "two") + gate(B, "mid")
    )
    found = library(wrapped(inner))
    assert {name: one.sees for name, one in found.symptoms.items()} == {
        "f/one": (("f/one", True),),
        "f/two": (("f/two", True),),
    }
    assert found.events["f/mid"].gate.operands == (Ref("f/e2"),)


def test_names_that_are_ids_stay_and_others_keep_the_original() -> None:
    inner = gate('<or><basic-event name="Ölpumpe"/><basic-event name="olpumpe"/></or>', "漏れ")
    data = E1.replace("e1", "Ölpumpe") + E1.replace("e1", "olpumpe")
    found = library(wrapped(inner, data))
    assert list(found.causes) == ["f/olpumpe-2", "f/olpumpe"]
    assert found.causes["f/olpumpe-2"].extra == {"x-name": "Ölpumpe"}
    assert found.events["f/gate"].extra == {"x-name": "漏れ"}
    assert list(found.symptoms) == ["f/gate"]
    assert found.symptoms["f/gate"].title == "漏れ"


def test_labels_attributes_and_containers_are_kept() -> None:
    text = (
        "<opsa-mef name='Model'><label>The model</label>"
        "<define-fault-tree name='One'><attributes><attribute name='rev' value='3' type='int'/></attributes>"
        "<define-gate name='top'><label>It fails</label><attributes><attribute name='by' value='X'/></attributes>"
        "<and><gate name='other'/><house-event name='h'/></and></define-gate></define-fault-tree>"
        "<define-fault-tree name='Two'><define-component name='C'><define-gate name='other'><basic-event name='e1'/>"
        "</define-gate></define-component><define-house-event name='h'><label>On</label><constant value='true'/>"
        f"</define-house-event></define-fault-tree><model-data>{E1}</model-data></opsa-mef>"
    )
    found = library(text.encode())
    assert found.systems["f"].title == "The model"
    assert found.systems["f"].extra["x-open-psa"] == {
        "containers": {
            "model Model": {"label": "The model"},
            "fault tree One": {"attributes": {"rev": {"value": "3", "type": "int"}}},
            "fault tree Two": {},
            "component Two.C": {},
        }
    }
    assert found.events["f/top"].title == "It fails"
    assert found.events["f/top"].extra == {"x-container": "One", "x-attributes": {"by": "X"}}
    assert found.events["f/other"].extra == {"x-container": "Two.C"}
    assert (found.conditions["f/h"].title, found.conditions["f/h"].usually) == ("On", True)


def test_a_house_event_is_false_unless_it_says_otherwise() -> None:
    inner = gate('<and><house-event name="h"/><house-event name="k"/></and>')
    houses = '<define-house-event name="h"/><define-house-event name="k"><constant value="true"/></define-house-event>'
    found = library(wrapped(inner + houses))
    assert {name: one.usually for name, one in found.conditions.items()} == {"f/h": False, "f/k": True}
    bad = '<define-house-event name="h"><float value="1"/></define-house-event>'
    assert "'float' in the house event 'h'" in problems(wrapped(gate('<house-event name="h"/>') + bad))[0]


def test_gates_that_depend_on_themselves_are_refused_with_the_way() -> None:
    loop = gate('<gate name="b"/>', "a") + gate('<or><gate name="c"/></or>', "b") + gate('<gate name="a"/>', "c")
    found = problems(wrapped(loop + gate(f'<and>{A}<gate name="self"/></and>', "self")))
    assert [one.partition(": ")[2] for one in found] == [
        "the gate depends on itself: a -> b -> c -> a; break the circle",
        "the gate depends on itself: self -> self; break the circle",
    ]


def test_a_model_without_a_gate_says_so() -> None:
    assert problems(b"<opsa-mef/>") == [
        "1:1: the model declares no gate; declare the top event as a gate of a fault tree"
    ]


def test_all_problems_come_in_one_run_in_the_order_of_the_file() -> None:
    content = (
        b"<opsa-mef>\n<define-fault-tree name='F'>\n<include file='x'/>\n<define-gate name='g'>\n<and><gate name='z'/>"
        b"</and></define-gate>\n<define-gate name='a--b'><constant value='1'/></define-gate>\n</define-fault-tree>\n"
        b"<model-data><define-basic-event name='e'/>\n<define-basic-event name='e'><float value='7'/>"
        b"</define-basic-event></model-data>\n</opsa-mef>"
    )
    assert [one.partition(";")[0] for one in problems(content)] == [
        "3:1: 'x' is to be included, and no other file is read",
        "5:6: the gate 'z' is declared nowhere",
        "6:1: 'a--b' is no name for 'define-gate'",
        "6:26: the value of 'constant' is '1'",
        "8:13: the basic event 'e' has no probability",
        "9:1: the name 'e' is that of the basic event on line 8 already",
    ]


@pytest.mark.parametrize("count", [5_000])
def test_a_long_chain_of_gates_is_read_without_recursion(count: int) -> None:
    chain = "".join(gate(f'<gate name="g{n + 1}"/>', f"g{n}") for n in range(count))
    found = read_open_psa(wrapped(chain + gate('<gate name="g0"/>', f"g{count}")), "f.xml", "f")
    assert found.text is None
    assert "the gate depends on itself: g0 -> g1 -> g2" in str(found.problems[0])


def test_notes_tell_what_was_made_of_open_points() -> None:
    law = "<exponential><float value='1e-4'/><system-mission-time/></exponential>"
    data = f"<define-basic-event name='e1'>{law}</define-basic-event>"
    found = read_open_psa(wrapped(gate(A), data), "dir/f.xml", "f", Options(hours=10))
    assert found.notes == ("Computed from an expression, which is kept beside it as x-expression: 1 basic event.",)
    assert found.text is not None
    assert "rate: 0.0001" in found.text
    assert "hours: 10" in found.text
    assert "in f.xml." in found.text


def test_the_order_of_causes_is_that_of_the_file() -> None:
    assert list(library(wrapped(gate(f"<or>{B}{A}</or>"), E3 + E1 + E2)).causes) == ["f/e3", "f/e1", "f/e2"]
