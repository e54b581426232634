"""One box of the logic: a signal with its qualifier, its value, what can take it away, and what was observed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil

from faultree.diagrams.logic_facts import Facts
from faultree.diagrams.metrics import wrap
from faultree.diagrams.net import Node, Row
from faultree.diagrams.picture import SIZE, SMALL, Form, Group, Line, Shape, State, text_height
from faultree.diagrams.symbols import BAR, GATE, doubled

WIDTH = 176.0
STRIP = 22.0
"""The strip at a box's left that holds the qualifier of its inputs."""

TAG = 22.0
"""What the value (on, off) takes at a box's right."""

DOT = 8.0
PAD = 4.0

PITCH = 11
"""From one input to the next at a box's edge at least, in points: a ring is 6 high."""


@dataclass(frozen=True, slots=True)
class Box:
    """A box with its size, and where lines end at its left edge, from its upper edge in whole points.

    `slots` are the places of the inputs that its qualifier joins, from the top; `rows` those of the lines that take
    it away or force it, by the box they come from and whether they are turned.
    """

    group: Group
    slots: tuple[float, ...] = ()
    rows: Mapping[tuple[str, bool], float] = field(default_factory=dict)

    @property
    def w(self) -> float:
        """Its width, in points."""
        return self.group.w

    @property
    def h(self) -> float:
        """Its height, in points."""
        return self.group.h


def box_of(node: Node, facts: Facts, *, transfer: bool = False) -> Box:
    """The box of a node, or the triangle of one that comes from another system."""
    if transfer:
        return Box(_leaf(node, facts, "triangle", facts.marks[node.id.partition(">")[0]]))
    if node.kind == "condition":
        return Box(_leaf(node, facts, "house", "on" if facts.sound[node.source] else "off"))
    if node.kind == "cause":
        return Box(_leaf(node, facts, "circle", ""))
    count = sum(link.way == "follows" for link in facts.net.into(node.id))
    if node.kind == "gate":
        h = max(ceil(GATE[1]), _room(count))
        shape = Shape(node.id, "box", 0, 0, GATE[0], h, (node.sign,), 9.0, bold=True, look="mark")
        return Box(Group(GATE[0], h, (shape,)), _slots(count, h))
    return _report(node, facts, count) if node.kind == "report" else _signal(node, facts, count)


def _room(count: int) -> int:
    """The height that so many inputs need, one below the other with their rings and arrows."""
    return count * PITCH + 4


def _slots(count: int, h: float) -> tuple[float, ...]:
    return tuple(float(round(h * (place + 0.5) / count)) for place in range(count))


def _leaf(node: Node, facts: Facts, form: Form, sign: str) -> Group:
    """A symbol with its words at the left, so that the line leaves from the symbol."""
    evidence = facts.asked.evidence
    entry = facts.asked.library.node(node.source)
    notes = (facts.origin(node.id.partition(">")[0]),) if form == "triangle" else ()
    title = wrap(entry.title, 100.0, SMALL)
    small = tuple(line for note in notes for line in wrap(note, 100.0, SMALL, most=3))
    high, low = text_height(len(title), SMALL), text_height(len(small), SMALL)
    barred = form == "circle" and evidence.given
    taken = high + low + (BAR[1] + 3 if barred else 0.0)
    h = max(22.0, taken)
    y = (h - taken) / 2
    symbol = Shape(
        node.id,
        form,
        104.0,
        h / 2 - 10,
        22.0,
        20.0,
        (sign,) if sign else (),
        7.0 if len(sign) < 2 or form == "house" else 6.2,
        bold=True,
        look="transfer" if form == "triangle" else "leaf",
        state=evidence.state(node.source) if form == "circle" else "",
        title=entry.title,
        source=node.source,
    )
    shapes = [
        _dot(symbol) if form == "circle" else symbol,
        Shape(f"{node.id}!title", "text", 0, y, 102, high, title, SMALL, align="start"),
    ]
    if small:
        shapes.append(
            Shape(f"{node.id}!note", "text", 0, y + high, 102, low, small, SMALL, align="start", look="small")
        )
    if barred:
        shapes += _bar(node.id, node.source, facts, 0.0, y + high + low)
    return Group(126.0, h, tuple(shapes))


def _report(node: Node, facts: Facts, count: int) -> Box:
    entry = facts.asked.library.symptoms[node.source]
    lines = wrap(f"Report: {entry.title}", WIDTH - 30, SIZE, bold=True)
    h = ceil(max(text_height(len(lines), SIZE) + 14, _room(count)))
    state: State = "path" if node.id in facts.way else ""
    shape = Shape(
        node.id,
        "round",
        0,
        0,
        WIDTH,
        h,
        lines,
        SIZE,
        bold=True,
        look="top",
        state=state,
        title=entry.title,
        source=node.source,
    )
    return Box(Group(WIDTH, h, (shape, *_strip(node, h))), _slots(count, h))


def _strip(node: Node, h: float) -> tuple[Shape, ...]:
    if not node.sign:
        return ()
    return (Shape(f"{node.id}!sign", "box", 0, 0, STRIP, h, (node.sign,), 9.0, bold=True, look="mark"),)


def _signal(node: Node, facts: Facts, count: int) -> Box:
    """Title and value beside the inputs; below them what takes the signal away, and what forces it."""
    entry = facts.asked.library.node(node.source)
    top, y = _titled(node, facts)
    h = float(ceil(max(y + PAD, _room(count))))
    slots, strip = _slots(count, h), _strip(node, h)
    shapes, lines = list(top), []
    rows: dict[tuple[str, bool], float] = {}
    for way, words in (("lost", "taken away by"), ("forced", "forced by")):
        named = [row for row in node.rows if row.way == way]
        if named:
            lines.append(Line("", "", ((0.0, h), (WIDTH, h))))
            more, places, h = _rows(node, named, words, facts, h + 1)
            shapes += more
            rows |= places
            h = float(ceil(h + 2))
    observed = facts.asked.evidence.observed.get(node.source)
    state: State = "path" if node.id in facts.way else ("odd" if observed.odd else "usual") if observed else ""
    outline = Shape(node.id, "box", 0, 0, WIDTH, h, look="gate", state=state, title=entry.title, source=node.source)
    frame = (doubled(outline),) if observed and observed.odd else ()
    return Box(Group(WIDTH, h, (outline, *frame, *strip, *shapes), tuple(lines)), slots, rows)


def _titled(node: Node, facts: Facts) -> tuple[list[Shape], float]:
    """Title, mark, value and what was observed; the height that they take."""
    evidence = facts.asked.evidence
    entry = facts.asked.library.node(node.source)
    left = (STRIP if node.sign else 0.0) + PAD
    mark = facts.marks.get(node.id, "")
    title = wrap(entry.title, WIDTH - left - TAG - (22 if mark else 0), SIZE, bold=True)
    y = PAD + text_height(len(title), SIZE)
    shapes = [
        Shape(f"{node.id}!title", "text", left, PAD, WIDTH - left - TAG, y - PAD, title, SIZE, bold=True, align="start")
    ]
    observed = evidence.observed.get(node.source)
    if observed:
        home = facts.asked.library.symptoms[facts.asked.symptom].situation
        lines = wrap(observed.answered(facts.asked.library, home), WIDTH - left - PAD, SMALL, bold=True, most=5)
        high = text_height(len(lines), SMALL)
        shapes.append(Shape(f"{node.id}!seen", "text", left, y, WIDTH - left, high, lines, SMALL, True, "start"))
        y += high
    value = "on" if facts.sound[node.source] else "off"
    shapes.append(Shape(f"{node.id}!value", "text", WIDTH - TAG, PAD, TAG - 2, 11, (value,), SMALL, look="small"))
    if mark:
        size = 6.5 if len(mark) < 2 else 6.2
        place = (WIDTH - TAG - 19, PAD - 3, 21, 17)
        shapes.append(Shape(f"{node.id}!mark", "triangle", *place, (mark,), size, True, look="transfer"))
    return shapes, y


def _rows(
    node: Node, listed: Sequence[Row], words: str, facts: Facts, y: float
) -> tuple[list[Shape], dict[tuple[str, bool], float], float]:
    """A heading and one row for each cause or box below it; where lines end beside their rows; the lower edge."""
    high = text_height(1, SMALL)
    name = f"{node.id}!{words}"
    shapes, places = [Shape(name, "text", PAD, y, 120, high, (words,), SMALL, align="start", look="small")], {}
    y += high
    for row in listed:
        lines = wrap(facts.net.says(row), WIDTH - 2 * PAD - DOT - 3, SMALL, bold=_state(row, facts) == "path")
        if row.tail:
            # The ring or arrow stands beside the row's first line, and no closer to the next one than it is high.
            places[row.tail, row.turned] = float(round(y + high / 2))
        more, y = _row(node, row, lines, facts, y)
        shapes += more
        y += max(0.0, PITCH - high) if row.tail and len(lines) == 1 else 0.0
    return shapes, places, y


def _state(row: Row, facts: Facts) -> State:
    return "" if row.tail else facts.asked.evidence.state(row.name)


def _row(node: Node, row: Row, lines: tuple[str, ...], facts: Facts, y: float) -> tuple[list[Shape], float]:
    evidence, state = facts.asked.evidence, _state(row, facts)
    x = PAD + DOT + 3
    high = text_height(len(lines), SMALL)
    key = f"{node.id}!{row.name or row.tail}{'!turned' if row.turned else ''}"
    words = Shape(
        f"{key}!words", "text", x, y, WIDTH - x - PAD, high, lines, SMALL, state == "path", "start", state=state
    )
    if row.tail:
        return [words], y + high
    at = y + high / 2 - DOT / 2
    title = facts.net.says(row)
    shapes = [words, _dot(Shape(key, "circle", PAD, at, DOT, DOT, state=state, title=title, source=row.name))]
    y += high
    if evidence.given:
        shapes += _bar(key, row.name, facts, x, y)
        y += BAR[1] + 3
    return shapes, y


def _bar(key: str, cause: str, facts: Facts, x: float, y: float) -> list[Shape]:
    """How likely a cause is now: a bar and the figure, or that it is excluded."""
    evidence = facts.asked.evidence
    says = evidence.says(cause)
    left = x if says == "excluded" else x + BAR[0] + 4
    text = Shape(f"{key}!percent", "text", left, y, 50, BAR[1] + 3, (says,), SMALL, True, "start")
    if says == "excluded":
        return [text]
    return [Shape(f"{key}!bar", "bar", x, y + 1, *BAR, value=evidence.probabilities.get(cause, 0.0)), text]


def _dot(shape: Shape) -> Shape:
    """The circle of a cause; of one that is excluded with a cross in it, which a grey printer shows too."""
    crossed = shape.state == "cleared"
    return replace(shape, look="leaf", lines=("×",) if crossed else (), size=7.0, bold=True)
