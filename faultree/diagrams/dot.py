"""A drawing as DOT: its nodes and edges with their places, so that any engine of that language draws the same.

`neato -n2` keeps the places as they are; `dot` and the others lay the same graph out anew. A line's way is
written as the spline that it is drawn with.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

import graphviz

from faultree.diagrams.drawing import Drawing
from faultree.diagrams.metrics import clean
from faultree.diagrams.palette import Theme, paint, paint_line, palette
from faultree.diagrams.picture import Form, Line, Point, Shape, Sheet

FACE = "Helvetica"
BOLD_FACE = "Helvetica-Bold"

BACK = 6.0
"""The head of an arrow or ring takes the last points of a line, in points."""

INCH = 72.0

_SHAPES: dict[Form, str] = {
    "box": "box",
    "round": "box",
    "circle": "ellipse",
    "diamond": "diamond",
    "house": "house",
    "triangle": "triangle",
    "hexagon": "hexagon",
    "bracket": "box",
    "bar": "box",
    "text": "plaintext",
}


def dot(drawing: Drawing) -> str:
    """The sheets of a drawing as DOT graphs, one after the other."""
    return "\n".join(dot_sheet(sheet, drawing.theme) for sheet in drawing.sheets)


def dot_sheet(sheet: Sheet, theme: Theme = "light", dpi: float = 96.0) -> str:
    """One sheet as a DOT graph, the same text for the same sheet."""
    graph = graphviz.Digraph(f"sheet {sheet.number}")
    colours = palette(theme)
    graph.attr(
        "graph", label="", bgcolor=colours.ground, splines="true", pad="0", dpi=f"{dpi:g}", outputorder="edgesfirst"
    )
    graph.attr("node", fontname=FACE, fixedsize="true", margin="0", style="filled")
    graph.attr("edge", fontname=FACE, arrowsize="0.6")
    labels = _labels(sheet.shapes)
    inside = {one.id for some in labels.values() for one in some}
    for name, point in [("sheet-corner-1", (0.0, 0.0)), ("sheet-corner-2", (sheet.width, sheet.height))]:
        graph.node(name, "", **_unseen(point, sheet))  # two points that keep the size of the sheet
    for shape in sheet.shapes:
        if shape.id not in inside:
            graph.node(shape.id, _label(shape, labels.get(shape.id, ())), **_node(shape, sheet, theme))
    names = {shape.id for shape in sheet.shapes}
    for number, line in enumerate(sorted(sheet.lines, key=lambda one: one.state == "path")):
        tail, head = line.tail, line.head
        if not {tail, head} <= names:
            # A line of the legend joins nothing: it runs between two points of its own.
            tail, head = f"sample-line-{number}-a", f"sample-line-{number}-b"
            graph.node(tail, "", **_unseen(line.points[0], sheet))
            graph.node(head, "", **_unseen(line.points[-1], sheet))
        graph.edge(_port(tail), _port(head), **_edge(line, sheet, theme))
    return str(graph.source)


def _unseen(point: Point, sheet: Sheet) -> dict[str, str]:
    return {"pos": _at(point, sheet), "width": "0.01", "height": "0.01", "style": "invis"}


def _labels(shapes: Iterable[Shape]) -> dict[str, list[Shape]]:
    """Texts that become the label of the shape that they stand in: where all that stands in it is set to its middle."""
    table = {shape.id: shape for shape in shapes}
    inner: dict[str, list[Shape]] = {}
    for shape in table.values():
        owner = table.get(shape.id.partition("!")[0])
        if "!" in shape.id and owner is not None and _within(shape, owner):
            inner.setdefault(owner.id, []).append(shape)
    return {
        name: some for name, some in inner.items() if all(one.form == "text" and one.align == "middle" for one in some)
    }


def _within(shape: Shape, owner: Shape) -> bool:
    if owner.form in ("text", "bar"):
        return False
    across = owner.x - 1 <= shape.x and shape.x + shape.w <= owner.x + owner.w + 1
    return across and owner.y <= shape.y + 1 and shape.y + shape.h <= owner.y + owner.h + 1


def _label(shape: Shape, inner: Sequence[Shape]) -> str:
    """The words of a shape, those that stand in it included."""
    lines = [*shape.lines, *(line for one in inner for line in one.lines)]
    escaped = [str(graphviz.escape(clean(line))) for line in lines]
    if shape.align == "middle":
        return str(graphviz.nohtml("\\n".join(escaped)))
    # Left-aligned lines each end in a sign of their own; in a frame they keep away from its edge.
    lead = "" if shape.form == "text" else " "
    return str(graphviz.nohtml("".join(f"{lead}{line}\\l" for line in escaped)))


def _node(shape: Shape, sheet: Sheet, theme: Theme) -> dict[str, str]:
    look = paint(shape, theme)
    found = {
        "id": shape.id,
        "shape": _SHAPES[shape.form],
        "pos": _at(shape.middle, sheet),
        "width": f"{shape.w / INCH:.4f}",
        "height": f"{shape.h / INCH:.4f}",
        "fontsize": f"{shape.size:.1f}",
        "fontcolor": look.ink,
    }
    styles = ["filled"]
    if look.fill == "none" or shape.form in ("text", "bracket"):
        styles = ["solid"]
    else:
        found["fillcolor"] = look.fill
    if shape.form == "bar":
        found["fillcolor"] = _bar(shape, theme)
        styles = ["striped"]
    if look.stroke != "none":
        found |= {"color": look.stroke, "penwidth": f"{look.weight:g}"}
    styles += [*(["dashed"] if look.dashed else []), *(["rounded"] if shape.form == "round" else [])]
    if shape.bold:
        found["fontname"] = BOLD_FACE
    if shape.title:
        found["tooltip"] = graphviz.escape(clean(shape.title))
    return found | {"style": ",".join(styles)}


def _bar(shape: Shape, theme: Theme) -> str:
    colours = palette(theme)
    part = max(0.001, min(0.999, shape.value))
    return f"{colours.strong};{part:.3f}:{colours.ground}"


def _edge(line: Line, sheet: Sheet, theme: Theme) -> dict[str, str]:
    look = paint_line(line, theme)
    ends = {"": "none", "arrow": "normal", "ring": "odot"}
    found = {
        "pos": " ".join(_spline(line, sheet)),
        "color": look.stroke,
        "penwidth": f"{look.weight:g}",
        "arrowhead": ends[line.ending],
    }
    return found | ({"style": "dashed"} if look.dashed else {})


def _spline(line: Line, sheet: Sheet) -> Iterator[str]:
    """The points of the curve; a straight line is one with its inner points on itself."""
    points = list(line.points)
    if line.ending:
        yield f"e,{_at(points[-1], sheet)}"
        points[-1] = _before(points)
    if line.curved:
        yield from (_at(point, sheet) for point in points)
        return
    yield _at(points[0], sheet)
    for (x0, y0), (x1, y1) in pairwise(points):
        for part in (1 / 3, 2 / 3, 1.0):
            yield _at((x0 + (x1 - x0) * part, y0 + (y1 - y0) * part), sheet)


def _before(points: list[Point]) -> Point:
    """The place where the head of a line begins."""
    (x0, y0), (x, y) = points[-2], points[-1]
    far = ((x - x0) ** 2 + (y - y0) ** 2) ** 0.5
    part = min(BACK / far, 0.9) if far else 0.0
    return x - (x - x0) * part, y - (y - y0) * part


def _at(point: Point, sheet: Sheet) -> str:
    """A point as DOT counts: upwards."""
    return f"{point[0]:.2f},{sheet.height - point[1]:.2f}"


def _port(name: str) -> str:
    """A node's name as an edge takes it: a colon would begin a port."""
    return graphviz.quoting.quote(name) if ":" in name else name
