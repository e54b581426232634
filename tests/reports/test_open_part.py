"""The drawing of a sheet shows the likely causes and where their ways meet, and nothing that is not in the tree."""

from __future__ import annotations

from dataclasses import replace

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
