"""Which bounded engine serves where the exact one would be too wide."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from faultree.belief.engine import Engine, Limits, TooWide, wire
from faultree.belief.split import Split, split_of
from faultree.belief.table import Table, table_of

if TYPE_CHECKING:
    from faultree.belief.evidence import Point
    from faultree.belief.frame import Frame

GOOD = 1e-6
"""Where the conditioned engine misses less of the prior than this, no table is tried beside it."""


def compile_bounded(frame: Frame, points: Sequence[Point], limits: Limits) -> Engine:
    """The engine that leaves less of the prior out: conditioned, or a table of fault sets."""
    wiring = wire(frame, points)
    found: list[Split | Table] = []
    with suppress(TooWide):
        found.append(split_of(wiring, limits))
    if not found or found[0].left_out > GOOD:
        found.append(table_of(frame, wiring, limits))
    return min(found, key=lambda engine: engine.left_out)
