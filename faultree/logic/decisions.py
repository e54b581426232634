"""A symptom as a decision diagram over units: each item is good or has one of its causes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from faultree.logic.diagram import Diagram
from faultree.logic.graph import FALSE, TRUE, Graph, build
from faultree.logic.ordering import order_of
from faultree.logic.restrict import Restriction

if TYPE_CHECKING:
    from faultree.library.model import Library

NEVER, ALWAYS = 0, 1
"""Places of the two ends of a diagram."""

Groups = tuple[tuple[str, ...], ...]


class Question(NamedTuple):
    """A symptom as a literal of a graph that holds causes alone; `groups` in the order of a diagram.

    A group holds the causes of one item, which exclude each other, or one cause without an item. Only causes
    on which the graph depends are in a group.
    """

    graph: Graph
    literal: int
    groups: Groups

    @property
    def names(self) -> tuple[str, ...]:
        """All causes, in the order of the groups."""
        return tuple(cause for group in self.groups for cause in group)


def question_of(library: Library, symptom: str) -> Question:
    """The symptom with this full id, its situation settled."""
    entry = library.symptoms[symptom]
    whole = build(library)
    seen = [whole.literals[node] ^ (not value) for node, value in entry.sees]
    small = Graph()
    literal = Restriction(whole, small, library.settings(entry.situation)).literal(whole.conjunction(seen))
    items = {name: cause.item for name, cause in library.causes.items()}
    return Question(small, literal, order_of(small, literal, items))


class Split(NamedTuple):
    """One place of a diagram: a group, where its good state leads, and where each of its causes leads.

    Causes that lead where the good state leads are left out.
    """

    group: int
    good: int
    bad: tuple[tuple[int, int], ...]


@dataclass(frozen=True, eq=False)
class Decisions:
    """A diagram whose places stand before those that lead to them: `splits[0]` and `[1]` are its two ends.

    Causes are numbers in the order of the groups: `names[number]`. The top is the last place, or an end.
    """

    groups: Groups
    names: tuple[str, ...]
    splits: tuple[Split, ...]
    top: int


def decide(question: Question, most: int) -> Decisions:
    """The diagram of a question; raises TooLarge beyond `most` steps."""
    names = question.names
    place = {name: number for number, name in enumerate(names)}
    diagram = Diagram(len(names), most)
    edge = diagram.of(question.graph, question.literal, place)
    return _Unfolding(diagram, question.groups, names).decisions(edge)


@dataclass
class _Unfolding:
    """The places of a binary diagram at which a group is entered, with every branch of that group followed through."""

    diagram: Diagram
    groups: Groups
    names: tuple[str, ...]

    def __post_init__(self) -> None:
        self.first: list[int] = []
        self.owner: list[int] = []
        for number, group in enumerate(self.groups):
            self.first.append(len(self.owner))
            self.owner += [number] * len(group)

    def decisions(self, edge: int) -> Decisions:
        found: dict[int, tuple[int, list[int]]] = {}
        pending = [edge]
        while pending:
            one = pending.pop()
            if one not in found and one not in (TRUE, FALSE):
                found[one] = self._branches(one)
                pending += found[one][1]
        order = sorted(found, key=lambda one: (-found[one][0], one))  # deepest groups first
        number = {FALSE: NEVER, TRUE: ALWAYS}
        splits = [Split(len(self.groups), NEVER, ()), Split(len(self.groups), ALWAYS, ())]
        known: dict[Split, int] = {}
        for one in order:
            split = self._split(*found[one], number)
            if split.bad and split not in known:
                known[split] = len(splits)
                splits.append(split)
            number[one] = known[split] if split.bad else split.good
        return Decisions(self.groups, self.names, tuple(splits), number[edge])

    def _split(self, group: int, branches: Sequence[int], number: Mapping[int, int]) -> Split:
        good = number[branches[0]]
        bad = [(self.first[group] + place, number[one]) for place, one in enumerate(branches[1:])]
        return Split(group, good, tuple(one for one in bad if one[1] != good))

    def _branches(self, edge: int) -> tuple[int, list[int]]:
        """The group on top of an edge, and what is left where it is good, and where each of its causes is present."""
        group = self.owner[self.diagram.top(edge)]
        causes = range(self.first[group], self.first[group] + len(self.groups[group]))
        return group, [self._follow(edge, causes.stop, cause) for cause in (-1, *causes)]

    def _follow(self, edge: int, end: int, present: int) -> int:
        """What is left below a group, of which one cause is present, or none."""
        while self.diagram.top(edge) < end:
            edge = self.diagram.branches(edge)[self.diagram.top(edge) != present]
        return edge
