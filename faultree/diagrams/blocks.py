"""Fault tree parts laid out in every sensible way: inputs side by side, below each other, or mixed.

For each part the layouts are kept that no other beats in both width and height, built from those of its inputs
(shape functions of slicing layouts: Stockmeyer 1983, from memory). The page then chooses.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from faultree.diagrams.parts import Part
from faultree.diagrams.picture import Group, Line, Point, together
from faultree.diagrams.symbols import SYMBOL, TRUNK, TURNED, Head, head_of, row_of

ROW_GAP = 6.0
COLUMN_GAP = 18.0
DROP = 12.0
"""From a gate down to the line that its inputs hang from, and from there to the inputs, in points."""

INDENT = 30.0
"""Where inputs stand below each other, in points; their common line is at `TRUNK`."""

CHOICES = 16
"""So many layouts are kept for a part at most."""

TALL = 14
"""More leaves than this are not put below each other in one column beside gates."""


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """A laid-out part: its size, where a line from above enters (x), and one from the left (point).

    `own` draws what belongs to the part itself (many layouts are tried and few are drawn), `inner` holds its inputs
    with their places.
    """

    part: Part
    w: float
    h: float
    top: float
    side: Point
    entry: str
    own: Callable[[], Group]
    inner: tuple[tuple[Block, float, float], ...] = ()

    def group(self, dx: float = 0.0, dy: float = 0.0) -> Group:
        """All that is drawn, moved to a place."""
        placed = [one.group(dx + x, dy + y) for one, x, y in self.inner]
        return together([Group(self.w + dx, self.h + dy), self.own().moved(dx, dy), *placed])


@dataclass
class Layout:
    """Lays parts out; equal questions are answered once. `pages` gives the page of each mark, once it is known."""

    pages: Mapping[str, int] = field(default_factory=dict)
    notes: Callable[[Part], tuple[str, ...]] = lambda part: ()
    bars: Callable[[Part], tuple[float, str] | None] = lambda part: None
    _done: dict[int, tuple[Block, ...]] = field(default_factory=dict, repr=False)
    _kept: list[Part] = field(default_factory=list, repr=False)

    def choices(self, part: Part) -> tuple[Block, ...]:
        """The layouts of a part that are worth having, the narrowest first."""
        if id(part) not in self._done:
            self._kept.append(part)  # so that its identity is not given to another while this lives
            self._done[id(part)] = self._gate(part) if part.kind == "gate" else (self._row(part),)
        return self._done[id(part)]

    def best(self, part: Part, width: float, height: float) -> Block:
        """The layout that fills a room of these proportions least; whether it fits is for its size to say."""
        return min(self.choices(part), key=lambda one: (max(one.w / width, one.h / height), one.w))

    def _row(self, part: Part) -> Block:
        group, middle = row_of(part, self.notes(part), self.bars(part), self.pages)
        return Block(part, group.w, group.h, SYMBOL / 2, (0.0, middle), part.id, lambda: group)

    def _gate(self, part: Part) -> tuple[Block, ...]:
        head = head_of(part, self.notes(part), self.pages)
        options = [self.choices(kid) for kid in part.kids]
        if not options:
            return (Block(part, head.group.w, head.group.h, head.entry, head.side, head.id, lambda: head.group),)
        found = [_beside(part, head, columns) for columns in _columns(part, options)]
        if len(options) > 1:
            found += [_below(part, head, column) for column in _by_width(options)]
        return _worth_having(found)


def _worth_having(blocks: Iterable[Block]) -> tuple[Block, ...]:
    """Those that no other beats in both width and height, thinned out where they are many."""
    kept: list[Block] = []
    for one in sorted(blocks, key=lambda one: (one.w, one.h)):
        if not kept or one.h < kept[-1].h - 0.01:
            kept.append(one)
    if len(kept) > CHOICES:
        kept = [kept[round(place * (len(kept) - 1) / (CHOICES - 1))] for place in range(CHOICES)]
    return tuple(kept)


Options = list[tuple[Block, ...]]


def _by_width(options: Options) -> Iterable[list[Block]]:
    """For each width that matters, the lowest layout of every input within it."""
    least = max(some[0].w for some in options)
    for limit in sorted({one.w for some in options for one in some if one.w >= least}):
        yield [min((one for one in some if one.w <= limit), key=lambda one: one.h) for some in options]


def _by_height(options: Options) -> Iterable[list[Block]]:
    """For each height that matters, the narrowest layout of every input within it."""
    least = max(some[-1].h for some in options)
    for limit in sorted({one.h for some in options for one in some if one.h >= least}):
        yield [min((one for one in some if one.h <= limit), key=lambda one: one.w) for some in options]


def _columns(part: Part, options: Options) -> Iterable[list[list[Block]]]:
    """Inputs side by side: every gate a column, the leaves in one column or more, where the first of them stands."""
    leaves = [some[0] for some, kid in zip(options, part.kids, strict=True) if kid.kind != "gate"]
    gates = [some for some, kid in zip(options, part.kids, strict=True) if kid.kind == "gate"]
    first = next((place for place, kid in enumerate(part.kids) if kid.kind != "gate"), 0)
    for stacks in _stacks(leaves, bool(gates)):
        for chosen in _by_height(gates) if gates else ([],):
            columns = [[one] for one in chosen]
            yield [*columns[:first], *stacks, *columns[first:]]


def _stacks(leaves: list[Block], beside: bool) -> Iterable[list[list[Block]]]:
    """Leaves in columns of even height, in as many as may be wanted."""
    if not leaves:
        return [[]]
    least = -(-len(leaves) // TALL) if beside else 1
    counts = range(least, max(least, min(len(leaves), 12)) + 1)
    each = sorted({-(-len(leaves) // count) for count in counts})
    return [[leaves[start : start + size] for start in range(0, len(leaves), size)] for size in each]


def _beside(part: Part, head: Head, columns: list[list[Block]]) -> Block:
    """Inputs side by side below the gate."""
    placed: list[tuple[Block, float, float, float | None]] = []
    x, height, anchors = 0.0, 0.0, []
    for column in columns:
        stacked = len(column) > 1
        left, y = x + (TRUNK if stacked else 0.0), 0.0
        for one in column:
            placed.append((one, left, y, x if stacked else None))
            y += one.h + ROW_GAP
        anchors.append(x if stacked else x + column[0].top)
        height = max(height, y - ROW_GAP)
        x = left + max(one.w for one in column) + COLUMN_GAP
    centre = (anchors[0] + anchors[-1]) / 2
    shift = max(0.0, head.middle - centre)
    centre += shift
    at = centre - head.middle
    body = head.group.h + 2 * DROP

    def own() -> Group:
        top = head.group.moved(at, 0.0)
        lines = tuple(
            _hang(part, one, (centre, head.group.h), (left + shift, body + y), None if trunk is None else trunk + shift)
            for one, left, y, trunk in placed
        )
        return Group(top.w, top.h, top.shapes, (*top.lines, *lines))

    inner = tuple((one, left + shift, body + y) for one, left, y, _ in placed)
    w = max(at + head.group.w, x - COLUMN_GAP + shift)
    return Block(part, w, body + height, at + head.entry, (at + head.side[0], head.side[1]), head.id, own, inner)


def _hang(part: Part, one: Block, start: Point, at: Point, trunk: float | None) -> Line:
    """The line from a gate to one input: from above, or from the trunk of its column."""
    x0, y0 = start
    bus = y0 + DROP
    if trunk is not None:
        y = at[1] + one.side[1]
        return _joint(part, one, ((x0, y0), (x0, bus), (trunk, bus), (trunk, y), (at[0] + one.side[0], y)))
    x = at[0] + one.top
    y = at[1] if one.part.kind == "gate" else at[1] + one.side[1] - SYMBOL / 2 + 1
    return _joint(part, one, ((x0, y0), (x0, bus), (x, bus), (x, y)))


def _below(part: Part, head: Head, column: list[Block]) -> Block:
    """Inputs below each other, hanging from a line at their left; the gate's symbol stands above that line."""
    group = head.left
    y = group.h + DROP
    inner = []
    # Leaves first: they stay near their gate, and the branches follow.
    for one in sorted(column, key=lambda one: one.part.kind == "gate"):
        inner.append((one, INDENT, y))
        y += one.h + ROW_GAP

    def own() -> Group:
        ends = [(one, (INDENT + one.side[0], y + one.side[1])) for one, _, y in inner]
        lines = [_joint(part, one, ((TRUNK, group.h), (TRUNK, end[1]), end)) for one, end in ends]
        return Group(group.w, group.h, group.shapes, (*group.lines, *lines))

    w = max(group.w, INDENT + max(one.w for one in column))
    return Block(part, w, y - ROW_GAP, head.entry, head.side, head.id, own, tuple(inner))


def _joint(part: Part, one: Block, points: tuple[Point, ...]) -> Line:
    kid = one.part
    state = kid.state if kid.state in ("path", "cleared") else ""
    turned = kid.negated != (kid.kind == "gate" and not kid.node.title and kid.node.gate in TURNED)
    return Line(f"{part.id}!gate", one.entry, points, "ring" if turned else "", state)
