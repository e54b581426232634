"""Places for boxes that are joined left to right, worked out by the graph engine."""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence

import graphviz

from faultree.diagrams.picture import Point
from faultree.diagrams.render import laid_out

INCH = 72.0

Size = tuple[float, float]
Placed = tuple[float, float, dict[str, Point], list[tuple[Point, ...]]]


def placed(sizes: Mapping[str, Size], links: Sequence[tuple[str, str]]) -> Placed:
    """Width, height, the upper left corner of each box, and the curve of each link, in points, y downwards.

    Raises DrawingError where no engine is there. The same input gives the same places with the bundled engine.
    """
    names = {name: f"n{number}" for number, name in enumerate(sizes)}
    graph = graphviz.Digraph()
    graph.attr("graph", rankdir="LR", nodesep="0.14", ranksep="0.42", margin="0", pad="0")
    graph.attr("node", shape="box", fixedsize="true", label="")
    graph.attr("edge", arrowhead="none")
    for name, (w, h) in sizes.items():
        graph.node(names[name], width=f"{w / INCH:.4f}", height=f"{h / INCH:.4f}")
    for number, (tail, head) in enumerate(links):
        graph.edge(f"{names[tail]}:e", f"{names[head]}:w", comment=str(number))
    return _read(laid_out(str(graph.source), "plain").decode(), sizes, links)


def _read(text: str, sizes: Mapping[str, Size], links: Sequence[tuple[str, str]]) -> Placed:
    """The engine's plain listing, in inches and upwards, turned around."""
    by_name = {f"n{number}": name for number, name in enumerate(sizes)}
    width, height = 0.0, 0.0
    corners: dict[str, Point] = {}
    found: dict[tuple[str, str], list[tuple[Point, ...]]] = {}
    for line in text.splitlines():
        words = shlex.split(line)
        if words[0] == "graph":
            width, height = float(words[2]) * INCH, float(words[3]) * INCH
        elif words[0] == "node":
            name = by_name[words[1]]
            w, h = sizes[name]
            corners[name] = (float(words[2]) * INCH - w / 2, height - float(words[3]) * INCH - h / 2)
        elif words[0] == "edge":
            count = int(words[3])
            numbers = [float(word) * INCH for word in words[4 : 4 + 2 * count]]
            points = tuple((x, height - y) for x, y in zip(numbers[::2], numbers[1::2], strict=True))
            key = by_name[words[1]], by_name[words[2]]
            found.setdefault(key, []).append(points)
    return width, height, corners, [found[link].pop(0) for link in links]
