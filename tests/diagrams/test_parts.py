"""Shared parts are drawn once with a mark, branches that hold anyway are folded, and evidence is judged."""

from __future__ import annotations

from faultree.diagrams.evidence import NOTHING, Evidence
from faultree.diagrams.parts import Part, judged, letters, unfolded
from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree, TreeNode
from tests.diagrams.small import door
from tests.trees.demonstration import library


def tree(*nodes: TreeNode) -> FaultTree:
    return FaultTree("s/x", nodes[0].title, None, nodes[0].key, {node.key: node for node in nodes})


def cause(name: str) -> TreeNode:
    return TreeNode(name, "cause", name, name)


SHARED = tree(
    TreeNode("top", "gate", "top", gate="all", inputs=("a", "b")),
    TreeNode("a", "gate", "a", gate="any", inputs=("c", "x")),
    TreeNode("b", "gate", "b", gate="any", inputs=("c", "y")),
    TreeNode("c", "gate", "c", gate="any", inputs=("x", "z")),
    cause("x"),
    cause("y"),
    cause("z"),
)


def parts(root: Part) -> dict[str, Part]:
    return {part.id: part for part in root}


def test_a_shared_gate_is_drawn_once_and_referred_to_by_its_mark() -> None:
    found = parts(unfolded(SHARED, NOTHING))
    assert found["c"].kind == "gate"
    assert found["c@2"].kind == "transfer"
    assert found["c"].mark == found["c@2"].mark == "A"
    assert found["c@2"].kids == ()


def test_a_cause_that_comes_again_has_the_same_number() -> None:
    found = parts(unfolded(SHARED, NOTHING))
    assert found["x"].mark == found["x@2"].mark == "1"
    assert found["z"].mark == ""


def test_every_node_of_a_tree_is_drawn_or_stands_behind_a_fold() -> None:
    """Nothing is lost: drawn whole, every cause and every described gate of each demonstration tree is there."""
    for symptom in library().symptoms:
        whole = fault_tree(library(), symptom)
        keys = {part.node.key for part in unfolded(whole, NOTHING)}
        missing = [node for node in whole if node.key not in keys and node.gate != "not"]
        assert not missing, symptom


def test_what_is_to_be_folded_is_one_symbol_wherever_it_is_used() -> None:
    found = parts(unfolded(SHARED, NOTHING, folded=frozenset(["c"])))
    assert found["c"].kind == found["c@2"].kind == "folded"
    assert "z" not in found


def test_a_not_before_a_leaf_becomes_a_ring() -> None:
    found = unfolded(
        tree(
            TreeNode("top", "gate", "top", gate="all", inputs=("n", "x")),
            TreeNode("n", "gate", "", gate="not", inputs=("y",)),
            cause("y"),
            cause("x"),
        ),
        NOTHING,
    )
    assert [(kid.id, kid.negated) for kid in found.kids] == [("y", True), ("x", False)]


def test_what_lies_deeper_is_folded() -> None:
    found = unfolded(SHARED, NOTHING, depth=1)
    assert [kid.kind for kid in found.kids] == ["folded", "folded"]


def test_marks_go_on_after_z() -> None:
    assert [letters(number) for number in (0, 25, 26, 51, 52, 701, 702)] == ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]


def test_the_way_leads_from_the_likeliest_cause_to_the_top_and_cleared_gates_recede() -> None:
    evidence = Evidence({"x": 0.0, "y": 0.9, "z": 0.0}, "y")
    found = parts(judged(unfolded(SHARED, NOTHING), evidence))
    assert [name for name, part in found.items() if part.state == "path"] == ["top", "b", "y"]
    assert found["c"].state == found["c@2"].state == found["a"].state == "cleared"
    assert found["x"].state == found["z"].state == "cleared"


def test_the_way_never_goes_through_a_negation() -> None:
    """A cause that must be absent for the report explains nothing there."""
    whole = tree(
        TreeNode("top", "gate", "top", gate="any", inputs=("none", "g")),
        TreeNode("none", "gate", "", gate="none", inputs=("x", "y")),
        TreeNode("g", "gate", "g", gate="all", inputs=("x", "z")),
        cause("x"),
        cause("y"),
        cause("z"),
    )
    found = parts(judged(unfolded(whole, NOTHING), Evidence({"x": 0.9}, "x")))
    assert [name for name, part in found.items() if part.state == "path"] == ["top", "g", "x@2"]


def test_without_a_case_nothing_is_judged() -> None:
    assert {part.state for part in unfolded(fault_tree(door(), "stands"), NOTHING)} == {""}
