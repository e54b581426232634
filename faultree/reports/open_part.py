"""The ways from the likeliest causes to the report: a fault tree cut down to what fits on a page."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise

from faultree.logic.fault_tree import FaultTree, TreeNode

FIRST_STEPS, LAST_STEPS = 2, 5
"""Of a long way so many steps are drawn behind the report and before the cause, the cause counted."""

LEAST = 0.05
"""A cause below this is left out of the drawing; the list of suspects says how many there are."""


def open_part(tree: FaultTree, probabilities: Mapping[str, float], least: float = LEAST) -> FaultTree:
    """The tree without the branches that hold no cause of at least this probability; the tree itself where none does.

    What has to come together with a likely cause is left out as well, so this shows ways and not all conditions. A
    gate with one input left is passed over: what is drawn are the causes and the places where their ways meet. Of a
    cause that is left alone one way is drawn: what the author described on it, the middle left out where it is long.
    """
    live: dict[str, bool] = {}
    for node in reversed(list(tree)):
        likely = node.kind == "cause" and probabilities.get(node.source, 0.0) >= least
        live[node.key] = likely or any(live[name] for name in node.inputs)
    if not live[tree.top]:
        return tree
    kept = {node.key: replace(node, inputs=tuple(n for n in node.inputs if live[n])) for node in tree if live[node.key]}
    if sum(node.kind == "cause" for node in kept.values()) == 1:
        return replace(tree, nodes=_chain(kept, tree.top))
    short = _shortened(dict(reversed(kept.items())), tree.top)
    return replace(tree, nodes=_reached(dict(reversed(short.items())), tree.top))


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


def _shortened(nodes: Mapping[str, TreeNode], top: str) -> dict[str, TreeNode]:
    """The nodes with every one that is no more than a way to one other node passed over; inputs come before users."""
    ends: dict[str, str] = {}
    made: dict[str, TreeNode] = {}
    for key, node in nodes.items():
        inputs = tuple(dict.fromkeys(ends[name] for name in node.inputs))
        ends[key] = inputs[0] if len(inputs) == 1 and key != top else key
        made[key] = replace(node, inputs=inputs)
    return made


def _reached(nodes: Mapping[str, TreeNode], top: str) -> dict[str, TreeNode]:
    """The nodes that the top still needs, in the order as before."""
    wanted = {top}
    for node in nodes.values():
        if node.key in wanted:
            wanted.update(node.inputs)
    return {key: node for key, node in nodes.items() if key in wanted}
