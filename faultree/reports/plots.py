"""Small plots as SVG for a page: bars with their figures, readable in black and white, with a text for every bar.

They are as wide as a phone shows them, so that nothing has to be made smaller or moved sideways there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from html import escape
from textwrap import wrap
from typing import NamedTuple

WIDTH, LINE, THIN, GAP = 360, 15, 11, 7
"""Sizes in the units of the drawing: of the whole, of a line of a label, of a bar, and between two rows."""

FIGURES = 116
"""The room for a figure behind the longest bar."""

LINE_SIGNS = 52
"""Signs of a label on a line."""

INK, FIRST, SECOND = "#17212b", "#9a4a12", "#ffffff"


class Row(NamedTuple):
    """A label with one figure, or two to be compared, and each figure in words."""

    label: str
    values: tuple[float, ...]
    said: tuple[str, ...]


def bars(title: str, rows: Sequence[Row], top: float | None = None) -> str:
    """Horizontal bars below their labels; the second of a row is hollow.

    `top` is the value of a full bar (default: the largest).
    """
    full = top or max((value for row in rows for value in row.values), default=0.0) or 1.0
    parts: list[str] = []
    y = 2
    for row in rows:
        lines = wrap(row.label, LINE_SIGNS) or [""]
        parts += _row(row, lines, y, full)
        y += LINE * len(lines) + THIN * len(row.values) + GAP
    return _svg(title, y + 2, parts)


def _row(row: Row, lines: Sequence[str], y: int, full: float) -> Iterator[str]:
    yield f"<g><title>{escape(row.label)}: {escape(', '.join(row.said))}</title>"
    for place, line in enumerate(lines, 1):
        yield f'<text x="0" y="{y + LINE * place - 4}">{escape(line)}</text>'
    top = y + LINE * len(lines)
    for place, (value, said) in enumerate(zip(row.values, row.said, strict=True)):
        length = max((WIDTH - FIGURES) * min(value / full, 1.0), 1.0)
        at = top + place * THIN
        fill = SECOND if place else FIRST
        yield f'<rect x="0" y="{at}" width="{length:.1f}" height="{THIN - 2}" fill="{fill}" stroke="{INK}"/>'
        yield f'<text x="{length + 5:.1f}" y="{at + 8.5}" class="figure">{escape(said)}</text>'
    yield "</g>"


def columns(title: str, rows: Sequence[Row]) -> str:
    """Upright bars side by side, for what goes on over time; of a label what differs from the one before is shown."""
    full = max((row.values[0] for row in rows), default=0.0) or 1.0
    step = min(WIDTH / max(len(rows), 1), 60.0)
    before = ("", *(row.label for row in rows))
    parts = [
        part
        for place, (row, last) in enumerate(zip(rows, before, strict=False))
        for part in _column(row, last, place * step, step, full)
    ]
    return _svg(title, 144, parts)


def _column(row: Row, before: str, x: float, step: float, full: float) -> Iterator[str]:
    height, middle = 90.0 * row.values[0] / full, x + step / 2
    size = f'width="{step - 8:.1f}" height="{height:.1f}"'
    whole, _, part = row.label.rpartition("-")
    shown = whole if whole and whole != before.rpartition("-")[0] else ""
    yield f"<g><title>{escape(row.label)}: {escape(row.said[0])}</title>"
    yield f'<rect x="{x + 4:.1f}" y="{110 - height:.1f}" {size} fill="{FIRST}" stroke="{INK}"/>'
    for y, words in ((106 - height, row.said[0]), (124.0, part), (138.0, shown)):
        if words:
            yield f'<text x="{middle:.1f}" y="{y:.1f}" text-anchor="middle" class="figure">{escape(words)}</text>'
    yield "</g>"


def _svg(title: str, height: int, parts: Sequence[str]) -> str:
    style = f"text{{font:12px system-ui,sans-serif;fill:{INK}}}.figure{{font-size:11px}}"
    box = f'viewBox="0 0 {WIDTH} {height}" role="img" aria-label="{escape(title)}"'
    return f'<svg xmlns="http://www.w3.org/2000/svg" {box}><style>{style}</style>{"".join(parts)}</svg>'
