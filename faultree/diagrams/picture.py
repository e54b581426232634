"""A drawing as a value: sheets with shapes and lines at their places, and the same as a plain outline."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from faultree.diagrams.metrics import LEADING

View = Literal["tree", "logic", "chart", "matrix"]
Form = Literal["box", "round", "circle", "diamond", "house", "triangle", "hexagon", "bracket", "bar", "text"]
Look = Literal[
    "plain",
    "top",
    "gate",
    "leaf",
    "note",
    "small",
    "frame",
    "transfer",
    "caution",
    "end",
    "step",
    "group",
    "mark",
    "tag",
    "inner",
]
"""What a shape is in the picture; a theme gives each its colours."""

State = Literal["", "cleared", "suspect", "path", "odd", "usual"]
"""What the evidence says of it: excluded, still possible, on the way from the likeliest cause to the report,
observed other than expected, observed as expected."""

Ending = Literal["", "arrow", "ring"]
Align = Literal["middle", "start"]
Point = tuple[float, float]

SIZE = 8.5
"""The type size of titles, in points."""

SMALL = 7.0
"""The type size of notes, in points."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A symbol with its text. `x`, `y` is the upper left corner; lengths are in points, y grows downwards.

    `title` holds the whole text where `lines` is broken or shortened, `source` the full id in the library.
    `value` is the filled part of a bar, from 0 to 1.
    """

    id: str
    form: Form
    x: float
    y: float
    w: float
    h: float
    lines: tuple[str, ...] = ()
    size: float = SIZE
    bold: bool = False
    align: Align = "middle"
    look: Look = "plain"
    state: State = ""
    title: str = ""
    source: str = ""
    value: float = 0.0

    @property
    def middle(self) -> Point:
        """The point in the middle."""
        return self.x + self.w / 2, self.y + self.h / 2


@dataclass(frozen=True, slots=True)
class Line:
    """A line between two shapes along its points; `curved` means that the points are those of cubic curves."""

    tail: str
    head: str
    points: tuple[Point, ...]
    ending: Ending = ""
    state: State = ""
    dashed: bool = False
    curved: bool = False
    label: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One page: its size in points, and what is on it. A page of paper is printed at this size."""

    number: int
    name: str
    width: float
    height: float
    shapes: tuple[Shape, ...]
    lines: tuple[Line, ...] = ()


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the outline: depth, symbol, words, a note behind them, and the state of the evidence."""

    depth: int
    mark: str
    words: str
    note: str = ""
    state: State = ""


@dataclass(frozen=True, slots=True)
class Vertex:
    """A node of the drawing's plain graph, for formats that place things themselves."""

    id: str
    form: Form
    words: str
    state: State = ""
    group: str = ""


@dataclass(frozen=True, slots=True)
class Arc:
    """An edge of the plain graph, from what is below (or before) to what is above (or after)."""

    tail: str
    head: str
    words: str = ""
    state: State = ""
    ending: Ending = "arrow"


@dataclass(frozen=True, slots=True)
class Plain:
    """The drawing without places: an outline to read, and a graph; `flow` is the direction that suits it."""

    outline: tuple[Entry, ...] = ()
    vertices: tuple[Vertex, ...] = ()
    arcs: tuple[Arc, ...] = ()
    flow: Literal["TB", "LR"] = "TB"


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes and lines that are placed together: from (0, 0) to (`w`, `h`)."""

    w: float
    h: float
    shapes: tuple[Shape, ...] = ()
    lines: tuple[Line, ...] = ()

    def moved(self, dx: float, dy: float) -> Group:
        """The same, further right and down; the size counts from the old corner."""
        return Group(self.w + dx, self.h + dy, *_changed(self, 1.0, dx, dy))

    def scaled(self, factor: float) -> Group:
        """The same, larger or smaller, with its text."""
        return Group(self.w * factor, self.h * factor, *_changed(self, factor, 0.0, 0.0))


def _changed(group: Group, factor: float, dx: float, dy: float) -> tuple[tuple[Shape, ...], tuple[Line, ...]]:
    shapes = tuple(
        replace(
            one,
            x=one.x * factor + dx,
            y=one.y * factor + dy,
            w=one.w * factor,
            h=one.h * factor,
            size=one.size * factor,
        )
        for one in group.shapes
    )
    lines = tuple(
        replace(one, points=tuple((x * factor + dx, y * factor + dy) for x, y in one.points)) for one in group.lines
    )
    return shapes, lines


def together(groups: Iterable[Group]) -> Group:
    """Groups as one, each where it stands."""
    some = list(groups)
    return Group(
        max((one.w for one in some), default=0.0),
        max((one.h for one in some), default=0.0),
        tuple(shape for one in some for shape in one.shapes),
        tuple(line for one in some for line in one.lines),
    )


def text_height(lines: int, size: float) -> float:
    """The height of so many lines of text, in points."""
    return lines * size * LEADING


def baselines(shape: Shape) -> Iterator[tuple[str, float, float]]:
    """Each line of a shape's text with the point that it is set at (its middle or beginning, on the baseline)."""
    step = shape.size * LEADING
    left = shape.x + shape.w / 2 if shape.align == "middle" else shape.x + (3.0 if shape.form != "text" else 0.0)
    top = shape.y + (shape.h - step * len(shape.lines)) / 2 + shape.size * 0.97
    if shape.form == "house":
        top += shape.h * 0.12
    if shape.form == "triangle":
        top += shape.h * 0.14
    for number, line in enumerate(shape.lines):
        yield line, left, top + number * step
