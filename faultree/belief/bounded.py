"""Which bounded engine serves where the exact one would be too wide."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from faultree.belief.engine import Engine, Limits, wire
from faultree.belief.table import table_of

if TYPE_CHECKING:
    from faultree.belief.evidence import Point
    from faultree.belief.frame import Frame


def compile_bounded(frame: Frame, points: Sequence[Point], limits: Limits) -> Engine:
    """An engine whose results carry a bound."""
    return table_of(frame, wire(frame, points), limits)
