"""Decides exactly whether something can be true of a library, by the exact engine on no more than it needs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from faultree.belief.engine import Limits, On, TooWide, compile_exact
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame, frame_of
from faultree.belief.prior import Prior, Root
from faultree.logic.graph import FALSE, TRUE, Graph
from faultree.logic.restrict import Restriction, extract

if TYPE_CHECKING:
    from faultree.library.model import Library

FAULT_WEIGHT = 0.05
"""Weight of one fault beside a good unit: what is likeliest then has the fewest faults."""


LIMITS = Limits(size=150_000)
"""What is too wide for a lint: less than for a case, since a lint asks hundreds of questions."""

MOST_NODES, MOST_IN_ONE = 100_000, 20_000
"""Nodes that the engine is given in all, and for one question; a second handles some 15,000."""

DEAR = 15
"""How many times its nodes a search counts that ends without an answer."""

MOST_VIEWS = 256
"""So many views with fixed causes are kept."""


@dataclass
class Effort:
    """How many nodes the engine may still be given, counted so that a lint ends, and always ends the same."""

    left: int = MOST_NODES
    left_in_one: int = MOST_IN_ONE

    def renew(self) -> None:
        """A new question begins."""
        self.left_in_one = MOST_IN_ONE

    def spend(self, nodes: int) -> None:
        """Count some nodes; raises TooWide where there are no more of them to be given."""
        self.left -= nodes
        self.left_in_one -= nodes
        if min(self.left, self.left_in_one) < 0:
            raise TooWide


@dataclass(frozen=True, eq=False)
class Oracle:
    """Looks for fault sets with some property among all sets that are possible together.

    What the author says of likelihoods plays no part: every fault weighs the same, and little, so that
    the set found is a smallest one. A property is a literal of `target`, in which the conditions of a
    situation (and perhaps some causes) are fixed already.
    """

    library: Library
    limits: Limits = LIMITS
    effort: Effort = field(default_factory=Effort, repr=False)
    target: Graph = field(default_factory=Graph, repr=False)
    _views: dict[object, Restriction] = field(default_factory=dict, repr=False)
    _found: dict[int, frozenset[str] | None] = field(default_factory=dict, repr=False)
    _too_wide: set[int] = field(default_factory=set, repr=False)

    @cached_property
    def frame(self) -> Frame:
        """The frame of the library, which knows the literals of reports and answers."""
        return frame_of(self.library)

    def view(self, situation: str | None, causes: Mapping[str, bool] | None = None) -> Restriction:
        """The library in a situation, with some causes fixed as present or absent."""
        key = (situation, frozenset((causes or {}).items()))
        if key not in self._views:
            fixed = {**self.library.settings(situation), **(causes or {})}
            self._views[key] = Restriction(self.frame.graph, self.target, fixed)
            if len(self._views) > MOST_VIEWS:
                del self._views[next(iter(self._views))]
        return self._views[key]

    def only(self, cause: str, *absent: str) -> dict[str, bool]:
        """Values that make one cause the only one of its unit, and the units of others good."""
        return {**self.without(cause, *absent), cause: True}

    def without(self, *causes: str) -> dict[str, bool]:
        """Values that make the units of some causes good."""
        prior = self.frame.prior
        units = {prior.seat[name][0] for name in causes}
        return {name: False for unit in units for name in prior.roots[unit].causes}

    def witness(self, literal: int) -> frozenset[str] | None:
        """A smallest possible fault set under which a literal of the target is true, or None.

        Raises TooWide where the engine cannot decide it within the limits, or has done enough already.
        """
        if literal in self._too_wide:
            raise TooWide
        if literal not in self._found:
            try:
                self._found[literal] = self._search(literal)
            except TooWide:
                self._too_wide.add(literal)
                raise
        return self._found[literal]

    def _search(self, literal: int) -> frozenset[str] | None:
        if literal in (TRUE, FALSE):
            return frozenset() if literal == TRUE else None
        graph, inner = extract(self.target, literal)
        self.effort.spend(len(graph.nodes))
        frame = Frame(self.library, graph, self._level, {}, {})
        point = Point(inner & ~1, frame.world(None))
        try:
            engine = compile_exact(frame, (point,), self.limits)
        except TooWide:
            self.effort.spend(DEAR * len(graph.nodes))
            raise
        weight, causes = engine.best([On(point, float(inner & 1), float(not inner & 1))])
        return causes if weight > float("-inf") else None

    @cached_property
    def _level(self) -> Prior:
        return Prior(tuple(_levelled(root) for root in self.frame.prior.roots))


def _levelled(root: Root) -> Root:
    """A unit whose every fault weighs the same."""
    whole = 1.0 + FAULT_WEIGHT * len(root.causes)
    return root._replace(probabilities=(1.0 / whole, *(FAULT_WEIGHT / whole for _ in root.causes)))
