"""The ways from the likeliest causes to the report: a fault tree cut down to what fits on a page."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from itertools import pairwise

from faultree.logic.fault_tree import FaultTree, TreeNode

FIRST_STEPS, LAST_STEPS = 2, 5
"""Of a long way so many steps are drawn behind the report and before the cause, the cause counted."""

LEAST = 0.05
"""A cause below this is left out of the drawing; the list of suspects says how many there are."""


def open_part(tree: FaultTree, probabilities: Mapping[str, float], least: float = LEAST) -> FaultTree:
    """The tree without the branches that hold no cause of at least this probability; the tree itself where none does.

    Where no cause of the tree is as likely as that, those of half the probability of its likeliest are drawn. Only ways
    along which a cause leads to the report count: not through what must go on working for the report to show. A gate
    with one input left is passed over, unless what it has besides must be wrong too: what is drawn are the causes and
    the places where their ways meet. Each gate says how many inputs it has in the whole tree. Of a cause that is left
    alone one way is drawn: what the author described on it, the middle left out where it is long.
    """
    highest = max((probabilities.get(name, 0.0) for name in tree.causes), default=0.0)
    part = _Part(tree, probabilities, min(least, highest / 2.0) or least)
    if not part.live(tree.top, turned=False):
        return tree
    kept = part.kept()
    if sum(node.kind == "cause" for node in kept.values()) == 1:
        return replace(tree, nodes=_counted(tree, _chain(kept, tree.top)))
    short = _shortened(dict(reversed(kept.items())), tree.top, part.needed)
    return replace(tree, nodes=_counted(tree, _reached(dict(reversed(short.items())), tree.top)))


class _Part:
    """Which nodes of a tree lie on a way from a likely cause to the top; `needed` gates must not be passed over.

    A node is looked at as it is, or turned where a `not` stands above it.
    """

    def __init__(self, tree: FaultTree, probabilities: Mapping[str, float], least: float) -> None:
        self.tree = tree
        self.needed: set[str] = set()
        self._live: dict[tuple[str, bool], bool] = {}
        for node in reversed(list(tree)):
            for turned in (False, True):
                likely = node.kind == "cause" and probabilities.get(node.source, 0.0) >= least
                below = likely or any(self.live(*one) for one in self._inputs(node, turned=turned))
                self._live[node.key, turned] = below and not self._usual(node.key, turned=turned)

    def live(self, key: str, turned: bool) -> bool:
        """Whether a likely cause makes a node true (turned: false)."""
        return self._live[key, turned]

    def _usual(self, key: str, turned: bool) -> bool:
        """Whether this is so while nothing is wrong, so that no cause is needed for it."""
        return self.tree.nodes[key].usual != turned

    def _inputs(self, node: TreeNode, turned: bool) -> list[tuple[str, bool]]:
        return [(name, turned != (node.gate in ("not", "none"))) for name in node.inputs]

    def kept(self) -> dict[str, TreeNode]:
        """The nodes on the ways, with their inputs on the ways, in the order of the tree."""
        reached = {(self.tree.top, False)}
        inputs: dict[str, dict[str, None]] = {}
        for node in self.tree:
            for turned in (False, True):
                if (node.key, turned) in reached:
                    below = [one for one in self._inputs(node, turned=turned) if self.live(*one)]
                    reached.update(below)
                    inputs.setdefault(node.key, {}).update(dict.fromkeys(name for name, _ in below))
                    if self._is_needed(node, turned=turned):
                        self.needed.add(node.key)
        return {node.key: replace(node, inputs=tuple(inputs[node.key])) for node in self.tree if node.key in inputs}

    def _is_needed(self, node: TreeNode, turned: bool) -> bool:
        """Whether a gate says more than its one input: that it is turned, or what must be wrong besides."""
        if node.gate in ("not", "none", "at_least"):
            return True
        together = node.gate == ("any" if turned else "all")
        left = [one for one in self._inputs(node, turned=turned) if not self.live(*one)]
        return together and not all(self._usual(*one) for one in left)


def _counted(tree: FaultTree, nodes: Mapping[str, TreeNode]) -> dict[str, TreeNode]:
    """The nodes, each gate of which inputs are left out with the number of those that it has."""
    found = {}
    for key, node in nodes.items():
        count = len(tree.nodes[key].inputs)
        found[key] = replace(node, of=count) if len(node.inputs) < count else node
    return found


def _chain(nodes: Mapping[str, TreeNode], top: str) -> dict[str, TreeNode]:
    """One way from the top to its cause."""
    steps, at = [top], top
    while nodes[at].inputs:
        at = nodes[at].inputs[0]
        if nodes[at].title:
            steps.append(at)
    if len(steps) > 1 + FIRST_STEPS + LAST_STEPS:
        steps = [*steps[: 1 + FIRST_STEPS], *steps[-LAST_STEPS:]]
    nexts = {one: (other,) for one, other in pairwise(steps)}
    return {key: replace(nodes[key], inputs=nexts.get(key, ())) for key in steps}


def _shortened(nodes: Mapping[str, TreeNode], top: str, needed: Collection[str]) -> dict[str, TreeNode]:
    """The nodes with every one that is no more than a way to one other node passed over; inputs come before users."""
    ends: dict[str, str] = {}
    made: dict[str, TreeNode] = {}
    for key, node in nodes.items():
        inputs = tuple(dict.fromkeys(ends[name] for name in node.inputs))
        ends[key] = inputs[0] if len(inputs) == 1 and key != top and key not in needed else key
        made[key] = replace(node, inputs=inputs)
    return made


def _reached(nodes: Mapping[str, TreeNode], top: str) -> dict[str, TreeNode]:
    """The nodes that the top still needs, in the order as before."""
    wanted = {top}
    for node in nodes.values():
        if node.key in wanted:
            wanted.update(node.inputs)
    return {key: node for key, node in nodes.items() if key in wanted}
