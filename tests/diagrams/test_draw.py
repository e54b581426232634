"""A file's ending says its format, and every format can be written."""

from __future__ import annotations

import pytest

from faultree.diagrams.draw import FORMATS, files, format_of
from faultree.diagrams.drawing import DrawingError
from tests.diagrams.small import door, drawn
from tests.trees.demonstration import library


@pytest.mark.parametrize(("name", "form"), [("a.svg", "svg"), ("b/c.PDF", "pdf"), ("x.dot", "gv"), ("x.gv", "gv")])
def test_the_ending_says_the_format(name: str, form: str) -> None:
    assert format_of(name) == form


@pytest.mark.parametrize("name", ["a", "a.docx", ".svg"])
def test_an_ending_that_is_none_is_refused_with_the_choices(name: str) -> None:
    with pytest.raises(DrawingError, match="svg, pdf, png, gv, mmd, txt"):
        format_of(name)


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_holds_the_words(form: str) -> None:
    made = files(drawn(door(), "stands"), form, 400)
    assert len(made) == 1
    if form not in ("pdf", "png"):
        assert b"motor not running" in made[0].replace(b"\\n", b" ").replace(b"</text><text", b" ")


def test_sheets_of_svg_and_png_are_files_of_their_own() -> None:
    drawing = drawn(library(), "spoilers/fault-lamp-on", paper="a4")
    assert len(files(drawing, "svg")) == len(drawing.sheets)
    assert len(files(drawing, "gv")) == 1
