"""Places for boxes that are joined left to right, worked out by the graph engine."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping, Sequence

import graphviz

from faultree.diagrams.picture import Point
from faultree.diagrams.render import laid_out

INCH = 72.0

Size = tuple[float, float]
Placed = tuple[float, float, dict[str, Point], list[tuple[Point, ...]]]


PORT = 2
"""The height of the place at a box's edge where a link ends, in points."""


def placed(sizes: Mapping[str, Size], links: Sequence[tuple[str, str]], ends: Sequence[float] = ()) -> Placed:
    """Width, height, the upper left corner of each box, and the curve of each link, in points, y downwards.

    `ends` says for each link how far below its box's upper edge it ends; without them all end at the middle.
    Raises DrawingError where no engine is there. The same input gives the same places with the bundled engine.
    """
    names = {name: f"n{number}" for number, name in enumerate(sizes)}
    graph = graphviz.Digraph()
    graph.attr("graph", rankdir="LR", nodesep="0.14", ranksep="0.42", margin="0", pad="0")
    graph.attr("node", shape="box", fixedsize="true", label="")
    graph.attr("edge", arrowhead="none")
    ports: dict[str, set[int]] = {}
    for (_, head), end in zip(links, ends, strict=False):
        ports.setdefault(head, set()).add(round(end))
    for name, (w, h) in sizes.items():
        size = {"width": f"{w / INCH:.4f}", "height": f"{h / INCH:.4f}"}
        if name in ports:
            size = {"shape": "plain", "fixedsize": "false", "label": _table(w, h, sorted(ports[name]))}
        graph.node(names[name], **size)
    for number, (tail, head) in enumerate(links):
        port = f":p{round(ends[number])}" if ends else ""
        graph.edge(f"{names[tail]}:e", f"{names[head]}{port}:w", comment=str(number))
    return _read(laid_out(str(graph.source), "plain").decode(), sizes, links)


def _table(w: float, h: float, ports: Sequence[int]) -> str:
    """A box as a column of cells, a low one at each place where a link ends; the engine counts in whole points."""
    rows = "".join(_cells(round(w), round(h), ports))
    table = (
        f'BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="0" FIXEDSIZE="TRUE" WIDTH="{w:.0f}" HEIGHT="{h:.0f}"'
    )
    return f"<<TABLE {table}>{rows}</TABLE>>"


def _cells(w: int, h: int, ports: Sequence[int]) -> Iterator[str]:
    size = f'FIXEDSIZE="TRUE" WIDTH="{w}"'
    y = 0
    for port in ports:
        if port - PORT // 2 > y:
            yield f'<TR><TD {size} HEIGHT="{port - PORT // 2 - y}"></TD></TR>'
        y = port + PORT // 2
        yield f'<TR><TD PORT="p{port}" {size} HEIGHT="{PORT}"></TD></TR>'
    if h > y:
        yield f'<TR><TD {size} HEIGHT="{h - y}"></TD></TR>'


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
