"""The drawing of a sheet shows the likely causes and where their ways meet, and nothing that is not in the tree."""

from __future__ import annotations

from dataclasses import replace

from faultree.library.load import load_texts
from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree, TreeNode
from faultree.reports.open_part import FIRST_STEPS, LAST_STEPS, open_part
from tests.walk.small import DARK, small

FUSE, LAMP, RELAY = "signal/fuse-blown", "signal/lamp-broken", "signal/relay-open"


def part(**probabilities: float) -> FaultTree:
    named = {"fuse": FUSE, "lamp": LAMP, "relay": RELAY}
    return open_part(fault_tree(small(), DARK), {named[name]: value for name, value in probabilities.items()})


def test_only_likely_causes_are_left() -> None:
    assert set(part(fuse=0.5, lamp=0.4, relay=0.01).causes) == {FUSE, LAMP}


def test_a_cause_alone_has_one_way_in_full() -> None:
    """From the lamp back to the fuse: the steps that the author described, each with one input."""
    found = list(part(fuse=1.0))
    assert [len(node.inputs) for node in found] == [1] * (len(found) - 1) + [0]
    assert all(node.title for node in found)
    assert found[-1].source == FUSE
    assert len(found) > 2


def test_a_gate_with_one_way_left_is_passed_over() -> None:
    assert [len(node.inputs) for node in part(fuse=0.5, lamp=0.5) if node.inputs] == [2]


def test_ways_meet_where_they_meet_in_the_whole_tree() -> None:
    """Fuse and relay meet before the lamp does: the gate that joins them is kept, with its title."""
    found = part(fuse=0.4, relay=0.3, lamp=0.3)
    joints = [node for node in found if len(node.inputs) > 1]
    assert len(joints) == 2
    whole = fault_tree(small(), DARK)
    for node in found:
        assert (node.title, node.gate, node.source) == (
            whole.nodes[node.key].title, whole.nodes[node.key].gate, whole.nodes[node.key].source
        )  # fmt: skip


def test_every_node_comes_before_its_inputs_and_is_used() -> None:
    found = part(fuse=0.4, relay=0.3, lamp=0.3)
    order = [node.key for node in found]
    assert order[0] == found.top
    for node in found:
        assert all(order.index(name) > order.index(node.key) for name in node.inputs)
    used = {name for node in found for name in node.inputs}
    assert used == set(order[1:])


def test_where_nothing_is_likely_the_tree_is_whole() -> None:
    whole = fault_tree(small(), DARK)
    assert open_part(whole, {}) is whole


def test_a_long_way_leaves_its_middle_out() -> None:
    """Fifteen steps in a row: the report and two behind it, the cause and four before it."""
    steps = {f"n{number}": _step(f"n{number}", f"n{number + 1}") for number in range(15)}
    cause = TreeNode("n15", "cause", "cause", FUSE, None, 0, (), None, False)
    tree = replace(fault_tree(small(), DARK), top="n0", nodes={**steps, "n15": cause})
    found = [node.key for node in open_part(tree, {FUSE: 1.0})]
    assert found == ["n0", "n1", "n2", "n11", "n12", "n13", "n14", "n15"]
    assert len(found) == 1 + FIRST_STEPS + LAST_STEPS


def _step(key: str, below: str) -> TreeNode:
    return TreeNode(key, "gate", f"step {key}", "", "any", 0, (below,), None, False)


LOOSE = """
faultree: 1
title: Panel, invented for tests
conditions: {flying: {title: flying}}
causes:
  leak: {title: fluid lost, probability: 0.1}
  valve: {title: valve leaking, probability: 0.1}
  motor: {title: motor running by itself, probability: 0.1}
signals:
  pressure: {title: system under pressure, follows: flying, lost_if: [leak]}
events:
  driven: {title: panel driven up, all: [motor, pressure]}
  up: {title: panel up, any: [valve, driven]}
situations: {cruise: {title: cruise, sets: {flying: yes}}}
symptoms:
  floats: {title: the panel floats, situation: cruise, sees: {up: yes}}
"""


def loose(**probabilities: float) -> FaultTree:
    tree = fault_tree(load_texts({"panel.yaml": LOOSE}), "floats")
    return open_part(tree, {f"panel/{name}": value for name, value in probabilities.items()})


def test_no_way_leads_through_what_must_go_on_working() -> None:
    """Without pressure the panel is not driven up: a likely leak, there for another report, is no way to this one."""
    assert set(loose(leak=0.9, valve=0.5).causes) == {"panel/valve"}
    assert set(loose(leak=0.9, valve=0.5, motor=0.4).causes) == {"panel/valve", "panel/motor"}


def test_a_gate_says_how_many_inputs_it_has_in_the_whole_tree() -> None:
    found = part(fuse=0.5, lamp=0.5)
    whole = fault_tree(small(), DARK)
    gates = [node for node in found if node.kind == "gate"]
    assert gates
    for node in gates:
        count = len(whole.nodes[node.key].inputs)
        assert node.of == (count if len(node.inputs) < count else 0)
    assert any(node.of for node in part(fuse=1.0))


def test_where_every_cause_is_unlikely_the_likeliest_are_drawn() -> None:
    assert set(part(fuse=0.03, lamp=0.02, relay=0.001).causes) == {FUSE, LAMP}


def test_a_gate_that_needs_another_fault_as_well_is_not_passed_over() -> None:
    """Of two lamps that must both be broken one is likely: the gate stays, with one of its two conditions."""
    pair = """
faultree: 1
title: Lamps, invented for tests
causes:
  one: {title: lamp 1 broken, probability: 0.1}
  two: {title: lamp 2 broken, probability: 0.001}
  bus: {title: bus dead, probability: 0.1}
events:
  both: {title: both lamps broken, all: [one, two]}
  dark: {title: it is dark, any: [both, bus]}
symptoms:
  dark-here: {title: it is dark here, sees: {dark: yes}}
"""
    tree = fault_tree(load_texts({"lamps.yaml": pair}), "dark-here")
    found = open_part(tree, {"lamps/one": 0.5, "lamps/bus": 0.5})
    both = next(node for node in found if node.title == "both lamps broken")
    assert (len(both.inputs), both.of) == (1, 2)
