"""Paper: its sizes, which way it is turned, and how much of it a drawing may use."""

from __future__ import annotations

from dataclasses import dataclass

MM = 72 / 25.4

SIZES = {
    "a4": (210 * MM, 297 * MM),
    "a3": (297 * MM, 420 * MM),
    "letter": (612.0, 792.0),
    "legal": (612.0, 1008.0),
}
"""Width and height in points, upright (ISO 216; the letter and legal sizes of North America)."""

MARGIN = 30.0
"""What a usual printer cannot reach, and a little more, in points."""


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of paper as it lies: its name, width and height in points."""

    name: str
    width: float
    height: float

    @property
    def room(self) -> tuple[float, float]:
        """The width and height within the margins."""
        return self.width - 2 * MARGIN, self.height - 2 * MARGIN


def ways(name: str) -> tuple[Paper, Paper]:
    """A size of paper both ways, the landscape one first: most drawings are wider than they are high.

    >>> [round(paper.width) for paper in ways("a4")]
    [842, 595]
    """
    w, h = SIZES[name]
    return Paper(f"{name} landscape", h, w), Paper(f"{name} portrait", w, h)
