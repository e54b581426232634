"""The choice between the bounded engines: the one that leaves less of the prior out."""

from __future__ import annotations

import pytest

from faultree.belief.bounded import GOOD, compile_bounded
from faultree.belief.engine import Limits, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame, frame_of
from faultree.belief.split import Split, split_of
from faultree.belief.table import Table, table_of
from tests.belief.small import MESH, library, node

FRAME = frame_of(library(MESH))


def points(frame: Frame) -> list[Point]:
    return [node(frame, event) for event in ("ab", "bc", "cd", "de", "ea", "ac", "bd", "top")]


POINTS = points(FRAME)


def test_a_network_that_can_be_cut_is_conditioned() -> None:
    """With every setting tried nothing is left out, and no table could do better."""
    assert isinstance(compile_bounded(FRAME, POINTS, Limits()), Split)


def test_a_network_that_cannot_be_cut_is_listed() -> None:
    """A table of fault sets is the last resort."""
    assert isinstance(compile_bounded(FRAME, POINTS, Limits(held_cells=1)), Table)


@pytest.mark.parametrize("settings", [1, 2, 3, 5, 4096])
@pytest.mark.parametrize("sets", [1, 12, 1000])
def test_the_better_of_the_two_serves(settings: int, sets: int) -> None:
    limits = Limits(held_cells=64, settings=settings, sets=sets)
    wiring = wire(FRAME, POINTS)
    least = min(split_of(wiring, limits).left_out, table_of(FRAME, wiring, limits).left_out)
    chosen = compile_bounded(FRAME, POINTS, limits)
    assert isinstance(chosen, Split | Table)
    assert chosen.left_out <= least + GOOD
