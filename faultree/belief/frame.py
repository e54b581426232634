"""A library made ready for reasoning: its graph, its prior, and the literals of symptoms and checks."""

from __future__ import annotations

from copy import copy
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakKeyDictionary

from faultree.belief.prior import Prior, prior_of
from faultree.belief.response import World, reached_roots
from faultree.logic.graph import Graph, build, negate

if TYPE_CHECKING:
    from collections.abc import Mapping

    from faultree.library.model import Check, Library, Symptom


class Point(NamedTuple):
    """A literal in a world (by its number in the frame): something observed or asked for."""

    literal: int
    world: int


@dataclass(frozen=True, eq=False)
class Frame:
    """What every case of one library shares.

    `seen[symptom]` is the literal of the whole report, `answers[check]` the literal of each of its
    answers in the author's order. What other modules keep for a library lies in `kept`, under a key of
    their own, so that it goes when the library goes.
    """

    library: Library
    graph: Graph
    prior: Prior
    seen: Mapping[str, int]
    answers: Mapping[str, tuple[int, ...]]
    worlds: list[World] = field(default_factory=list, repr=False)
    kept: dict[object, object] = field(default_factory=dict, repr=False)
    _known: dict[tuple[str | None, frozenset[int]] | World, int] = field(default_factory=dict, repr=False)
    _reached: dict[int, list[int]] = field(default_factory=dict, repr=False)

    def world(self, situation: str | None, repaired: frozenset[int] = frozenset()) -> int:
        """The number (in `worlds`) of a situation after some units (root indices) were made good."""
        key = (situation, repaired)
        if key not in self._known:
            made = World(tuple(self.library.settings(situation).items()), repaired)
            if made not in self._known:
                self._known[made] = len(self.worlds)
                self.worlds.append(made)
            self._known[key] = self._known[made]
        return self._known[key]

    def reached(self, point: Point) -> int:
        """The roots (by index, as bits) that can matter to a point in its world."""
        if point.world not in self._reached:
            self._reached[point.world] = reached_roots(self.graph, self.prior, self.worlds[point.world])
        return self._reached[point.world][point.literal >> 1]


_frames: WeakKeyDictionary[Library, Frame] = WeakKeyDictionary()


def frame_of(library: Library) -> Frame:
    """The frame of a library, made once and kept as long as the library lives."""
    if library not in _frames:
        _frames[library] = _make(library)
    return _frames[library]


def _make(library: Library) -> Frame:
    graph = build(library)
    seen = {name: _report(graph, symptom) for name, symptom in library.symptoms.items()}
    answers = {name: _answers(graph, check) for name, check in library.checks.items()}
    # a copy (of references only): a frame that held its own key would keep it, and itself, for good
    return Frame(copy(library), graph, prior_of(library), seen, answers)


def _report(graph: Graph, symptom: Symptom) -> int:
    literals = [(graph.literals[node], value) for node, value in symptom.sees]
    return graph.conjunction(literal if value else negate(literal) for literal, value in literals)


def _answers(graph: Graph, check: Check) -> tuple[int, ...]:
    return tuple(graph.literal_of(answer.when) for answer in check.answers)
