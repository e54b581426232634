"""Every engine behind one face, so that one suite runs over all of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from faultree.belief.engine import Engine, Exact, Limits, compile_exact, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame
from faultree.belief.plan import plan_of
from faultree.belief.table import table_of

Maker = Callable[[Frame, Sequence[Point]], Engine]


def whole_table(frame: Frame, points: Sequence[Point]) -> Engine:
    """A table with room for every set of up to three faults."""
    return table_of(frame, wire(frame, points), Limits(sets=100_000))


def short_table(frame: Frame, points: Sequence[Point]) -> Engine:
    """A table with room for single faults and a few pairs, which must say how far it may be off."""
    return table_of(frame, wire(frame, points), Limits(sets=16))


def narrow(frame: Frame, evidence: Sequence[Point], views: Sequence[Point]) -> Limits:
    """Limits too narrow for one exact engine over all of these points, and wide enough for one per situation."""
    for cells in range(1 << 10, 0, -1):
        engines = plan_of(frame, evidence, views, Limits(cells=cells)).engines
        if len(engines) > 1 and all(isinstance(engine, Exact) for engine in engines):
            return Limits(cells=cells)
    raise AssertionError("these points have no such limits; take others")


ENGINES: dict[str, Maker] = {"exact": compile_exact, "whole table": whole_table, "short table": short_table}
EXACT = ("exact",)
