"""Every engine behind one face, so that one suite runs over all of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from faultree.belief.engine import Engine, Exact, Limits, TooWide, compile_exact, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame
from faultree.belief.plan import plan_of
from faultree.belief.split import split_of
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


def held(frame: Frame, points: Sequence[Point], settings: int) -> Engine:
    """The conditioned engine with as many variables held as it takes for the smallest tables there can be."""
    for cells in (1 << power for power in range(1, 20)):
        try:
            return split_of(wire(frame, points), Limits(held_cells=cells, settings=settings))
        except TooWide:
            continue
    raise AssertionError("so small a system can always be cut")


def every_setting(frame: Frame, points: Sequence[Point]) -> Engine:
    """Some variables held, at every value that they can have: nothing is left out."""
    return held(frame, points, 4096)


def few_settings(frame: Frame, points: Sequence[Point]) -> Engine:
    """Some variables held, at their three likeliest settings."""
    return held(frame, points, 3)


ENGINES: dict[str, Maker] = {
    "exact": compile_exact,
    "every setting": every_setting,
    "few settings": few_settings,
    "whole table": whole_table,
    "short table": short_table,
}
EXACT = ("exact",)
