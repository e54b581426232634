"""A fault tree unfolded for drawing: every shared part once, with a mark where it is drawn and where it is used."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from faultree.diagrams.evidence import Evidence
from faultree.diagrams.picture import State
from faultree.logic.fault_tree import FaultTree, TreeNode

PartKind = Literal["gate", "cause", "house", "undeveloped", "transfer", "folded"]


@dataclass(frozen=True, slots=True)
class Part:
    """One place in the drawn tree. `mark` joins a transfer with the part that it stands for, or equal leaves.

    `negated`: the branch needs that this is not so. `inner` is the kind of what a transfer or fold stands for.
    `more` says that the part goes on with inputs that did not fit its page, `note` why a branch is folded, `odd` that
    it was observed other than expected, on the way from the likeliest cause too.
    """

    id: str
    node: TreeNode
    kind: PartKind
    kids: tuple[Part, ...] = ()
    negated: bool = False
    mark: str = ""
    state: State = ""
    more: bool = False
    note: str = ""
    odd: bool = False

    def __iter__(self) -> Iterator[Part]:
        """This part and all below it, each before its inputs."""
        yield self
        for kid in self.kids:
            yield from kid


def unfolded(
    tree: FaultTree, evidence: Evidence, *, folded: frozenset[str] = frozenset(), depth: int | None = None
) -> Part:
    """The tree as parts; gates at `depth` below the top are folded, and those whose keys are in `folded`.

    A `not` over a single input becomes a ring at that input.
    """
    drawer = _Drawer(tree, folded, depth)
    drawer.count(tree.top, 0)
    root = drawer.part(tree.top, 0)
    return judged(root, evidence)


@dataclass
class _Drawer:
    """Unfolds a tree, counting how often each node comes so that marks are given only where they are needed."""

    tree: FaultTree
    folded: frozenset[str]
    depth: int | None = None

    def __post_init__(self) -> None:
        self.uses: Counter[str] = Counter()
        self.marks: dict[str, str] = {}
        self.drawn: Counter[str] = Counter()

    def through(self, key: str) -> tuple[str, bool]:
        """The node behind any `not` gates that stand in front of it, and whether it is negated.

        A described `not` keeps its rectangle unless a leaf is behind it, which says the same by itself.
        """
        negated, node = False, self.tree.nodes[key]
        while node.gate == "not" and key not in self.folded:
            inner = self.tree.nodes[node.inputs[0]]
            if node.title and (inner.kind == "gate" or key == self.tree.top):
                break
            negated, key, node = not negated, node.inputs[0], inner
        return key, negated

    def count(self, key: str, level: int) -> None:
        """Count the uses of every node that will be drawn."""
        key, _ = self.through(key)
        self.uses[key] += 1
        if self.uses[key] == 1 and key not in self.folded and level != self.depth:
            for name in self.tree.nodes[key].inputs:
                self.count(name, level + 1)

    def part(self, key: str, level: int) -> Part:
        """The part of a node, with all below it."""
        key, negated = self.through(key)
        node = self.tree.nodes[key]
        self.drawn[key] += 1
        again = self.drawn[key] > 1
        name = f"{key}@{self.drawn[key]}" if again else key
        if key in self.folded:
            return Part(name, node, "folded", negated=negated)
        if level == self.depth and node.kind == "gate":
            return Part(name, node, "folded", negated=negated, note="goes on; deeper than what is drawn")
        mark = self._mark(node) if self.uses[key] > 1 else ""
        if node.kind != "gate":
            return Part(name, node, node.kind, negated=negated, mark=mark if node.kind == "cause" else "")
        if again:
            return Part(name, node, "transfer", negated=negated, mark=mark)
        kids = tuple(self.part(one, level + 1) for one in node.inputs)
        return Part(name, node, "gate", kids, negated, mark)

    def _mark(self, node: TreeNode) -> str:
        if node.key not in self.marks:
            same = sum(self.tree.nodes[key].kind == node.kind for key in self.marks)
            self.marks[node.key] = letters(same) if node.kind == "gate" else str(same + 1)
        return self.marks[node.key]


def letters(number: int) -> str:
    """The mark of a transfer: A, B, ... Z, AA, AB, ...

    >>> letters(0), letters(25), letters(26)
    ('A', 'Z', 'AA')
    """
    text = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        text = chr(65 + rest) + text
    return text


def judged(root: Part, evidence: Evidence) -> Part:
    """The parts with what the evidence says: cleared branches, and the way from the likeliest cause to the top."""
    if not evidence.given:
        return root
    states: dict[str, State] = {}
    _judge(root, evidence, states)
    odd = frozenset(name for name, state in states.items() if state == "odd")
    for part in _way(root, evidence.likeliest) or ():
        states[part.id] = "path"
    return _stated(root, states, {part.node.key: states[part.id] for part in root if part.kind == "gate"}, odd)


def _judge(part: Part, evidence: Evidence, states: dict[str, State]) -> bool:
    """Note the state of a part and of all below it; the result says whether anything there is still possible."""
    below = [_judge(kid, evidence, states) for kid in part.kids]
    state: State = ""
    if part.kind == "cause":
        state = evidence.state(part.node.source)
        state = "suspect" if state == "path" else state
    elif part.kind == "gate":
        state = "cleared" if below and not any(below) else ""
    observed = evidence.observed.get(part.node.source)
    if observed is not None and part.kind != "cause" and state != "cleared":
        state = "odd" if observed.odd else "usual"
    # Of a fault that must not be there the picture says nothing: its absence is no news.
    states[part.id] = "" if part.negated and part.kind == "cause" else state
    open_ended = part.kind in ("undeveloped", "transfer")
    return open_ended or (part.kind == "cause" and state != "cleared" and not part.negated) or any(below)


def _way(part: Part, cause: str) -> tuple[Part, ...] | None:
    """The parts from here down to the first place of a cause, not through anything negated."""
    if part.negated or part.node.gate in ("not", "none"):
        return None
    if part.kind == "cause":
        return (part,) if part.node.source == cause else None
    for kid in part.kids:
        found = _way(kid, cause)
        if found is not None:
            return (part, *found)
    return None


def _stated(part: Part, states: Mapping[str, State], gates: Mapping[str, State], odd: frozenset[str]) -> Part:
    """Every part with its state; a transfer has the state of what it stands for, but is not on the way itself."""
    state = gates.get(part.node.key, "") if part.kind == "transfer" else states[part.id]
    state = "" if part.kind == "transfer" and state == "path" else state
    kids = tuple(_stated(kid, states, gates, odd) for kid in part.kids)
    return replace(part, state=state, kids=kids, odd=part.id in odd)
