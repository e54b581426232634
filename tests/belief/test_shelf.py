"""The shelf: a plan is compiled once, what is too wide is tried once, and the plan used longest ago goes first."""

from __future__ import annotations

import gc
import weakref

import pytest

from faultree.belief.engine import Limits
from faultree.belief.evidence import Point, points_of
from faultree.belief.frame import Frame, frame_of
from faultree.belief.plan import even
from faultree.belief.shelf import MOST, shelf_of
from faultree.strategy.case import Case
from tests.belief.small import PUMP, library, node


@pytest.fixture
def frame() -> Frame:
    """A frame of its own, so that nothing is on the shelf yet."""
    return frame_of(library(PUMP))


def test_a_frame_has_one_shelf(frame: Frame) -> None:
    assert shelf_of(frame) is shelf_of(frame)
    assert shelf_of(frame) is not shelf_of(frame_of(library(PUMP)))


def test_a_plan_is_compiled_once(frame: Frame) -> None:
    shelf, points = shelf_of(frame), [node(frame, "pressure"), node(frame, "shown")]
    plan = shelf.whole("key", lambda: points, Limits())
    assert plan is not None
    assert set(plan.points) == set(points)
    assert shelf.whole("key", pytest.fail, Limits()) is plan
    assert shelf.whole("key", lambda: points, Limits(work=1)) is not plan


def test_what_is_too_wide_is_tried_once(frame: Frame) -> None:
    """The second time not even its points are asked for."""
    narrow = Limits(cells=1)
    asked = []

    def points() -> list[Point]:
        asked.append(1)
        return [node(frame, "shown"), node(frame, "moves", "ready")]

    assert shelf_of(frame).whole("key", points, narrow) is None
    assert shelf_of(frame).whole("key", points, narrow) is None
    assert len(asked) == 1


def test_evidence_and_views_part_a_plan(frame: Frame) -> None:
    """Engines of a parted plan all know the evidence, so it matters which points are evidence; their order does not."""
    shelf, one, two = shelf_of(frame), node(frame, "pressure"), node(frame, "shown")
    plan = shelf.parted([one, two], [], Limits())
    assert shelf.parted([two, one], [], Limits()) is plan
    assert shelf.parted([one], [two], Limits()) is not plan


def test_the_plan_used_longest_ago_goes_first(frame: Frame) -> None:
    shelf, point = shelf_of(frame), node(frame, "pressure")
    first = shelf.whole(0, lambda: [point], Limits())
    second = shelf.whole(1, lambda: [point], Limits())
    for number in range(2, MOST):
        shelf.whole(number, lambda: [point], Limits())
    assert shelf.whole(0, pytest.fail, Limits()) is first
    shelf.whole(MOST, lambda: [point], Limits())
    assert len(shelf.plans) == MOST
    assert shelf.whole(0, pytest.fail, Limits()) is first
    assert shelf.whole(1, lambda: [point], Limits()) is not second


def test_points_of_checks_are_even_and_say_whether_they_were_turned(frame: Frame) -> None:
    for repaired in (frozenset[int](), frozenset({0})):
        known = shelf_of(frame).check_points(repaired)
        assert set(known) == set(frame.library.checks)
        for name, points in known.items():
            assert list(points) == [even(point) for point in points_of(frame, name, repaired)]
            assert all(point.literal % 2 == 0 for point, _ in points)


def test_compiled_plans_go_with_their_library() -> None:
    """Whoever reads a library again and again must not keep what was compiled for every one that ever was."""
    loaded = library(PUMP)
    case = Case.open(loaded, ["still"])
    assert case.ranking()
    assert case.checks()
    gone = weakref.ref(frame_of(loaded))
    del case, loaded
    gc.collect()
    assert gone() is None
