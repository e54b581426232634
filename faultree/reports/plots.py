"""Small plots as SVG for a page: bars with their figures, readable in black and white, with a text for every bar."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from typing import NamedTuple

WIDTH, LABEL, ROW, THIN = 640, 280, 26, 11
"""Sizes in the units of the drawing: of the whole, of the column of labels, of a row, and of a bar."""

FIGURES = 70
"""The room for a figure behind the longest bar."""

LINE_SIGNS = 44
"""Signs of a label on its line; more is cut off, and read in full by whoever points at it."""

INK, FIRST, SECOND = "#17212b", "#9a4a12", "#ffffff"


class Row(NamedTuple):
    """A label with one figure, or two to be compared, and each figure in words."""

    label: str
    values: tuple[float, ...]
    said: tuple[str, ...]


def bars(title: str, rows: Sequence[Row], top: float | None = None) -> str:
    """Horizontal bars; the second of a row is hollow. `top` is the value of a full bar (default: the largest)."""
    full = top or max((value for row in rows for value in row.values), default=0.0) or 1.0
    heights = [max(ROW, THIN * len(row.values) + 8) for row in rows]
    parts = [part for row, y in zip(rows, _starts(heights), strict=True) for part in _row(row, y, full)]
    return _svg(title, sum(heights) + 4, parts)


def _starts(heights: Sequence[int]) -> Iterator[int]:
    at = 2
    for height in heights:
        yield at
        at += height


def _row(row: Row, y: int, full: float) -> Iterator[str]:
    label = row.label if len(row.label) <= LINE_SIGNS else f"{row.label[: LINE_SIGNS - 1]}…"
    yield f"<g><title>{escape(row.label)}: {escape(', '.join(row.said))}</title>"
    yield f'<text x="{LABEL - 8}" y="{y + 15}" text-anchor="end">{escape(label)}</text>'
    for place, (value, said) in enumerate(zip(row.values, row.said, strict=True)):
        length = max((WIDTH - LABEL - FIGURES) * min(value / full, 1.0), 1.0)
        top = y + 5 + place * THIN
        fill = SECOND if place else FIRST
        yield f'<rect x="{LABEL}" y="{top}" width="{length:.1f}" height="{THIN - 2}" fill="{fill}" stroke="{INK}"/>'
        yield f'<text x="{LABEL + length + 5:.1f}" y="{top + 8.5}" class="figure">{escape(said)}</text>'
    yield "</g>"


def columns(title: str, rows: Sequence[Row]) -> str:
    """Upright bars side by side, for what goes on over time."""
    full = max((row.values[0] for row in rows), default=0.0) or 1.0
    step = WIDTH / max(len(rows), 1)
    return _svg(title, 132, [part for place, row in enumerate(rows) for part in _column(row, place * step, step, full)])


def _column(row: Row, x: float, step: float, full: float) -> Iterator[str]:
    height, middle = 90.0 * row.values[0] / full, x + step / 2
    size = f'width="{step - 8:.1f}" height="{height:.1f}"'
    yield f"<g><title>{escape(row.label)}: {escape(row.said[0])}</title>"
    yield f'<rect x="{x + 4:.1f}" y="{110 - height:.1f}" {size} fill="{FIRST}" stroke="{INK}"/>'
    for y, words in ((106 - height, row.said[0]), (126.0, row.label)):
        yield f'<text x="{middle:.1f}" y="{y:.1f}" text-anchor="middle" class="figure">{escape(words)}</text>'
    yield "</g>"


def _svg(title: str, height: int, parts: Sequence[str]) -> str:
    style = f"text{{font:12px system-ui,sans-serif;fill:{INK}}}.figure{{font-size:10px}}"
    box = f'viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{escape(title)}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}><style>{style}</style>{"".join(parts)}</svg>'
