"""A file's ending says its format, and every format can be written."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest

from faultree.diagrams.draw import FORMATS, VIEWS, files, format_of
from faultree.diagrams.drawing import DrawingError
from faultree.diagrams.picture import View
from tests.diagrams.small import door, drawn
from tests.trees.demonstration import library


@pytest.mark.parametrize(("name", "form"), [("a.svg", "svg"), ("b/c.PDF", "pdf"), ("x.dot", "gv"), ("x.gv", "gv")])
def test_the_ending_says_the_format(name: str, form: str) -> None:
    assert format_of(name) == form


@pytest.mark.parametrize("name", ["a", "a.docx", ".svg"])
def test_an_ending_that_is_none_is_refused_with_the_choices(name: str) -> None:
    with pytest.raises(DrawingError, match=r"svg, pdf, png, gv, mmd, txt \(or html, for a tree or a chart\)"):
        format_of(name)


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_holds_the_words(form: str) -> None:
    made = files(drawn(door(), "stands"), form, 400)
    assert len(made) == 1
    if form not in ("pdf", "png"):
        assert b"motor not running" in made[0].replace(b"\\n", b" ").replace(b"</text><text", b" ")


@pytest.mark.parametrize("view", VIEWS)
def test_names_are_unique_on_a_sheet_and_every_line_joins_two_shapes(view: View) -> None:
    """DOT joins by name: a name that came twice would make one symbol of two."""
    for sheet in drawn(library(), "flaps/needles-apart", view, paper="a4", answers={}).sheets:
        names = [shape.id for shape in sheet.shapes]
        assert len(names) == len(set(names))
        for line in sheet.lines:
            assert not line.tail or {line.tail, line.head} <= set(names)


PROGRAM = """
import sys
from faultree.diagrams.draw import VIEWS, files
from tests.diagrams.small import drawn
from tests.trees.demonstration import library
for view in VIEWS:
    drawing = drawn(library(), "hydraulics/transfer-unit-in-cruise", view, paper="a4", answers={})
    for form in ("gv", "svg", "mmd", "txt"):
        sys.stdout.buffer.write(b"".join(files(drawing, form)))
"""


def test_two_runs_write_the_same_bytes() -> None:
    """Whatever order a set has in a run, nothing of it is in a drawing."""
    root = Path(__file__).resolve().parents[2]
    made = [
        subprocess.run(
            [sys.executable, "-c", PROGRAM],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(root)},
            cwd=root,
            check=True,
            capture_output=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert made[0] == made[1]
    assert len(made[0]) > 100_000


WORDS = "Датчик №1 & «ΔP» ≥ 5 °C"


@pytest.mark.parametrize("form", FORMATS)
def test_other_letters_and_ampersands_are_right(form: str) -> None:
    fuse = replace(door().causes["door/fuse"], title=WORDS)
    lib = replace(door(), causes={**door().causes, "door/fuse": fuse})
    (made,) = files(drawn(lib, "stands", paper="a4" if form == "pdf" else None), form, 700)
    if form == "png":
        assert made.startswith(b"\x89PNG")
        return
    text = pypdf.PdfReader(io.BytesIO(made)).pages[0].extract_text() if form == "pdf" else made.decode()
    told = {"svg": "Датчик №1 &amp; «ΔP» ≥ 5 °C", "mmd": "Датчик №1 #38; «ΔP» ≥ 5 °C"}.get(form, WORDS)
    assert told in text


def test_sheets_of_svg_and_png_are_files_of_their_own() -> None:
    drawing = drawn(library(), "spoilers/fault-lamp-on", paper="a4")
    assert len(files(drawing, "svg")) == len(drawing.sheets)
    assert len(files(drawing, "gv")) == 1
