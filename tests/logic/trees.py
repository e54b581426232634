"""Derived trees read in the tests: their Boolean value under a fault set, and their text."""

from __future__ import annotations

from collections.abc import Set

from faultree.logic.fault_tree import FaultTree, TreeNode


def holds(tree: FaultTree, faults: Set[str]) -> bool:
    """The value of the top under a fault set, read from the nodes alone."""
    return values(tree, faults)[tree.top]


def values(tree: FaultTree, faults: Set[str]) -> dict[str, bool]:
    """The value of every node under a fault set."""
    found: dict[str, bool] = {}
    for node in reversed(list(tree)):
        found[node.key] = _value(node, [found[one] for one in node.inputs], faults)
    return found


def _value(node: TreeNode, inputs: list[bool], faults: Set[str]) -> bool:
    if node.kind == "cause":
        return node.source in faults
    if node.kind == "house":
        assert node.state is not None
        return node.state
    if node.kind == "undeveloped":
        return False
    counts = {
        "all": len(inputs), "any": 1, "not": 0, "none": 0, "at_least": node.count, "one_of": 1,
    }  # fmt: skip
    assert node.gate is not None
    wanted = counts[node.gate]
    exactly = node.gate in ("not", "none", "one_of")
    return sum(inputs) == wanted if exactly else sum(inputs) >= wanted


def indented(tree: FaultTree) -> str:
    """The tree as indented lines; a shared part is written out once."""
    lines: list[str] = []
    seen: set[str] = set()
    pending = [(tree.top, 0)]
    while pending:
        key, depth = pending.pop()
        node = tree.nodes[key]
        again = " (above)" if key in seen and node.inputs else ""
        count = f" {node.count}" if node.gate == "at_least" else ""
        state = "" if node.state is None else f" {node.state}"
        mark = f"[{node.gate}{count}] " if node.gate else f"({node.kind}{state}) "
        lines.append(f"{'    ' * depth}{mark}{node.title}{again}")
        if key not in seen:
            pending.extend((one, depth + 1) for one in reversed(node.inputs))
        seen.add(key)
    return "\n".join(lines)
