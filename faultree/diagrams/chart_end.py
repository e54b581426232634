"""An end of a chart in full: what is found, what to read before, what to do, what to undo, and what to hand over."""

from __future__ import annotations

from collections.abc import Iterator

from faultree.diagrams.chart_block import CARE, GAP, WIDTH
from faultree.diagrams.metrics import wrap
from faultree.diagrams.picture import SIZE, SMALL, Group, Shape, State, text_height
from faultree.walk.chart_blocks import EndBlock

HALF = (WIDTH - GAP) / 2
"""Two ends stand side by side in a column."""

NAME = 50.0
"""The room of a label, in points."""

PAD = 12.0


def end_block(end: EndBlock, come_from: str, *, taken: bool = False) -> Group:
    """The end with its number; cautions stand before what is done."""
    name = f"end-{end.number}"
    room = HALF - 2 * PAD
    title = wrap(f"End {end.number}. {end.headline}", room, SIZE, bold=True, most=12)
    y, shapes = 6.0, []
    for key, lines, size, bold in (
        ("title", title, SIZE, True),
        ("from", wrap(come_from, room, SMALL, most=4, even=False), SMALL, False),
    ):
        high = text_height(len(lines), size)
        if lines:
            look = "plain" if bold else "small"
            shapes.append(Shape(f"{name}!{key}", "text", PAD, y, room, high, lines, size, bold, "start", look))  # type: ignore[arg-type]  # one of the looks
        y += high
    for place, (label, words) in enumerate(rows_of(end)):
        size = CARE if label.isupper() else SMALL
        lines = wrap(words, room - NAME, size, most=60, even=False)
        high = text_height(len(lines), size)
        low = text_height(1, size)
        if label:
            shapes.append(
                Shape(f"{name}!label{place}", "text", PAD, y, NAME, low, (label,), size, label.isupper(), "start")
            )
        shapes.append(Shape(f"{name}!row{place}", "text", PAD + NAME, y, room - NAME, high, lines, size, align="start"))
        y += high + 1
    state: State = "path" if taken else ""
    outline = Shape(name, "round", 0, 0, HALF, y + 6, look="end", state=state, title=end.headline, size=PAD / 2)
    return Group(HALF, y + 6, (outline, *shapes))


def rows_of(end: EndBlock) -> Iterator[tuple[str, str]]:
    """What is said of an end: its facts, the cautions by their level, then what to do, to undo and to hand over."""
    yield from end.facts
    yield from ((one.level.upper(), one.text) for one in end.cautions)
    if end.do:
        yield "Do", end.do
    yield from (("Afterwards" if place == 0 else "", one) for place, one in enumerate(end.afterwards))
    if end.handover:
        yield "Hand over", end.handover
