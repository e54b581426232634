"""Drafts of tree nodes: gates that simplify as they are built, equal ones shared."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from faultree.library.model import GateKind

DraftKind = Literal["true", "false", "cause", "absent", "house", "undeveloped", "gate"]


class Draft(NamedTuple):
    """One node: `name` for leaves; `inputs` (places of drafts) and `number` (of `at_least`) for gates.

    `absent` says that a cause is not there. A `house` event holds, in the state `value`. `true` has as its
    inputs the house events that make it so. A gate that the author described has a `title`, its `name`, and
    the `value` of it that it speaks of.
    """

    kind: DraftKind
    name: str = ""
    value: bool = True
    gate: GateKind | None = None
    inputs: tuple[int, ...] = ()
    number: int = 0
    title: str = ""


TRUE, FALSE = 0, 1


@dataclass
class Drafts:
    """All drafts made so far; a draft is named by its place.

    `items` gives the item of a cause, if it has one: causes of one item exclude each other, so where one is
    there the others need not be said to be absent.

    >>> drafts = Drafts()
    >>> drafts.all([TRUE, drafts.cause("a")]) == drafts.cause("a")
    True
    """

    items: Mapping[str, str] = field(default_factory=dict)
    nodes: list[Draft] = field(default_factory=lambda: [Draft("true"), Draft("false")])
    _shared: dict[Draft, int] = field(default_factory=lambda: {Draft("true"): TRUE, Draft("false"): FALSE})
    _usual: list[bool] = field(default_factory=lambda: [True, False])

    def usual(self, draft: int) -> bool:
        """The value of a draft while nothing is wrong."""
        return self._usual[draft]

    def certain(self, draft: int) -> bool:
        """Whether a draft holds whatever is wrong."""
        return self.nodes[draft].kind in ("true", "house")

    def cause(self, name: str) -> int:
        """That a cause is present."""
        return self._add(Draft("cause", name), False)

    def absent(self, name: str) -> int:
        """That a cause is absent."""
        return self._add(Draft("absent", name, False), True)

    def house(self, name: str, state: bool) -> int:
        """That a condition is as the situation has it: true, and a reason to name."""
        return self._add(Draft("house", name, state), True)

    def undeveloped(self, name: str, title: str) -> int:
        """What is left out on purpose; no cause makes it true."""
        return self._add(Draft("undeveloped", name, title=title), False)

    def described(self, draft: int, name: str, value: bool, title: str) -> int:
        """The gate with the author's title; a leaf, a constant or a gate described already stays as it is."""
        node = self.nodes[draft]
        if node.kind != "gate" or node.title:
            return draft
        return self._add(node._replace(name=name, value=value, title=title), self.usual(draft))

    def all(self, inputs: Iterable[int]) -> int:
        """That all inputs hold; the house events among them stay, as reasons."""
        members = self._members("all", inputs)
        if FALSE in members or self._clash(members, "cause", "absent"):
            return FALSE
        members = self._needed(members, "absent")
        if all(self.nodes[one].kind == "house" for one in members):
            return self._add(Draft("true", inputs=tuple(members)), True)
        if len(members) == 1:
            return members[0]
        return self._gate("all", members, all(map(self.usual, members)))

    def any(self, inputs: Iterable[int]) -> int:
        """That one or more inputs hold; one that holds for sure stands for all."""
        members = [one for one in self._members("any", inputs) if one != FALSE]
        sure = next((one for one in members if self.certain(one)), None)
        if sure is not None:
            return sure
        if self._clash(members, "absent", "cause"):
            return TRUE
        members = self._needed(members, "cause")
        if len(members) < 2:
            return members[0] if members else FALSE
        return self._gate("any", members, any(map(self.usual, members)))

    def at_least(self, count: int, inputs: Iterable[int]) -> int:
        """That `count` or more inputs hold; those that hold for sure are named beside the rest."""
        live = [one for one in inputs if one != FALSE]
        sure = [one for one in live if self.certain(one)]
        still = [one for one in live if not self.certain(one)]
        if len(sure) >= count:
            return self.all(sure[:count])
        left = count - len(sure)
        if left > len(still):
            return FALSE
        if left == len(still):
            return self.all(live)
        if left == 1:
            return self.all([*sure, self.any(still)])
        usual = sum(map(self.usual, still)) >= left
        return self.all([*sure, self._gate("at_least", still, usual, left)])

    def one_of(self, inputs: Iterable[int]) -> int:
        """That exactly one of two or more open inputs holds."""
        members = list(inputs)
        return self._gate("one_of", members, sum(map(self.usual, members)) == 1)

    def opposite(self, draft: int) -> int:
        """That an open gate does not hold, as a gate of its own."""
        return self._gate("not", [draft], not self.usual(draft))

    def _members(self, gate: GateKind, inputs: Iterable[int]) -> list[int]:
        """Distinct inputs in order, with those of undescribed gates of the same kind, and reasons for what is true."""
        members: dict[int, None] = {}
        for one in inputs:
            node = self.nodes[one]
            same = node.gate == gate and not node.title
            opened = same or (node.kind == "true" and gate == "all")
            members.update(dict.fromkeys(node.inputs if opened else (one,)))
        return list(members)

    def _clash(self, members: Iterable[int], kind: DraftKind, other: DraftKind) -> bool:
        """Whether a cause is said to be there and not to be there, or of one item two states at once.

        Under `all` two causes of one item cannot both be there; under `any` one of them is always absent.
        """
        leaves = [(self.nodes[one].kind, self.nodes[one].name) for one in members]
        mine = [name for one, name in leaves if one == kind]
        items = [self.items[name] for name in mine if name in self.items]
        return len(set(items)) < len(items) or any((other, name) in leaves for name in mine)

    def _needed(self, members: list[int], kind: DraftKind) -> list[int]:
        """Members without those that another one settles: of a cause and the absence of one of the same item.

        Under `all` the absence follows from the cause; under `any` the cause is a case of the absence.
        """
        other = "cause" if kind == "absent" else "absent"
        items = {self.items.get(self.nodes[one].name) for one in members if self.nodes[one].kind == other} - {None}
        return [
            one for one in members if self.nodes[one].kind != kind or self.items.get(self.nodes[one].name) not in items
        ]

    def _gate(self, kind: GateKind, inputs: Iterable[int], usual: bool, number: int = 0) -> int:
        return self._add(Draft("gate", gate=kind, inputs=tuple(inputs), number=number), usual)

    def _add(self, draft: Draft, usual: bool) -> int:
        place = self._shared.get(draft)
        if place is None:
            place = self._shared[draft] = len(self.nodes)
            self.nodes.append(draft)
            self._usual.append(usual)
        return place
