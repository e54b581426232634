"""One box of the logic: a signal with its qualifier, its value, what can take it away, and what was observed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from faultree.diagrams.logic_facts import Facts
from faultree.diagrams.metrics import wrap
from faultree.diagrams.net import Node
from faultree.diagrams.picture import SIZE, SMALL, Group, Shape, State, text_height
from faultree.diagrams.symbols import BAR, GATE

WIDTH = 176.0
STRIP = 22.0
"""The strip at a box's left that holds the qualifier of its inputs."""

TAG = 22.0
"""What the value (on, off) takes at a box's right."""

DOT = 8.0
PAD = 4.0


@dataclass(frozen=True, slots=True)
class Box:
    """A box with its size."""

    group: Group

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
    if node.kind == "gate":
        return Box(Group(*GATE, (Shape(node.id, "box", 0, 0, *GATE, (node.sign,), 9.0, bold=True, look="mark"),)))
    if node.kind == "condition":
        return Box(_leaf(node, facts, "house", "on" if facts.sound[node.source] else "off"))
    if node.kind == "cause":
        return Box(_leaf(node, facts, "circle", ""))
    if node.kind == "report":
        return Box(_report(node, facts))
    return Box(_signal(node, facts))


def _leaf(node: Node, facts: Facts, form: str, sign: str) -> Group:
    """A symbol with its words at the left, so that the line leaves from the symbol."""
    library = facts.asked.library
    entry = library.node(node.source)
    notes: tuple[str, ...] = ()
    if form == "triangle":
        notes = (facts.origin(node.id.partition(">")[0]),)
    title = wrap(entry.title, 100.0, SMALL)
    small = tuple(line for note in notes for line in wrap(note, 100.0, 6.5, most=3))
    high = text_height(len(title), SMALL)
    h = max(22.0, high + text_height(len(small), 6.5))
    y = (h - high - text_height(len(small), 6.5)) / 2
    shapes = [
        Shape(
            node.id,
            form,  # type: ignore[arg-type]  # one of the forms
            104.0,
            h / 2 - 10,
            22.0,
            20.0,
            (sign,) if sign else (),
            7.0 if len(sign) < 2 or form == "house" else 6.0,
            bold=True,
            look="transfer" if form == "triangle" else "leaf",
            state=facts.asked.evidence.state(node.source) if form == "circle" else "",
            title=entry.title,
            source=node.source,
        ),
        Shape(f"{node.id}!title", "text", 0, y, 102, high, title, SMALL, align="start"),
    ]
    if small:
        low = text_height(len(small), 6.5)
        shapes.append(Shape(f"{node.id}!note", "text", 0, y + high, 102, low, small, 6.5, align="start", look="small"))
    return Group(126.0, h, tuple(shapes))


def _report(node: Node, facts: Facts) -> Group:
    entry = facts.asked.library.symptoms[node.source]
    lines = wrap(f"Report: {entry.title}", WIDTH - 30, SIZE, bold=True)
    h = text_height(len(lines), SIZE) + 14
    state: State = "path" if node.id in facts.way else ""
    return Group(
        WIDTH,
        h,
        (
            Shape(
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
            ),
            *_strip(node, h),
        ),
    )


def _strip(node: Node, h: float) -> tuple[Shape, ...]:
    if not node.sign:
        return ()
    return (Shape(f"{node.id}!sign", "box", 0, 0, STRIP, h, (node.sign,), 9.0, bold=True, look="mark"),)


def _signal(node: Node, facts: Facts) -> Group:
    """Title and value, then what takes the signal away, what forces it, and what was observed."""
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
        lines = wrap(observed.words, WIDTH - left - PAD, SMALL, bold=True, most=3)
        high = text_height(len(lines), SMALL)
        shapes.append(Shape(f"{node.id}!seen", "text", left, y, WIDTH - left, high, lines, SMALL, True, "start"))
        y += high
    for way, words in (("lost", "taken away by"), ("forced", "forced by")):
        names = [row.name for row in node.rows if row.way == way]
        if names:
            rows, y = _rows(node, names, words, facts, left, y)
            shapes += rows
    h = y + PAD
    state: State = "path" if node.id in facts.way else ("odd" if observed.odd else "usual") if observed else ""
    value = "on" if facts.sound[node.source] else "off"
    outline = Shape(node.id, "box", 0, 0, WIDTH, h, look="gate", state=state, title=entry.title, source=node.source)
    corner = [Shape(f"{node.id}!value", "text", WIDTH - TAG, PAD, TAG - 2, 11, (value,), SMALL, look="small")]
    if mark:
        corner.append(
            Shape(
                f"{node.id}!mark",
                "triangle",
                WIDTH - TAG - 19,
                PAD - 3,
                21,
                17,
                (mark,),
                6.5 if len(mark) < 2 else 5.8,
                True,
                look="transfer",
            )
        )
    return Group(WIDTH, h, (outline, *_strip(node, h), *shapes, *corner))


def _rows(
    node: Node, names: Sequence[str], words: str, facts: Facts, left: float, y: float
) -> tuple[list[Shape], float]:
    """A heading and one row for each cause or node below it."""
    high = text_height(1, SMALL)
    shapes = [Shape(f"{node.id}!{words}", "text", left, y + 1, 90, high, (words,), SMALL, align="start", look="small")]
    y += high + 1
    for name in names:
        rows, y = _row(node, name, facts, left, y)
        shapes += rows
    return shapes, y


def _row(node: Node, name: str, facts: Facts, left: float, y: float) -> tuple[list[Shape], float]:
    library, evidence = facts.asked.library, facts.asked.evidence
    is_cause = name in library.causes
    x = left + DOT + 3
    state = evidence.state(name) if is_cause else ""
    bold = state == "path"
    lines = wrap(library.node(name).title, WIDTH - x - PAD, SMALL, bold=bold)
    high = text_height(len(lines), SMALL)
    key = f"{node.id}!{name}"
    shapes = [Shape(f"{key}!words", "text", x, y, WIDTH - x - PAD, high, lines, SMALL, bold, "start", state=state)]
    if is_cause:
        shapes.append(
            Shape(
                key,
                "circle",
                left,
                y + high / 2 - DOT / 2,
                DOT,
                DOT,
                look="leaf",
                state=state,
                title=library.node(name).title,
                source=name,
            )
        )
    y += high
    if is_cause and evidence.given:
        says = evidence.says(name)
        low = BAR[1] + 2
        if says != "excluded":
            shapes.append(Shape(f"{key}!bar", "bar", x, y + 1, *BAR, value=evidence.probabilities.get(name, 0.0)))
        at = x if says == "excluded" else x + BAR[0] + 4
        shapes.append(Shape(f"{key}!percent", "text", at, y, 50, low + 1, (says,), 6.5, True, "start"))
        y += low + 1
    return shapes, y
