"""What stands around a drawing on every sheet: the title block, the answers of the case, and the legend."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from faultree.diagrams.metrics import width, wrap
from faultree.diagrams.paper import MARGIN, Paper
from faultree.diagrams.picture import SMALL, Form, Group, Look, Shape, Sheet, State, text_height, together

NOTICE = "Training aid. The approved maintenance manual governs, and a licensed engineer decides."

HEAD = 11.0
"""The type size of the drawing's title."""

GAP = 8.0

MOST_STEPS = 12
"""The title block shows so many answers of a case at most, the last ones."""

ROW = 16.0
"""The height of a row of the legend, in points."""


@dataclass(frozen=True, slots=True)
class Block:
    """The words of a title block."""

    title: str
    view: str
    system: str = ""
    situation: str = ""
    version: str = ""
    made: datetime | None = None
    steps: tuple[str, ...] = ()
    scale: str = ""
    reports: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sample:
    """One line of the legend: a symbol of the drawing (at most 28 by 18 points), and what it means."""

    symbol: Group
    words: str


@dataclass(frozen=True, slots=True)
class Frame:
    """Everything around the drawing, for a width: what stands above it and below it."""

    block: Block
    legend: tuple[Sample, ...] = ()

    def above(self, room: float, number: int, count: int) -> Group:
        """The title block, `room` points wide."""
        factor = _factor(room)
        return _title_block(self.block, room / factor, number, count).scaled(factor)

    def below(self, room: float) -> Group:
        """The legend, as high as its lines need."""
        factor = _factor(room)
        return _legend(self.legend, room / factor).scaled(factor)

    def height(self, room: float) -> float:
        """What the frame takes from the height of a sheet, gaps included."""
        return self.above(room, 1, 1).h + self.below(room).h + 2 * GAP


def _factor(room: float) -> float:
    """How much larger the frame is on a wide sheet, which is looked at from further away."""
    return min(2.0, max(1.0, room / 1000.0))


def sheet(frame: Frame, content: Group, number: int, count: int, paper: Paper | None, least: float = 420.0) -> Sheet:
    """A sheet with its frame: on paper of a size, or as large as the content needs."""
    room = paper.room[0] if paper else max(content.w, least)
    above, below = frame.above(room, number, count), frame.below(room)
    top = MARGIN + above.h + GAP
    free = paper.height - top - below.h - MARGIN - GAP if paper else content.h
    left = MARGIN + max(0.0, (room - content.w) / 2)
    whole = together(
        [
            above.moved(MARGIN, MARGIN),
            content.moved(left, top),
            below.moved(MARGIN, top + max(free, content.h) + GAP),
        ]
    )
    size = (paper.width, paper.height) if paper else (room + 2 * MARGIN, top + content.h + GAP + below.h + MARGIN)
    name = f"{frame.block.view}: {frame.block.title}" + (f" (page {number} of {count})" if count > 1 else "")
    return Sheet(number, name, *size, whole.shapes, whole.lines)


def _title_block(block: Block, room: float, number: int, count: int) -> Group:
    right = 112.0
    left = room - right - 12
    title = wrap(block.title, left - 8, HEAD, bold=True, most=8)
    facts = " · ".join(one for one in (block.view, block.system, block.situation) if one)
    rows = [(title, HEAD, True)]
    rows += [(wrap(text, left - 8, SMALL, most=9, even=False), SMALL, False) for text in (facts, block.scale) if text]
    rows += [
        (wrap(words, left - 8, SMALL, bold=True, most=9, even=False), SMALL, True)
        for words in (*block.reports, *_latest(block.steps))
    ]
    rows.append((wrap(NOTICE, left - 8, SMALL, bold=True, most=5, even=False), SMALL, True))
    shapes, y = [], 4.0
    for place, (lines, size, bold) in enumerate(rows):
        high = text_height(len(lines), size)
        shapes.append(Shape(f"block-{place}", "text", 5, y, left - 8, high, lines, size, bold, "start"))
        y += high
    side = [
        f"page {number} of {count}" if count > 1 else "",
        block.version,
        f"{block.made:%Y-%m-%d}" if block.made else "",
    ]
    words = tuple(line for text in side if text for line in wrap(text, right - 10, SMALL, most=3))
    height = max(y, text_height(len(words), SMALL) + 8) + 4
    high = text_height(len(words), SMALL)
    shapes.append(Shape("block-side", "text", room - right + 5, 4, right - 8, high, words, SMALL, align="start"))
    outline = Shape("block", "box", 0, 0, room, height, look="frame")
    rule = Shape("block-rule", "box", room - right, 0, right, height, look="frame")
    return Group(room, height, (outline, rule, *shapes))


def _latest(steps: Sequence[str]) -> tuple[str, ...]:
    """The answers given last, as many as a title block has room for; how many came before them."""
    left = len(steps) - MOST_STEPS
    said = [f"Answer: {step}" for step in steps[-MOST_STEPS:]]
    return (f"After {left} earlier answer{'s' if left > 1 else ''}:", *said) if left > 0 else tuple(said)


def _legend(samples: Sequence[Sample], room: float) -> Group:
    """Samples with their words, in as many rows as it takes."""
    groups, x, y = [], 6.0, 4.0
    for place, sample in enumerate(samples):
        lines = wrap(sample.words, min(room - 50, 240.0), SMALL)
        w = 30.0 + max(width(line, SMALL) for line in lines)
        if x > 6.0 and x + w > room - 6:
            x, y = 6.0, y + ROW
        symbol = sample.symbol.scaled(0.8)
        high = max(ROW, text_height(len(lines), SMALL))
        words = Shape(f"legend-{place}", "text", x + 26, y, w - 26, high, lines, SMALL, align="start", look="note")
        groups.append(symbol.moved(x + (24 - symbol.w) / 2, y + (high - symbol.h) / 2))
        groups.append(Group(x + w, y + high, (words,)))
        x += w + 10
    whole = together(groups)
    high = whole.h + 4 if samples else 0.0
    outline = (Shape("legend", "box", 0, 0, room, high, look="frame"),) if samples else ()
    return Group(room, high, (*outline, *whole.shapes), whole.lines)


def used(samples: Iterable[tuple[bool, Sample]]) -> tuple[Sample, ...]:
    """The samples of what the drawing really holds."""
    return tuple(sample for there, sample in samples if there)


_SAMPLES: dict[Form, tuple[float, float]] = {
    "box": (26.0, 15.0),
    "circle": (17.0, 17.0),
    "round": (26.0, 14.0),
    "diamond": (22.0, 17.0),
}


def sample(form: Form, words: str, sign: str = "", look: Look = "plain", state: State = "") -> Sample:
    """A sample with one shape."""
    sizes: dict[Form, tuple[float, float]] = {
        "box": (26, 15),
        "circle": (17, 17),
        "round": (26, 14),
        "diamond": (22, 17),
    }
    w, h = sizes.get(form, (20, 16))
    lines = (sign,) if sign else ()
    shape = Shape(f"sample-{words}", form, 0, 0, w, h, lines, 7.0, True, look=look, state=state)
    return Sample(Group(w, h, (shape,)), words)
