"""Drafts that a symptom needs, written out as the nodes of its tree."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from faultree.logic.draft import FALSE, Draft, Drafts
from faultree.logic.fault_tree import TreeNode
from faultree.logic.titles import denied

if TYPE_CHECKING:
    from faultree.library.model import GateKind, Library, Symptom

TOP = "top"


def unfolded(library: Library, drafts: Drafts, seen: int, symptom: Symptom) -> dict[str, TreeNode]:
    """All nodes by key, the top first, every node before its inputs, in the author's order.

    Keys: `top`; the id of a cause, condition or undeveloped signal; `id=yes` or `id=no` for the gate that
    says a node is so or not so; `gate-1`, `gate-2` and so on for gates that the author did not describe.
    """
    writer = _Writer(library, drafts)
    writer.top(seen, symptom)
    order = _before_inputs(writer.nodes)
    return _numbered([writer.nodes[key] for key in order])


@dataclass
class _Writer:
    """Nodes by key so far, undescribed gates under provisional keys."""

    library: Library
    drafts: Drafts
    nodes: dict[str, TreeNode] = field(default_factory=dict)

    def top(self, seen: int, symptom: Symptom) -> None:
        """The top with the symptom's title, and all below it; a single gate below it gives up its place."""
        draft = self.drafts.nodes[seen]
        kind, inputs, number = draft.gate, draft.inputs, draft.number
        if draft.kind == "true":
            kind = "all"
        elif kind is None:
            kind, inputs = "any", (() if seen == FALSE else (seen,))
        kind, keys = self._keys(kind, inputs)
        usual = self.drafts.usual(seen)
        self.nodes[TOP] = TreeNode(TOP, "gate", symptom.title, symptom.id, kind, number, keys, usual=usual)
        for one in self._below(inputs):
            self._write(one)

    def _below(self, inputs: tuple[int, ...]) -> list[int]:
        """All drafts that some need, themselves included."""
        found = dict.fromkeys(inputs)
        pending = list(inputs)
        while pending:
            for one in self.drafts.nodes[pending.pop()].inputs:
                if one not in found:
                    found[one] = None
                    pending.append(one)
        return list(found)

    def _write(self, place: int) -> None:
        draft = self.drafts.nodes[place]
        if draft.kind == "gate" and draft.gate is not None:
            source = draft.name if draft.title else ""
            kind, inputs = self._keys(draft.gate, draft.inputs)
            key = self._key(place)
            usual = self.drafts.usual(place)
            self.nodes[key] = TreeNode(key, "gate", draft.title, source, kind, draft.number, inputs, usual=usual)
        elif draft.kind == "undeveloped":
            self.nodes[draft.name] = TreeNode(draft.name, "undeveloped", draft.title, draft.name)
        else:
            self._leaf(draft)

    def _leaf(self, draft: Draft) -> None:
        title = self.library.node(draft.name).title
        if draft.kind == "house":
            self.nodes[draft.name] = TreeNode(
                draft.name, "house", title, draft.name, state=draft.value, usual=draft.value
            )
        else:
            self.nodes[draft.name] = TreeNode(draft.name, "cause", title, draft.name)

    def _keys(self, gate: GateKind, inputs: tuple[int, ...]) -> tuple[GateKind, tuple[str, ...]]:
        """A gate's kind and the keys of its inputs; under `all`, what must be absent is gathered below `none`."""
        negative = [one for one in inputs if self._negative(one)]
        if gate != "all" or len(negative) < 2:
            return gate, tuple(map(self._key, inputs))
        names = tuple(self.drafts.nodes[one].name for one in negative)
        if len(names) == len(inputs):
            return "none", names
        key = f" none {' '.join(names)}"
        self.nodes[key] = TreeNode(key, "gate", gate="none", inputs=names, usual=True)
        keys = dict.fromkeys(key if one in negative else self._key(one) for one in inputs)
        return gate, tuple(keys)

    def _negative(self, place: int) -> bool:
        draft = self.drafts.nodes[place]
        return draft.kind == "absent" or (draft.kind == "house" and not draft.value)

    def _key(self, place: int) -> str:
        draft = self.drafts.nodes[place]
        if self._negative(place):
            return self._denied(draft.name)
        if draft.kind != "gate":
            return draft.name
        return f"{draft.name}={'yes' if draft.value else 'no'}" if draft.title else f" gate {place}"

    def _denied(self, name: str) -> str:
        """The key of the gate that says a cause or condition is not so, with its title turned."""
        key = f"{name}=no"
        title = denied(self.library.node(name).title)
        self.nodes[key] = TreeNode(key, "gate", title, name, "not", inputs=(name,), usual=True)
        return key


def _before_inputs(nodes: dict[str, TreeNode]) -> list[str]:
    """Keys from the top down, every node before its inputs: a depth-first order, turned around."""
    finished: dict[str, None] = {}
    pending = [(TOP, False)]
    while pending:
        key, closing = pending.pop()
        if closing:
            finished[key] = None
        elif key not in finished:
            pending.append((key, True))
            pending.extend((one, False) for one in nodes[key].inputs)
    return list(finished)[::-1]


def _numbered(nodes: list[TreeNode]) -> dict[str, TreeNode]:
    """The same nodes, those of undescribed gates numbered from the top down."""
    loose = [node.key for node in nodes if node.key.startswith(" ")]
    name = {key: f"gate-{number}" for number, key in enumerate(loose, start=1)}
    renamed = {}
    for node in nodes:
        key = name.get(node.key, node.key)
        inputs = tuple(name.get(one, one) for one in node.inputs)
        renamed[key] = replace(node, key=key, inputs=inputs)
    return renamed
