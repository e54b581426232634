"""The tree as a value: what is shared, which causes it holds, and plain data."""

from __future__ import annotations

import json

from faultree.logic.fault_tree import FaultTree, TreeNode

TREE = FaultTree(
    "s/r",
    "R",
    None,
    "top",
    {
        node.key: node
        for node in (
            TreeNode("top", "gate", "R", "s/r", "any", inputs=("one", "two")),
            TreeNode("one", "gate", "", "", "all", inputs=("s/a", "s/h")),
            TreeNode("two", "gate", "", "", "at_least", 2, ("s/a", "s/b", "s/u")),
            TreeNode("s/h", "house", "H", "s/h", state=True, usual=True),
            TreeNode("s/a", "cause", "A", "s/a"),
            TreeNode("s/b", "cause", "B", "s/b"),
            TreeNode("s/u", "undeveloped", "U", "s/u"),
        )
    },
)


def test_what_more_than_one_gate_uses_is_shared() -> None:
    assert TREE.shared == {"s/a"}


def test_causes_come_in_the_order_of_the_tree() -> None:
    assert TREE.causes == ("s/a", "s/b")


def test_a_node_knows_the_file_it_comes_from() -> None:
    assert [node.system for node in TREE] == ["s", "", "", "s", "s", "s", "s"]


def test_plain_data_is_safe_for_json_and_keeps_everything() -> None:
    plain = TREE.to_dict()
    assert json.loads(json.dumps(plain)) == plain
    nodes = plain["nodes"]
    assert isinstance(nodes, list)
    for node, one in zip(TREE, nodes, strict=True):
        assert one == {name: getattr(node, name) for name in one} | {"inputs": list(node.inputs)}
        assert set(one) == set(TreeNode.__slots__)
