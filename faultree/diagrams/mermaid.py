"""A drawing as a Mermaid flowchart: its plain graph, for pages that draw it by themselves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from faultree.diagrams.drawing import Drawing, DrawingError
from faultree.diagrams.frame import NOTICE
from faultree.diagrams.metrics import clean
from faultree.diagrams.palette import Palette, palette
from faultree.diagrams.picture import Arc, Form, Vertex

MOST_EDGES = 500
"""What draws Mermaid refuses more edges by default."""

_BRACKETS: dict[Form, tuple[str, str]] = {
    "box": ("[", "]"),
    "round": ("([", "])"),
    "circle": ("((", "))"),
    "diamond": ("{", "}"),
    "house": ("[/", "\\]"),
    "triangle": (">", "]"),
    "hexagon": ("{{", "}}"),
}


def mermaid(drawing: Drawing) -> str:
    """The flowchart as text, the same for the same drawing; DrawingError where it has too many edges."""
    plain = drawing.plain
    if len(plain.arcs) > MOST_EDGES:
        raise DrawingError(
            f"this drawing has {len(plain.arcs)} edges, and Mermaid draws {MOST_EDGES} at most; "
            "write .svg or .pdf, or draw only the upper levels with depth 4"
        )
    names = {vertex.id: f"n{number}" for number, vertex in enumerate(plain.vertices)}
    lines = [
        f"%% {_comment(drawing.title)}",
        f"%% {NOTICE}",
        f"flowchart {plain.flow}",
        *_vertices(plain.vertices, names),
        *(f"  {_edge(arc, names)}" for arc in plain.arcs if arc.tail in names and arc.head in names),
        *_classes(plain.vertices, names, palette(drawing.theme)),
    ]
    return "\n".join(lines) + "\n"


def _vertices(vertices: Iterable[Vertex], names: dict[str, str]) -> Iterator[str]:
    """The nodes, those of a group inside a box of its own."""
    group = ""
    for vertex in sorted(vertices, key=lambda one: one.group):
        if vertex.group != group:
            if group:
                yield "  end"
            group = vertex.group
            yield f'  subgraph g{names[vertex.id][1:]}["{escaped(group)}"]'
        left, right = _BRACKETS.get(vertex.form, ("[", "]"))
        yield f'  {names[vertex.id]}{left}"{escaped(vertex.words)}"{right}'
    if group:
        yield "  end"


def escaped(words: str) -> str:
    r"""Author's words within Mermaid's quotes: signs that it or a browser would obey as number codes.

    >>> escaped('a "b" <c>\nd')
    'a #34;b#34; #60;c#62;<br/>d'
    """
    return "<br/>".join("".join(_sign(sign) for sign in clean(line)) for line in words.split("\n"))


def _sign(sign: str) -> str:
    return f"#{ord(sign)};" if sign in '"<>&#;`[]{}()|\\%$*_' else sign


def _comment(words: str) -> str:
    """Words behind a comment's sign; braces there would begin a directive."""
    return clean(words).replace("{", "(").replace("}", ")")


def _edge(arc: Arc, names: dict[str, str]) -> str:
    line = {"": "---", "arrow": "-->", "ring": "--o"}[arc.ending]
    if arc.state == "path":
        line = {"": "===", "arrow": "==>", "ring": "==o"}[arc.ending]
    words = f'|"{escaped(arc.words)}"|' if arc.words else ""
    return f"{names[arc.tail]} {line}{words} {names[arc.head]}"


def _classes(vertices: Iterable[Vertex], names: dict[str, str], colours: Palette) -> Iterator[str]:
    styles = {
        "cleared": f"fill:{colours.ground},stroke:{colours.faint},color:{colours.soft},stroke-dasharray:4 3",
        "suspect": f"fill:{colours.suspect},stroke:{colours.line},color:{colours.ink}",
        "path": f"fill:{colours.suspect},stroke:{colours.strong},color:{colours.ink},stroke-width:3px",
        "odd": f"fill:{colours.odd},stroke:{colours.ink},color:{colours.ink},stroke-width:2px",
    }
    for state, style in styles.items():
        found = [names[vertex.id] for vertex in vertices if vertex.state == state]
        if found:
            yield f"  classDef {state} {style}"
            yield f"  class {','.join(found)} {state}"
