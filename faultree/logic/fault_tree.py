"""The fault tree of one symptom as a value: what analyses, drawings and exports all start from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from faultree.library.model import GateKind

TreeKind = Literal["gate", "cause", "house", "undeveloped"]


@dataclass(frozen=True, slots=True)
class TreeNode:
    """One node: a gate with its inputs, or a leaf.

    `title` says what is wrong in the author's words; it is empty for a gate that the author did not
    describe. `source` is the full id in the library that the node speaks of, empty for such a gate.
    `gate`, `count` and `inputs` (keys) belong to gates; `state` is the value of a house event. `usual` says that
    the node is true while nothing is wrong: below `all`, what must go on working for the rest to show. `of` is how
    many inputs the gate has in the whole tree, where only some are named here (a part cut out for a drawing).
    """

    key: str
    kind: TreeKind
    title: str = ""
    source: str = ""
    gate: GateKind | None = None
    count: int = 0  # `at_least` only
    inputs: tuple[str, ...] = ()
    state: bool | None = None
    usual: bool = False
    of: int = 0

    @property
    def system(self) -> str:
        """The id of the file that the node comes from; empty for a gate that the author did not describe."""
        return self.source.partition("/")[0]


@dataclass(frozen=True, eq=False)
class FaultTree:
    """The derived tree of a symptom: `nodes` by key, the top first, every node before its inputs.

    A part that several gates use stands once and is named by each (a directed acyclic graph).
    """

    symptom: str
    title: str
    situation: str | None
    top: str
    nodes: Mapping[str, TreeNode]

    def __iter__(self) -> Iterator[TreeNode]:
        """Every node, each before its inputs."""
        return iter(self.nodes.values())

    @property
    def causes(self) -> tuple[str, ...]:
        """Full ids of the causes that the tree holds, in its order."""
        return tuple(node.source for node in self if node.kind == "cause")

    @property
    def shared(self) -> frozenset[str]:
        """Keys of the nodes that more than one gate uses."""
        uses = Counter(name for node in self for name in node.inputs)
        return frozenset(name for name, count in uses.items() if count > 1)

    def to_dict(self) -> dict[str, object]:
        """Plain data, safe for JSON."""
        nodes = [
            {
                "key": node.key,
                "kind": node.kind,
                "title": node.title,
                "source": node.source,
                "gate": node.gate,
                "count": node.count,
                "inputs": list(node.inputs),
                "state": node.state,
                "usual": node.usual,
                "of": node.of,
            }
            for node in self
        ]
        return {
            "symptom": self.symptom,
            "title": self.title,
            "situation": self.situation,
            "top": self.top,
            "nodes": nodes,
        }
