"""Small libraries to draw, and helpers that read a drawing back."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any, NamedTuple

from defusedxml import ElementTree

from faultree.diagrams.draw import draw
from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.metrics import width
from faultree.diagrams.picture import Point, Shape, Sheet, View, baselines
from faultree.diagrams.svg import svg
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.case import Case

DOOR = """
faultree: 1
title: Door
chapter: "52-10"
conditions:
  pressed: {title: button pressed}
situations:
  closing: {title: button held, sets: {pressed: yes}}
items:
  motor: {title: door motor, minutes: 40}
causes:
  fuse: {title: fuse blown, likelihood: remote}
  motor-dead: {title: motor dead, item: motor, rate: 1e-5, hours: 100}
  left-relay: {title: left relay stuck open, probability: 0.002}
  right-relay: {title: right relay stuck open, probability: 0.002}
  jammed: {title: door jammed, probability: 0.001}
signals:
  voltage: {title: voltage at the relays, follows: pressed, lost_if: [fuse]}
  left-path: {title: left relay closed, follows: voltage, lost_if: [left-relay]}
  right-path: {title: right relay closed, follows: voltage, lost_if: [right-relay]}
  running: {title: motor running, follows: {any: [left-path, right-path]}, lost_if: [motor-dead]}
  closing-door: {title: door moving, follows: running, lost_if: [jammed]}
  hatch: {title: hatch closed, undeveloped: yes}
cautions:
  fingers: {text: Keep hands clear of the door., level: warning}
checks:
  listen: {title: listen to the motor, ask: Does it hum?, situation: closing, reads: running, minutes: 1,
    cautions: [fingers]}
  measure: {title: measure at the relays, ask: Is there 28 V?, situation: closing, reads: voltage}
symptoms:
  stands: {title: the door stands still, situation: closing, sees: {closing-door: no}}
"""

SVG = "{http://www.w3.org/2000/svg}"

CLOCK = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)


def door(**changed: str) -> Library:
    """The library of a door, with texts of it replaced."""
    text = DOOR
    for old, new in changed.items():
        text = text.replace(old, new)
    return load_texts({"door.yaml": text})


def drawn(
    library: Library, symptom: str, view: View = "tree", answers: dict[str, str] | None = None, **more: Any
) -> Drawing:
    """A drawing with a fixed date."""
    name = library.symptom_id(symptom)
    case = None
    if answers is not None:
        case = Case.open(library, [name])
        for check, answer in answers.items():
            case = case.answer(check, answer)
    return draw(Request(library, name, evidence_of(case), version="faultree 0.1.0", made=CLOCK, **more), view)


def parsed(sheet: Sheet) -> Any:
    """The sheet's SVG, read by a parser that refuses anything but plain XML."""
    return ElementTree.fromstring(svg(sheet))


def words(drawing: Drawing) -> str:
    """All texts of a drawing's SVG, with the lines of each shape joined by spaces."""
    groups = (group for sheet in drawing.sheets for group in parsed(sheet).iter(f"{SVG}g"))
    return "\n".join(" ".join(one.text or "" for one in group.iter(f"{SVG}text")) for group in groups)


def squeezed(text: str) -> str:
    """A text without spaces, so that broken lines compare."""
    return re.sub(r"\s+", "", text)


class Ink(NamedTuple):
    """Where a line of text really is: the shape it belongs to, and its edges."""

    name: str
    left: float
    top: float
    right: float
    bottom: float


def ink(shape: Shape) -> Iterator[Ink]:
    """The room that each line of a shape's text takes, by the measure of the layout."""
    for line, x, y in baselines(shape):
        wide = width(line, shape.size, bold=shape.bold)
        left = x - wide / 2 if shape.align == "middle" else x
        yield Ink(shape.id, left, y - shape.size * 0.74, left + wide, y + shape.size * 0.22)


def overlaps(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """What a reader would stumble over: texts on each other, texts that leave their shape, lines through texts."""
    texts = [one for shape in sheet.shapes for one in ink(shape)]
    yield from (
        (one.name, other.name) for place, one in enumerate(texts) for other in texts[place + 1 :] if _meet(one, other)
    )
    yield from ((shape.id, "its own edge") for shape in sheet.shapes for one in ink(shape) if _leaves(one, shape))
    for line in sheet.lines:
        points = along(line.points) if line.curved else line.points
        for (x0, y0), (x1, y1) in pairwise(points):
            way = Ink("", min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
            yield from ((f"{line.tail}>{line.head}", one.name) for one in texts if _meet(one, way))


def _meet(one: Ink, other: Ink) -> bool:
    slack = 0.3
    beside = one.right - slack <= other.left or other.right - slack <= one.left
    return not beside and one.bottom - slack > other.top and other.bottom - slack > one.top


def _leaves(one: Ink, shape: Shape) -> bool:
    """Whether a text reaches over the edge of its shape (its middle, where the shape is no rectangle)."""
    aside = shape.x - 0.5 > one.left or one.right > shape.x + shape.w + 0.5
    return aside or shape.y - 1.0 > one.top or one.bottom > shape.y + shape.h + 1.0


def along(points: Sequence[Point]) -> list[Point]:
    """Places along cubic curves, close together."""
    found = [points[0]]
    for start in range(0, len(points) - 1, 3):
        a, b, c, d = points[start : start + 4]
        for step in range(1, 13):
            t = step / 12
            u = 1 - t
            weights = (u**3, 3 * u * u * t, 3 * u * t * t, t**3)
            x, y = (sum(w * p[axis] for w, p in zip(weights, (a, b, c, d), strict=True)) for axis in (0, 1))
            found.append((x, y))
    return found
