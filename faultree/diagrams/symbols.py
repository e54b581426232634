"""The symbols of a fault tree: event rectangles, gates with their qualifiers, basic events and transfers.

Event shapes follow NUREG-0492 (table IV-1, from memory): rectangle, circle, diamond, house, triangle. Gates are
the rectangles of IEC 60617-12 with the qualifiers `&`, `≥1`, `≥m`, `=1`, and a ring where an input or an output
is turned.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from faultree.base.words import percent
from faultree.diagrams.metrics import BOLD, width, wrap
from faultree.diagrams.parts import Part
from faultree.diagrams.picture import SIZE, SMALL, Ending, Form, Group, Line, Look, Point, Shape, State, text_height
from faultree.library.model import Likelihood

BOX = 138.0
"""The width of an event's rectangle."""

ROW = 148.0
"""The width of the text beside a leaf's symbol."""

SYMBOL = 24.0
GATE = (27.0, 17.0)
BAR = (70.0, 6.0)
PAD = 4.0

QUALIFIERS = {"all": "&", "any": "≥1", "none": "≥1", "not": "1", "one_of": "=1"}

FORMS: dict[str, Form] = {
    "cause": "circle",
    "house": "house",
    "undeveloped": "diamond",
    "transfer": "triangle",
    "folded": "hexagon",
}


def qualifier(part: Part) -> str:
    """The sign in a gate's rectangle."""
    node = part.node
    return f"≥{node.count}" if node.gate == "at_least" else QUALIFIERS[node.gate or "any"]


def drawn_of(part: Part) -> str:
    """How many of a gate's inputs are drawn, where some are left out: "1 of 4 conditions"; else empty."""
    node = part.node
    if part.kind != "gate" or not node.of:
        return ""
    kinds = {"all": "condition", "any": "way"}
    return f"{len(node.inputs)} of {node.of} {kinds.get(node.gate or 'any', 'input')}s"


def unsaid(part: Part) -> str:
    """What a gate without a title says by itself."""
    gate = part.node.gate or "any"
    count = part.node.of or len(part.node.inputs)
    said = {"all": "all of", "any": "one or more of", "none": "none of", "not": "not", "one_of": "exactly one of"}
    return f"{said.get(gate, f'{part.node.count} or more of')} {count} inputs" if part.node.kind == "gate" else ""


def likelihood(stated: Likelihood, probability: float) -> str:
    """A likelihood as the author stated it, with the probability that it stands for.

    >>> likelihood(Likelihood(band="remote"), 0.001)
    'remote, p = 0.001'
    >>> likelihood(Likelihood(rate=2e-06, hours=500.0), 0.001)
    '2e-06/h × 500 h, p = 0.001'
    """
    if stated.band:
        return f"{stated.band}, p = {probability:.3g}"
    if stated.rate is not None:
        return f"{stated.rate:.3g}/h × {stated.hours:.4g} h, p = {probability:.3g}"
    return f"p = {probability:.3g}"


def learnt(stated: Likelihood, probability: float, bands: Mapping[str, float]) -> str:
    """The same where history may have changed the probability: what the author stated stands beside it.

    >>> learnt(Likelihood(band="probable"), 0.00798, {"probable": 0.01})
    'probable, p = 0.01; with history p = 0.00798'
    >>> learnt(Likelihood(probability=0.003), 0.003, {})
    'p = 0.003'
    """
    author = bands.get(stated.band, probability) if stated.band else stated.probability
    if stated.rate is not None:
        return f"{stated.rate:.3g}/h × {stated.hours:.4g} h; with history p = {probability:.3g}"
    if author is None or abs(author - probability) <= 1e-9:
        return likelihood(stated, probability)
    return f"{likelihood(stated, author)}; with history p = {probability:.3g}"


TRUNK = GATE[0] / 2
"""Where inputs stand below each other, their common line hangs this far from the left, in points."""

TURNED = ("none", "not")
"""Gates that turn what their inputs give: a ring stands at the output."""


@dataclass(frozen=True, slots=True)
class Head:
    """The top of a gate, twice: with the symbol in the middle below its rectangle, and with it at the `left`.

    `middle` is the x at which the inputs hang in the first, `entry` that of a line from above, `side` the point of one
    from the left. A `bare` head is a gate without a rectangle.
    """

    id: str
    group: Group
    left: Group
    middle: float
    entry: float
    side: Point
    bare: bool = False


def head_of(part: Part, notes: tuple[str, ...], pages: Mapping[str, int]) -> Head:
    """The rectangle and the symbol of a gate."""
    mark = _mark(part, pages)
    if not part.node.title:
        symbol = _joined(Group(*GATE, (_gate(part, 0.0, 0.0),)), mark.moved(GATE[0], 0.0) if mark.w else mark)
        return Head(f"{part.id}!gate", symbol, symbol, TRUNK, TRUNK, (0.0, GATE[1] / 2), bare=True)
    box = _box(part, notes)
    middle, left = (_below_box(part, box, mark, x) for x in (BOX / 2, TRUNK))
    return Head(part.id, middle, left, BOX / 2, BOX / 2, (0.0, box.h / 2))


def _below_box(part: Part, box: Group, mark: Group, x: float) -> Group:
    """A rectangle with the gate's symbol below it."""
    y = box.h + 8.0
    state: State = part.state if part.state in ("path", "cleared") else ""
    ending: Ending = "ring" if part.node.gate in TURNED else ""
    line = Line(part.id, f"{part.id}!gate", ((x, box.h), (x, y)), ending, state)
    group = Group(BOX, y + GATE[1], (*box.shapes, _gate(part, x - GATE[0] / 2, y)), (line,))
    return _joined(group, mark.moved(x + GATE[0] / 2, y)) if mark.w else group


def _joined(group: Group, mark: Group) -> Group:
    return Group(max(group.w, mark.w), max(group.h, mark.h), (*group.shapes, *mark.shapes), (*group.lines, *mark.lines))


def _mark(part: Part, pages: Mapping[str, int]) -> Group:
    """What stands beside a gate: the triangle of one that is used elsewhere too, and how much of it is drawn."""
    return _partly(part, _shared(part, pages))


def _partly(part: Part, beside: Group) -> Group:
    """Behind what stands beside a gate, how many of its inputs are drawn."""
    words = drawn_of(part)
    if not words:
        return beside
    w = width(words, SMALL) + 2
    shape = Shape(f"{part.id}!of", "text", 5.0, 0.0, w, GATE[1], (words,), SMALL, align="start", look="small")
    return _joined(beside, Group(5.0 + w, GATE[1], (shape,)).moved(beside.w, 0.0))


def _shared(part: Part, pages: Mapping[str, int]) -> Group:
    """The triangle beside a gate that is used elsewhere too, with its mark and where it is used."""
    if not part.mark:
        return Group(0.0, 0.0)
    page = pages.get(f"{part.mark}<", 0)
    words = f"from page {page}" if page else ""
    size = max(18.0, width(part.mark, 6.5, bold=True) * 1.6 + 6)
    shapes = [
        Shape(f"{part.id}!mark", "triangle", 8.0, 0.0, size, GATE[1], (part.mark,), 6.5, True, look="transfer"),
    ]
    if words:
        w = width(words, SMALL)
        shapes.append(Shape(f"{part.id}!from", "text", 10.0 + size, 0.0, w, GATE[1], (words,), SMALL, look="small"))
    line = Line(f"{part.id}!gate", f"{part.id}!mark", ((0.0, GATE[1] - 3), (8.0 + 2, GATE[1] - 3)))
    return Group(10.0 + size + (width(words, SMALL) if words else 0.0), GATE[1], tuple(shapes), (line,))


def _gate(part: Part, x: float, y: float) -> Shape:
    return Shape(
        f"{part.id}!gate",
        "box",
        x,
        y,
        *GATE,
        (qualifier(part),),
        9.0,
        bold=True,
        look="mark",
        state=part.state if part.state in ("path", "cleared") else "",
        title=part.node.title,
    )


def _box(part: Part, notes: tuple[str, ...]) -> Group:
    look: Look = "top" if part.node.key == "top" and not part.more else "gate"
    bold = look == "top"
    words = part.node.title + (", continued" if part.more else "")
    lines = wrap(words, BOX - 2 * PAD, SIZE, bold=bold)
    small = tuple(line for note in notes for line in wrap(note, BOX - 2 * PAD, SMALL, most=8))
    height = text_height(len(lines), SIZE) + text_height(len(small), SMALL) + 2 * PAD
    shape = Shape(
        part.id,
        "box",
        0.0,
        0.0,
        BOX,
        height,
        (),
        SIZE,
        bold,
        look=look,
        state=part.state,
        title=words,
        source=part.node.source,
    )
    frame = (doubled(shape),) if part.odd else ()
    return Group(BOX, height, (shape, *frame, *_text(part.id, lines, small, 0.0, PAD, BOX, bold=bold)))


def doubled(outer: Shape) -> Shape:
    """The second frame within that of a box that was observed other than expected."""
    name, inset = f"{outer.id}!odd", 2.5
    w, h = outer.w - 2 * inset, outer.h - 2 * inset
    return Shape(name, "box", outer.x + inset, outer.y + inset, w, h, look="inner")


def _text(
    name: str, lines: tuple[str, ...], small: tuple[str, ...], x: float, y: float, w: float, *, bold: bool = False
) -> tuple[Shape, ...]:
    """A title in the middle of a box and small notes below it."""
    high = text_height(len(lines), SIZE)
    shapes = [Shape(f"{name}!title", "text", x, y, w, high, lines, SIZE, bold)] if lines else []
    if small:
        low = text_height(len(small), SMALL)
        shapes.append(Shape(f"{name}!note", "text", x, y + high, w, low, small, SMALL, look="small"))
    return tuple(shapes)


def row_of(
    part: Part, notes: tuple[str, ...], bar: tuple[float, str] | None, pages: Mapping[str, int]
) -> tuple[Group, float]:
    """A leaf: its symbol, and beside it title, notes and the bar of a suspect; the y where a line enters."""
    x, room = SYMBOL + 4.0, ROW - PAD
    bold = part.state == "path"
    title = wrap(part.node.title or unsaid(part), room, SIZE, bold=bold)
    if part.kind == "transfer":
        page = pages.get(part.mark, 0)
        notes = (*notes, f"to page {page}" if page else f"drawn at {part.mark}")
    if part.negated:
        notes = ("must not be so", *notes)
    small = tuple(line for note in notes for line in wrap(note, room, SMALL, most=8))
    high = text_height(len(title), SIZE)
    height = max(SYMBOL, high + text_height(len(small), SMALL) + (BAR[1] + 4 if bar else 0) + 2)
    middle = height / 2
    symbol = _symbol(part, middle)
    y = (height - high - text_height(len(small), SMALL) - (BAR[1] + 4 if bar else 0)) / 2
    shapes = [symbol, Shape(f"{part.id}!title", "text", x, y, room, high, title, SIZE, bold, "start")]
    y += high
    if small:
        low = text_height(len(small), SMALL)
        shapes.append(Shape(f"{part.id}!note", "text", x, y, room, low, small, SMALL, align="start", look="small"))
        y += low
    if bar:
        shapes += _bar(part, bar, x, y)
    return Group(SYMBOL + 4.0 + ROW, height, tuple(shapes)), middle


def _bar(part: Part, bar: tuple[float, str], x: float, y: float) -> list[Shape]:
    value, words = bar
    text = Shape(f"{part.id}!percent", "text", x + BAR[0] + 4, y - 1, 60, BAR[1] + 4, (words,), SMALL, True, "start")
    if words == "excluded":
        return [Shape(f"{part.id}!percent", "text", x, y - 1, 60, BAR[1] + 4, (words,), SMALL, True, "start")]
    return [Shape(f"{part.id}!bar", "bar", x, y + 1, *BAR, value=value, title=percent(value)), text]


def _symbol(part: Part, middle: float) -> Shape:
    form = FORMS[part.kind]
    words = part.mark if part.kind in ("cause", "transfer") else ""
    if part.kind == "house":
        words = "on" if part.node.state else "off"
    size = 7.0 if width(words, 7.0) * BOLD < SYMBOL * 0.55 else 6.2
    return Shape(
        part.id,
        form,
        1.0 if form == "circle" else 0.0,
        middle - (SYMBOL - 2) / 2,
        SYMBOL if form != "circle" else SYMBOL - 2,
        SYMBOL - 2,
        (words,) if words else (),
        size,
        bold=True,
        look="transfer" if part.kind == "transfer" else "leaf",
        state=part.state,
        title=part.node.title,
        source=part.node.source,
    )
