"""Groups of shapes move and grow as a whole, and text is set inside its shape."""

from __future__ import annotations

from faultree.diagrams.picture import Group, Line, Shape, baselines, text_height, together

SHAPE = Shape("a", "box", 10, 20, 30, 40, ("one", "two"))
GROUP = Group(50, 70, (SHAPE,), (Line("a", "b", ((1.0, 2.0), (3.0, 4.0))),))


def test_a_group_moves_with_its_lines() -> None:
    moved = GROUP.moved(5, 7)
    assert (moved.shapes[0].x, moved.shapes[0].y) == (15, 27)
    assert moved.lines[0].points == ((6.0, 9.0), (8.0, 11.0))
    assert (moved.w, moved.h) == (55, 77)


def test_a_group_grows_with_its_text() -> None:
    larger = GROUP.scaled(2.0)
    assert (larger.shapes[0].w, larger.shapes[0].size) == (60, SHAPE.size * 2)
    assert larger.lines[0].points[1] == (6.0, 8.0)


def test_groups_join_where_they_stand() -> None:
    joined = together([GROUP, Group(10, 90)])
    assert (joined.w, joined.h) == (50, 90)
    assert joined.shapes == GROUP.shapes


def test_text_lies_within_a_shape_that_is_high_enough() -> None:
    places = list(baselines(SHAPE))
    assert [line for line, *_ in places] == ["one", "two"]
    assert SHAPE.y < places[0][2] - SHAPE.size * 0.72
    assert places[1][2] + SHAPE.size * 0.25 < SHAPE.y + SHAPE.h
    assert text_height(2, SHAPE.size) < SHAPE.h
