"""Small libraries to draw, and helpers that read a drawing back."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from itertools import pairwise
from typing import Any

from defusedxml import ElementTree

from faultree.diagrams.draw import draw
from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.picture import Point, Shape, Sheet, View
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


def overlaps(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """Pairs of texts that lie on each other, and lines that run through a text that is not their own."""
    texts = [one for one in sheet.shapes if one.lines]
    for place, one in enumerate(texts):
        yield from ((one.id, other.id) for other in texts[place + 1 :] if _overlap(one, other))
    for line in sheet.lines:
        points = _along(line.points) if line.curved else line.points
        for (x0, y0), (x1, y1) in pairwise(points):
            way = Shape("line", "box", min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0))
            yield from ((f"{line.tail}>{line.head}", one.id) for one in texts if _overlap(_words(one), way))


def _along(points: Sequence[Point]) -> list[Point]:
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


def _words(shape: Shape) -> Shape:
    """The middle of a shape, where its words are: a line may end at its edge."""
    if shape.form == "text":
        return shape
    return Shape(shape.id, "text", shape.x + 2, shape.y + 2, shape.w - 4, shape.h - 4)


def _overlap(one: Shape, other: Shape) -> bool:
    slack = 0.6
    return (
        one.x + slack < other.x + other.w
        and other.x + slack < one.x + one.w
        and one.y + slack < other.y + other.h
        and other.y + slack < one.y + one.h
    ) and not _nested(one, other)


def _nested(one: Shape, other: Shape) -> bool:
    """A title within its own box."""
    return one.id.partition("!")[0] == other.id.partition("!")[0]
