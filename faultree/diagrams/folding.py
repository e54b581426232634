"""Which branches of a fault tree tell of no fault: so while nothing is wrong, and no cut set needs a cause in them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from faultree.library.model import Library
from faultree.logic.cut_sets import cut_sets
from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree, TreeNode

SMALL = 3
"""A branch with no more leaves than this is drawn all the same."""

MOST_SETS = 5000
"""With more minimal cut sets than this nothing is folded: that none needs a branch would not be known."""


def idle_branches(library: Library, tree: FaultTree) -> frozenset[str]:
    """The keys of the described branches that can be folded without hiding a fault.

    Such a branch is true while nothing is wrong, and were it true whatever happens, the symptom would still have the
    same minimal cut sets. A branch that other faults can undo is drawn: "the transfer unit does not run" is so in
    cruise, but where a pump fails it would run, and only what keeps it from that lets the pressure fall.
    """
    candidates = usual_branches(tree)
    if not candidates:
        return frozenset()
    if any(node.of for node in tree):  # a part that was cut out says nothing of what it was cut from
        tree = fault_tree(library, tree.symptom)
        candidates = usual_branches(tree)
    found = cut_sets(library, tree.symptom, most=MOST_SETS)
    return _idle(tree, candidates, list(found)) if found.complete else frozenset()


def usual_branches(tree: FaultTree) -> tuple[str, ...]:
    """The described gates that are true while no fault is present and hold more than a few leaves, from the top."""
    leaves: dict[str, int] = {}
    for node in reversed(tuple(tree)):
        leaves[node.key] = sum(leaves[name] for name in node.inputs) if node.kind == "gate" else 1
    big = (node for node in tree if node.kind == "gate" and leaves[node.key] > SMALL)
    return tuple(node.key for node in big if node.title and node.usual and node.key != tree.top)


def _idle(tree: FaultTree, candidates: Iterable[str], minimal: list[frozenset[str]]) -> frozenset[str]:
    """Those that can be held true together while no set of faults produces the symptom that did not before.

    The sets tried are each cause alone, each minimal cut set, and each of those without one of its causes: a cut set
    that needs a cause within the branch would be produced without it.
    """
    smaller = (one - {name} for one in minimal for name in one)
    sets = list(dict.fromkeys([*(frozenset([name]) for name in tree.causes), *minimal, *smaller]))
    present = {
        name: sum(1 << place for place, one in enumerate(sets) if name in one) for name in dict.fromkeys(tree.causes)
    }
    everywhere = (1 << len(sets)) - 1
    produced = _top(tree, present, everywhere, frozenset())
    held: frozenset[str] = frozenset()
    for key in candidates:
        if _top(tree, present, everywhere, held | {key}) == produced:
            held |= {key}
    return held


def _top(tree: FaultTree, present: Mapping[str, int], everywhere: int, held: frozenset[str]) -> int:
    """In which sets of faults the symptom shows (a bit for each), with some branches held true."""
    values: dict[str, int] = {}
    for node in reversed(tuple(tree)):
        if node.key in held:
            values[node.key] = everywhere
        elif node.kind == "gate":
            values[node.key] = _gate(node, [values[name] for name in node.inputs], everywhere)
        elif node.kind == "cause":
            values[node.key] = present[node.source]
        else:
            values[node.key] = everywhere if node.state else 0
    return values[tree.top]


def _gate(node: TreeNode, inputs: list[int], everywhere: int) -> int:
    least = [everywhere, *([0] * len(inputs))]  # at which sets so many inputs or more are true
    for value in inputs:
        for count in range(len(inputs), 0, -1):
            least[count] |= least[count - 1] & value
    some, two = least[min(1, len(inputs))] if inputs else 0, least[2] if len(inputs) > 1 else 0
    return {
        "all": least[len(inputs)],
        "any": some,
        "at_least": least[node.count] if node.count <= len(inputs) else 0,
        "one_of": some & ~two,
        "not": everywhere & ~some,
        "none": everywhere & ~some,
    }[node.gate or "any"]
