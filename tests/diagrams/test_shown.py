"""In Python a drawing shows itself and writes itself."""

from __future__ import annotations

from pathlib import Path

import pytest

import faultree
from faultree.base.errors import UnknownName
from tests.diagrams.small import CLOCK, DOOR
from tests.trees.demonstration import TREES


@pytest.fixture(scope="module")
def library() -> faultree.Library:
    return faultree.load_texts({"door.yaml": DOOR})


def test_a_notebook_gets_a_picture_and_text(library: faultree.Library) -> None:
    shown = library.draw("stands", clock=lambda: CLOCK)
    bundle = shown._repr_mimebundle_()
    assert bundle["image/svg+xml"] == shown._repr_svg_() == shown.pages[0]
    assert bundle["text/plain"] == shown.text()
    assert "2026-11-25" in shown.pages[0]


def test_a_case_is_drawn_with_what_it_has_found(library: faultree.Library) -> None:
    case = library.case("stands").answer("measure", "yes")
    assert "excluded" in library.draw(case).text()
    assert "excluded" not in library.draw("stands").text()


def test_it_is_saved_as_the_ending_says(library: faultree.Library, tmp_path: Path) -> None:
    (path,) = library.draw("stands").save(tmp_path / "door.png", pixels=300)
    assert path.read_bytes().startswith(b"\x89PNG")


def test_sheets_are_numbered(tmp_path: Path) -> None:
    big = faultree.load(TREES).draw("spoilers/fault-lamp-on", paper="a4")
    paths = big.save(tmp_path / "lamp.svg")
    assert [path.name for path in paths] == [f"lamp-{number}.svg" for number in range(1, len(big.pages) + 1)]


def test_what_is_not_there_is_not_drawn(library: faultree.Library) -> None:
    with pytest.raises(UnknownName):
        library.draw("nothing")
