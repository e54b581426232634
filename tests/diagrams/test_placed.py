"""The engine's places come back as they were asked for."""

from __future__ import annotations

from faultree.diagrams.placed import placed

SIZES = {"a": (100.0, 30.0), "b": (50.0, 20.0), "c": (40.0, 40.0)}
LINKS = [("a", "b"), ("a", "c"), ("b", "c"), ("a", "b")]


def test_boxes_keep_their_size_and_do_not_overlap() -> None:
    w, h, corners, _ = placed(SIZES, LINKS)
    for name, (x, y) in corners.items():
        assert -0.5 <= x <= w - SIZES[name][0] + 0.5
        assert -0.5 <= y <= h - SIZES[name][1] + 0.5
    assert corners["a"][0] + 100 < corners["b"][0]
    assert corners["b"][0] + 50 < corners["c"][0]


def test_each_link_has_its_curve_from_box_to_box() -> None:
    """Two links between the same boxes have a curve each, and every curve is made of cubic pieces."""
    _, _, corners, curves = placed(SIZES, LINKS)
    assert len(curves) == len(LINKS)
    for (tail, head), curve in zip(LINKS, curves, strict=True):
        assert len(curve) % 3 == 1
        assert abs(curve[0][0] - corners[tail][0] - SIZES[tail][0]) < 1.5
        assert abs(curve[-1][0] - corners[head][0]) < 1.5


def test_the_same_boxes_get_the_same_places() -> None:
    assert placed(SIZES, LINKS) == placed(SIZES, LINKS)
