"""A sheet as SVG: shapes, lines and text at their places, nothing that a viewer would run or fetch."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from html import escape

from faultree.diagrams.metrics import clean
from faultree.diagrams.palette import Paint, Theme, paint, paint_line, palette
from faultree.diagrams.picture import Line, Point, Shape, Sheet, baselines

FACES = "Arial, 'Liberation Sans', Arimo, Helvetica, 'DejaVu Sans', 'Noto Sans', sans-serif"
"""Faces in the order of wish; the text is measured so that the widest of them fits (`metrics`)."""


def svg(sheet: Sheet, theme: Theme = "light", described: str = "", size: tuple[int, int] | None = None) -> str:
    """The sheet as the text of an SVG file; `described` is read out by a screen reader, `size` another size in points.

    Each shape is a group with the full words as its title, an `id` and, where it stands for something in the
    library, `data-id`: the full id.
    """
    colours = palette(theme)
    w, h = _n(sheet.width), _n(sheet.height)
    wide, high = size or (w, h)
    sizes = f'width="{wide}pt" height="{high}pt" viewBox="0 0 {w} {h}" preserveAspectRatio="xMidYMin meet"'
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {sizes} font-family="{FACES}" role="img">',
        f"<title>{_text(sheet.name)}</title>",
        *([f"<desc>{_text(described)}</desc>"] if described else []),
        f'<rect width="100%" height="100%" fill="{colours.ground}"/>',
        *_lines(sheet.lines, theme),
        *_shapes(sheet.shapes, theme),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def identifier(name: str) -> str:
    """A full id or a key as an SVG id: `file/id` becomes `file.id`, other signs underscores.

    >>> identifier("slats/left lamp")
    'slats.left_lamp'
    """
    return "".join(sign if sign.isalnum() or sign in "-_." else "_" for sign in name.replace("/", "."))


def _shapes(shapes: Iterable[Shape], theme: Theme) -> Iterator[str]:
    seen: Counter[str] = Counter()
    for shape in shapes:
        name = identifier(shape.id)
        seen[name] += 1
        if seen[name] > 1:
            name = f"{name}_{seen[name]}"
        source = f' data-id="{_text(shape.source)}"' if shape.source else ""
        state = f' data-state="{shape.state}"' if shape.state else ""
        title = f"<title>{_text(shape.title)}</title>" if shape.title else ""
        yield f'<g id="{name}"{source}{state}>{title}{_outline(shape, theme)}{_words(shape, theme)}</g>'


def _outline(shape: Shape, theme: Theme) -> str:
    look = paint(shape, theme)
    style = _style(look)
    x, y, w, h = shape.x, shape.y, shape.w, shape.h
    match shape.form:
        case "text":
            return ""
        case "box":
            return f'<rect x="{_n(x)}" y="{_n(y)}" width="{_n(w)}" height="{_n(h)}"{style}/>'
        case "round":
            size = f'x="{_n(x)}" y="{_n(y)}" width="{_n(w)}" height="{_n(h)}"'
            # A terminator of many lines keeps corners that leave room for its text.
            return f'<rect {size} rx="{_n(min(w, h, 4 * shape.size) / 2)}"{style}/>'
        case "circle":
            return f'<ellipse cx="{_n(x + w / 2)}" cy="{_n(y + h / 2)}" rx="{_n(w / 2)}" ry="{_n(h / 2)}"{style}/>'
        case "bracket":
            return f'<path d="{_path([(x + 5, y), (x, y), (x, y + h), (x + 5, y + h)])}" fill="none"{_stroke(look)}/>'
        case "bar":
            return _bar(shape, theme)
        case _:
            return f'<path d="{_path(corners(shape))}Z"{style}/>'


def corners(shape: Shape) -> list[Point]:
    """The corners of a diamond, house, triangle or hexagon."""
    x, y, w, h = shape.x, shape.y, shape.w, shape.h
    if shape.form == "diamond":
        return [(x + w / 2, y), (x + w, y + h / 2), (x + w / 2, y + h), (x, y + h / 2)]
    if shape.form == "house":
        return [(x + w / 2, y), (x + w, y + h * 0.36), (x + w, y + h), (x, y + h), (x, y + h * 0.36)]
    if shape.form == "triangle":
        return [(x + w / 2, y), (x + w, y + h), (x, y + h)]
    cut = min(h / 2, w / 5)
    return [(x + cut, y), (x + w - cut, y), (x + w, y + h / 2), (x + w - cut, y + h), (x + cut, y + h), (x, y + h / 2)]


def _bar(shape: Shape, theme: Theme) -> str:
    colours = palette(theme)
    box = f'x="{_n(shape.x)}" y="{_n(shape.y)}" height="{_n(shape.h)}"'
    part = max(0.0, min(1.0, shape.value)) * shape.w
    return (
        f'<rect {box} width="{_n(shape.w)}" fill="{colours.ground}" stroke="{colours.line}" stroke-width="0.5"/>'
        f'<rect {box} width="{_n(part)}" fill="{colours.strong}"/>'
    )


def _words(shape: Shape, theme: Theme) -> str:
    if not shape.lines:
        return ""
    ink = paint(shape, theme).ink
    weight = ' font-weight="bold"' if shape.bold else ""
    anchor = ' text-anchor="middle"' if shape.align == "middle" else ""
    style = f'font-size="{_n(shape.size)}" fill="{ink}"{weight}{anchor}'
    return "".join(
        f'<text x="{_n(x)}" y="{_n(y)}" {style}{_direction(line)}>{_text(line)}</text>'
        for line, x, y in baselines(shape)
    )


def _direction(line: str) -> str:
    """Where a line begins is settled by the layout; its own first letter settles how it is read."""
    return ' style="unicode-bidi:plaintext"' if re.search("[\u0590-\u08ff\ufb1d-\ufefc]", line) else ""


def _lines(lines: Iterable[Line], theme: Theme) -> Iterator[str]:
    # The emphasised ones last, so that they lie on top where lines share a way.
    for line in sorted(lines, key=lambda one: one.state == "path"):
        look = paint_line(line, theme)
        points = list(line.points)
        end = _end(line, look, theme)
        way = _curve(points) if line.curved else _path(points)
        yield f'<path d="{way}" fill="none"{_stroke(look)}/>{end}'


def _end(line: Line, look: Paint, theme: Theme) -> str:
    if not line.ending or len(line.points) < 2:
        return ""
    (x0, y0), (x, y) = _apart(line.points)
    if line.ending == "ring":
        ground = palette(theme).ground
        length = max(((x - x0) ** 2 + (y - y0) ** 2) ** 0.5, 1e-6)
        cx, cy = x - (x - x0) / length * 3, y - (y - y0) / length * 3
        return f'<circle cx="{_n(cx)}" cy="{_n(cy)}" r="3" fill="{ground}" stroke="{look.stroke}" stroke-width="1"/>'
    return f'<path d="{_path(arrow((x0, y0), (x, y)))}Z" fill="{look.stroke}"/>'


def _apart(points: tuple[Point, ...]) -> tuple[Point, Point]:
    """The last point, and the last one before it that is somewhere else."""
    tip = points[-1]
    before = next(
        (one for one in reversed(points[:-1]) if abs(one[0] - tip[0]) + abs(one[1] - tip[1]) > 0.5), points[0]
    )
    return before, tip


def arrow(tail: Point, tip: Point, length: float = 6.0) -> list[Point]:
    """The three corners of an arrow head."""
    (x0, y0), (x, y) = tail, tip
    far = max(((x - x0) ** 2 + (y - y0) ** 2) ** 0.5, 1e-6)
    dx, dy = (x - x0) / far, (y - y0) / far
    back = (x - dx * length, y - dy * length)
    half = length * 0.38
    return [(x, y), (back[0] - dy * half, back[1] + dx * half), (back[0] + dy * half, back[1] - dx * half)]


def _style(look: Paint) -> str:
    return f' fill="{look.fill}"{_stroke(look)}'


def _stroke(look: Paint) -> str:
    dashes = ' stroke-dasharray="4 2.5"' if look.dashed else ""
    return f' stroke="{look.stroke}" stroke-width="{_n(look.weight)}"{dashes}'


def _path(points: Iterable[Point]) -> str:
    return "M" + "L".join(f"{_n(x)},{_n(y)}" for x, y in points)


def _curve(points: list[Point]) -> str:
    first, rest = points[0], points[1:]
    return f"M{_n(first[0])},{_n(first[1])}C" + " ".join(f"{_n(x)},{_n(y)}" for x, y in rest)


def _n(value: float) -> str:
    """A length with one hundredth of a point, without noughts that say nothing."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _text(words: str) -> str:
    return escape(clean(words), quote=True)
