"""The colours and strokes of a drawing: what each look and state becomes in the light and the dark theme.

No state is shown by colour alone: it also has a line style, a weight, or words. In grey, fills stay lighter than the
text on them by a contrast of 4.5 or more (`tests/diagrams/test_palette.py` computes it).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from faultree.diagrams.picture import Line, Shape

Theme = Literal["light", "dark"]


@dataclass(frozen=True, slots=True)
class Paint:
    """How something is painted: fill, stroke, text colour, stroke width in points, and dashes."""

    fill: str
    stroke: str
    ink: str
    weight: float = 0.8
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Palette:
    """The named colours of one theme."""

    ground: str
    ink: str
    soft: str
    line: str
    faint: str
    top: str
    gate: str
    leaf: str
    caution: str
    suspect: str
    strong: str
    odd: str


LIGHT = Palette(
    ground="#ffffff",
    ink="#17212b",
    soft="#55606b",
    line="#3c4854",
    faint="#a9b1b8",
    top="#dfe8ee",
    gate="#f1eee4",
    leaf="#ffffff",
    caution="#fbeecb",
    suspect="#fdf3e3",
    strong="#9a4a12",
    odd="#cfe3f3",
)
DARK = Palette(
    ground="#12181d",
    ink="#eef1ee",
    soft="#aab4ba",
    line="#98a5ad",
    faint="#59646c",
    top="#25414f",
    gate="#2f2e26",
    leaf="#1a2228",
    caution="#4a3b12",
    suspect="#3a2a17",
    strong="#f0a35c",
    odd="#1e3f5c",
)
_THEMES = {"light": LIGHT, "dark": DARK}


def palette(theme: Theme) -> Palette:
    """The colours of a theme."""
    return _THEMES[theme]


def paint(shape: Shape, theme: Theme) -> Paint:
    """How a shape is painted: first by its look, then changed by what the evidence says of it."""
    colours = palette(theme)
    base = _look(shape, colours)
    if shape.form == "text" and shape.look != "tag":
        return Paint("none", "none", colours.soft if shape.look in ("small", "note") else colours.ink)
    if shape.state == "cleared":
        return Paint(colours.ground, colours.faint, colours.soft, 0.7, dashed=True)
    if shape.state == "path":
        return Paint(colours.suspect, colours.strong, base.ink, 2.0)
    if shape.state == "suspect":
        return Paint(colours.suspect, colours.line, base.ink, 1.1)
    if shape.state == "odd":
        return Paint(colours.odd, colours.ink, base.ink, 1.6)
    return base


def _look(shape: Shape, colours: Palette) -> Paint:
    fills = {
        "top": colours.top,
        "gate": colours.gate,
        "mark": colours.gate,
        "leaf": colours.leaf,
        "caution": colours.caution,
        "group": "none",
        "frame": "none",
        "inner": "none",
        "end": colours.top,
        "tag": colours.ground,
    }
    stroke = {"frame": colours.faint, "tag": colours.ground}.get(shape.look, colours.line)
    weights = {"top": 1.5, "group": 1.6, "frame": 0.6}
    return Paint(fills.get(shape.look, colours.ground), stroke, colours.ink, weights.get(shape.look, 0.8))


def paint_line(line: Line, theme: Theme) -> Paint:
    """How a line is painted."""
    colours = palette(theme)
    if line.state == "path":
        return Paint("none", colours.strong, colours.strong, 2.2, line.dashed)
    if line.state == "cleared":
        return Paint("none", colours.faint, colours.faint, 0.7, dashed=True)
    return Paint("none", colours.line, colours.line, 0.8, line.dashed)
