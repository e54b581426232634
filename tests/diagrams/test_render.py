"""Pictures and PDF come without any system package; where an engine is missing, it is said what to do."""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest
from PIL import Image

from faultree.diagrams import render
from faultree.diagrams.draw import files
from faultree.diagrams.drawing import DrawingError
from tests.diagrams.small import door, drawn

PROGRAM = """
import sys
from pathlib import Path
from faultree.diagrams.draw import files
from tests.diagrams.small import door, drawn
drawing = drawn(door(), "stands")
for form in ("svg", "pdf", "png", "gv", "mmd", "txt"):
    Path(sys.argv[1], f"door.{form}").write_bytes(files(drawing, form, 600)[0])
"""


def test_everything_works_with_an_empty_path(tmp_path: Path) -> None:
    """No system Graphviz, no shell, no fonts asked for by name: every format is written."""
    root = Path(__file__).resolve().parents[2]
    environ = {"PATH": "", "PYTHONPATH": str(root)}
    subprocess.run([sys.executable, "-c", PROGRAM, str(tmp_path)], env=environ, check=True, cwd=root)
    assert tmp_path.joinpath("door.pdf").read_bytes().startswith(b"%PDF-")
    assert tmp_path.joinpath("door.svg").read_text(encoding="utf-8").rstrip().endswith("</svg>")
    with Image.open(tmp_path / "door.png") as picture:
        assert picture.size[0] == 600
    assert len(list(tmp_path.iterdir())) == 6


@pytest.mark.parametrize("typst", [True, False], ids=["typst", "engine"])
@pytest.mark.parametrize("pixels", [500, 1200])
def test_a_png_has_the_width_asked_for_and_something_on_it(
    typst: bool, pixels: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(render, "has_typst", lambda: typst)
    picture = Image.open(io.BytesIO(files(drawn(door(), "stands"), "png", pixels)[0]))
    assert abs(picture.size[0] - pixels) <= 2
    colours = picture.convert("RGB").getcolors(1 << 24)
    assert colours is not None
    assert len(colours) > 20
    ink = sum(count for count, colour in colours if colour != (255, 255, 255))
    assert 0.01 < ink / (picture.size[0] * picture.size[1]) < 0.6


def test_a_png_without_a_width_has_two_pixels_to_a_point() -> None:
    drawing = drawn(door(), "stands", paper="a4")
    with Image.open(io.BytesIO(files(drawing, "png")[0])) as picture:
        assert picture.size[0] == round(drawing.sheets[0].width * 2)


def test_a_pdf_has_a_page_for_each_sheet_with_its_text_in_embedded_faces() -> None:
    drawing = drawn(door(), "stands", paper="a4")
    reader = pypdf.PdfReader(io.BytesIO(files(drawing, "pdf")[0]))
    assert len(reader.pages) == len(drawing.sheets)
    text = reader.pages[0].extract_text()
    assert "motor not running" in text
    assert "licensed engineer" in text
    assert [round(float(side)) for side in reader.pages[0].mediabox[2:]] == [842, 595]
    embedded, other = reader.pages[0]._get_fonts()
    assert embedded
    assert not other


def test_a_pdf_of_the_same_drawing_is_the_same() -> None:
    drawing = drawn(door(), "stands", paper="a4")
    assert files(drawing, "pdf") == files(drawing, "pdf")


def test_without_typst_and_engine_a_pdf_is_refused_with_a_remedy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(render, "has_typst", lambda: False)
    monkeypatch.setattr(render, "engines", lambda environ=None: ())
    with pytest.raises(DrawingError, match="faultree\\[pdf\\]"):
        files(drawn(door(), "stands"), "pdf")
    with pytest.raises(DrawingError, match="need no engine"):
        files(drawn(door(), "stands"), "png")
    for form in ("svg", "gv", "mmd", "txt"):
        assert files(drawn(door(), "stands"), form)[0]


def test_an_engine_that_hangs_is_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    """A label of 200,000 letters keeps a layout engine busy for minutes."""
    monkeypatch.setattr(render, "PATIENCE", 0.01)
    with pytest.raises(DrawingError, match="took more than"):
        render.laid_out("digraph { a -> b }" + " " * 10_000_000, "svg")


def test_what_the_engine_says_is_passed_on() -> None:
    with pytest.raises(DrawingError, match="failed"):
        render.laid_out("digraph {", "svg")


def test_the_bundled_engine_comes_first(tmp_path: Path) -> None:
    """A system `dot` is only a second choice: the bundled engine gives the same picture everywhere."""
    other = tmp_path / "dot"
    other.write_text("#!/bin/sh\n", encoding="utf-8")
    other.chmod(0o755)
    found = render.engines({"PATH": str(tmp_path)})
    assert Path(found[0]).stem == render.BUNDLED
    assert found[-1] == str(other)


def test_readers_do_not_complain_of_a_pdf() -> None:
    """What the typesetter writes and common readers call wrong is not there, and the file reads as before."""
    content = files(drawn(door(), "stands"), "pdf")[0]
    assert b"/Suspects" not in content
    reader = pypdf.PdfReader(io.BytesIO(content), strict=True)
    assert "the door stands still" in reader.pages[0].extract_text()
