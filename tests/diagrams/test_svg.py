"""SVG is plain XML that shows every word and runs nothing, whatever an author writes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.diagrams.palette import Theme
from faultree.diagrams.picture import Form, Line, Shape, Sheet
from faultree.diagrams.svg import arrow, corners, identifier, svg
from tests.diagrams.small import SVG, door, drawn, parsed, squeezed, words

HOSTILE = {
    "quotes": "the \"left\" 'lever' & co",
    "script": "<script>alert(1)</script>",
    "newline": "one\ntwo",
    "long": "lever " * 83 + "ok",
    "right to left": "مستشعر العجلة اليسرى معطل",
    "turned": "abc\u202ecba",
    "cjk": "左車輪速度傳感器失效",
    "entity": "]]> &amp; &#60; <!-- x -->",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_titles_are_text_and_nothing_else(name: str) -> None:
    """A title is shown, whole or shortened with the whole as its tooltip, and never becomes markup."""
    fuse = replace(door().causes["door/fuse"], title=HOSTILE[name])
    library = replace(door(), causes={**door().causes, "door/fuse": fuse})
    drawing = drawn(library, "stands")
    root = parsed(drawing.sheets[0])
    tags = {one.tag.removeprefix(SVG) for one in root.iter()}
    assert tags <= {"svg", "title", "desc", "g", "rect", "path", "ellipse", "circle", "text"}
    shown = library.causes["door/fuse"].title
    group = next(one for one in root.iter(f"{SVG}g") if one.get("data-id") == "door/fuse")
    plain = squeezed("".join(sign for sign in shown if sign not in "\u202e\n"))
    assert squeezed(group.find(f"{SVG}title").text) == plain
    if len(shown) < 100:
        assert plain in squeezed(words(drawing))
    else:
        assert "…" in words(drawing)


def test_every_shape_has_an_id_of_its_own() -> None:
    root = parsed(drawn(door(), "stands").sheets[0])
    ids = [one.get("id") for one in root.iter(f"{SVG}g")]
    assert len(ids) == len(set(ids))
    assert all(one and one == identifier(one) for one in ids)


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_the_ground_is_painted(theme: Theme) -> None:
    """A picture with a dark theme is not laid on white paper by its viewer."""
    text = svg(Sheet(1, "name", 10, 10, ()), theme)
    assert text.index("<rect") < text.index("</svg>")


def test_a_tip_points_where_the_line_ends() -> None:
    (tip, one, other) = arrow((0.0, 0.0), (0.0, 10.0))
    assert tip == (0.0, 10.0)
    assert {one[1], other[1]} == {4.0}


@pytest.mark.parametrize(("form", "count"), [("diamond", 4), ("house", 5), ("triangle", 3), ("hexagon", 6)])
def test_symbols_have_their_corners(form: Form, count: int) -> None:
    shape = Shape("a", form, 0, 0, 20, 10)
    found = corners(shape)
    assert len(found) == count
    assert all(0 <= x <= 20 and 0 <= y <= 10 for x, y in found)


def test_the_emphasised_line_lies_on_top() -> None:
    lines = (Line("a", "b", ((0, 0), (1, 1)), state="path"), Line("a", "c", ((0, 0), (2, 2))))
    text = svg(Sheet(1, "n", 5, 5, (), lines))
    assert text.index("L2,2") < text.index("L1,1")
