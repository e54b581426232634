"""The drawing of a sheet shows the likely causes and where their ways meet, and nothing that is not in the tree."""

from __future__ import annotations

from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree
from faultree.reports.open_part import open_part
from tests.walk.small import DARK, small

FUSE, LAMP, RELAY = "signal/fuse-blown", "signal/lamp-broken", "signal/relay-open"


def part(**probabilities: float) -> FaultTree:
    named = {"fuse": FUSE, "lamp": LAMP, "relay": RELAY}
    return open_part(fault_tree(small(), DARK), {named[name]: value for name, value in probabilities.items()})


def test_only_likely_causes_are_left() -> None:
    assert set(part(fuse=0.5, lamp=0.4, relay=0.01).causes) == {FUSE, LAMP}


def test_a_gate_with_one_way_left_is_passed_over() -> None:
    found = part(fuse=1.0)
    assert [node.kind for node in found] == [found.nodes[found.top].kind, "cause"]
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
