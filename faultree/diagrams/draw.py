"""From a symptom and a view to a drawing, and from a drawing to the bytes of a file."""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from pathlib import PurePath
from typing import TYPE_CHECKING

from faultree.diagrams import render
from faultree.diagrams.chart import chart_drawing
from faultree.diagrams.dot import dot, dot_sheet
from faultree.diagrams.drawing import Drawing, DrawingError, Request
from faultree.diagrams.frame import NOTICE
from faultree.diagrams.logic import logic_drawing
from faultree.diagrams.matrix import matrix_drawing
from faultree.diagrams.mermaid import mermaid
from faultree.diagrams.outline import outline
from faultree.diagrams.svg import svg
from faultree.diagrams.tree import tree_drawing
from faultree.logic.derive import fault_tree
from faultree.strategy.chart.compile import LEAST, compile_chart
from faultree.strategy.testability import assess

if TYPE_CHECKING:
    from faultree.diagrams.picture import View
    from faultree.strategy.chart.value import Chart

FORMATS = ("svg", "pdf", "png", "gv", "mmd", "txt")
"""The endings of the files that can be written."""

INCH = 72.0

VIEWS: tuple[View, ...] = ("tree", "logic", "chart", "matrix")

TO_A_POINT = 2.0
"""So many pixels to a point a PNG has where no width was asked for: 144 to an inch of paper."""

WIDEST = 12_000
"""A PNG that was given no width is not made wider than this, in pixels."""


def draw(asked: Request, view: View = "tree") -> Drawing:
    """A drawing of a symptom; DrawingError where it would be too large."""
    return _VIEWS[view](asked)


def _tree(asked: Request) -> Drawing:
    return tree_drawing(asked, fault_tree(asked.library, asked.symptom))


def _chart(asked: Request) -> Drawing:
    return chart_drawing(asked, chart_of(asked))


def chart_of(asked: Request) -> Chart:
    """The chart that is asked for, of all reports of the case where there are several."""
    least = LEAST if asked.cut is None else asked.cut
    names = dict.fromkeys((asked.symptom, *asked.evidence.symptoms))
    return compile_chart(asked.library, names, asked.goal, asked.by, least=least)


def _matrix(asked: Request) -> Drawing:
    return matrix_drawing(asked, assess(asked.library, asked.symptom))


_VIEWS: dict[View, Callable[[Request], Drawing]] = {
    "tree": _tree,
    "logic": logic_drawing,
    "chart": _chart,
    "matrix": _matrix,
}


def format_of(name: str) -> str:
    """The format that a file's ending asks for; DrawingError for an ending that is none.

    >>> format_of("tree.SVG")
    'svg'
    """
    ending = PurePath(name).suffix.lower().removeprefix(".")
    ending = {"dot": "gv", "mermaid": "mmd", "text": "txt"}.get(ending, ending)
    if ending not in FORMATS:
        raise DrawingError(
            f"'{name}' does not end as a drawing does; end it in one of {', '.join(FORMATS)} "
            "(or html, for a tree or a chart)"
        )
    return ending


def files(drawing: Drawing, form: str, pixels: int | None = None, width: int = 80) -> tuple[bytes, ...]:
    """The drawing in a format, as the contents of one file, or of one for each sheet (SVG and PNG).

    `pixels` is the width of a PNG, `width` that of text in columns.
    """
    if form == "svg":
        return tuple(svg(one, drawing.theme, NOTICE).encode() for one in drawing.sheets)
    if form == "png":
        return tuple(_png(drawing, number, pixels) for number in range(len(drawing.sheets)))
    if form == "pdf":
        return (_pdf(drawing),)
    text = {"gv": dot, "mmd": mermaid}.get(form)
    return ((text(drawing) if text else outline(drawing, width)).encode(),)


def _png(drawing: Drawing, number: int, wanted: int | None) -> bytes:
    sheet = drawing.sheets[number]
    pixels = wanted or min(WIDEST, round(sheet.width * TO_A_POINT))
    factor = pixels / sheet.width
    if render.has_typst():
        # A whole number of pixels each way: otherwise the typesetter leaves out a row of them, through letters.
        return render.png(svg(sheet, drawing.theme, size=(pixels, ceil(sheet.height * factor))))
    return render.laid_out(dot_sheet(sheet, drawing.theme, INCH * factor), "png", places_kept=True)


def _pdf(drawing: Drawing) -> bytes:
    if render.has_typst():
        return render.pdf([svg(one, drawing.theme) for one in drawing.sheets])
    if len(drawing.sheets) == 1 and render.engines():
        try:
            return render.laid_out(dot(drawing), "pdf", places_kept=True)
        except DrawingError as error:
            raise DrawingError(render.NO_PDF) from error
    raise DrawingError(render.NO_PDF)
