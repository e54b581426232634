"""A compiled troubleshooting chart as a drawing: chains of steps in columns, over as many sheets as it takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from faultree.base.words import minutes, percent
from faultree.diagrams.chart_block import (
    CIRCLE,
    DOWN,
    MIDDLE,
    WIDTH,
    Drawn,
    Way,
    end_words,
    entry,
    step_block,
    ways,
)
from faultree.diagrams.drawing import Drawing, DrawingError, Request
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.paper import Paper
from faultree.diagrams.picture import Arc, Entry, Group, Line, Plain, Shape, Sheet, State, Vertex, together
from faultree.strategy.chart.value import Chart, End, Step

COLUMN_GAP = 30.0
CHAIN_GAP = 26.0
"""Between the end of one chain and the begin of the next in the same column, in points."""

SMALLEST = 0.8
MOST = 600
"""A chart with more nodes is not drawn."""


def chart_drawing(asked: Request, chart: Chart) -> Drawing:
    """The drawing of a chart; DrawingError where it has too many nodes."""
    if len(chart.nodes) > MOST:
        raise DrawingError(
            f"the chart has {len(chart.nodes)} steps and ends, more than {MOST}; "
            "'faultree chart' writes it as a list, and --cut leaves unlikely branches out"
        )
    book = Book(asked, chart)
    frame = Frame(asked.block("Troubleshooting chart", facts(chart)), _legend(chart))
    if asked.ways:
        found = [_on_paper(book, frame, paper) for paper in asked.ways]
        sheets = min(found, key=len)
    else:
        sheets = (sheet(frame, _columns(book, _height(book), 1e9)[0][0], 1, 1, None),)
    plain = Plain(tuple(_outline(book, chart.root, 0, set())), tuple(_vertices(book)), tuple(_arcs(book)), "TB")
    title = asked.library.symptoms[asked.symptom].title
    return Drawing("chart", asked.symptom, title, sheets, plain, asked.theme, signs=(SIGNS,))


SIGNS = "[number] a step, the answers below it; (number) goes on at that step; = an end."


def facts(chart: Chart) -> str:
    """What the chart costs, and how good that is."""
    best = "no chart costs less" if chart.optimal else f"no chart can cost less than {minutes(chart.lower_bound)}"
    mean = f"expected {minutes(chart.expected_minutes)} and {chart.expected_checks:.1f} steps"
    parts = [f"{mean}, at worst {minutes(chart.worst_minutes)}; {best}"]
    if chart.cut > 0.0005:
        parts.append(f"{percent(chart.cut)} of walks end in a branch left out as unlikely")
    return "; ".join(parts) + "."


@dataclass(frozen=True, eq=False)
class Book:
    """A chart cut into chains, and what is known of their places."""

    asked: Request
    chart: Chart
    pages: Mapping[int, int] = field(default_factory=dict)
    _drawn: dict[tuple[int, bool], Drawn] = field(default_factory=dict, repr=False)

    @cached_property
    def taken(self) -> frozenset[int]:
        """The nodes on the way that the case has gone."""
        if not self.asked.evidence.given:
            return frozenset()
        node, found = self.chart.root, {self.chart.root.number}
        while isinstance(node, Step) and node.target in self.asked.evidence.replies:
            reply = self.asked.evidence.replies[node.target]
            to = next((exit_.to for exit_ in node.exits if exit_.answer == reply), None)
            if to is None:
                break
            node = self.chart.nodes[to]
            found.add(node.number)
        return frozenset(found)

    @cached_property
    def size(self) -> Mapping[int, int]:
        """How many steps lie below each node, counted as often as they are come to (numbers only grow downwards)."""
        found: dict[int, int] = {}
        for node in sorted(self.chart.nodes.values(), key=_depth_of(self.chart), reverse=True):
            below = [way.to.number for way in ways(self.chart, node)] if isinstance(node, Step) else []
            found[node.number] = isinstance(node, Step) + sum(found[number] for number in below)
        return found

    def below(self, step: Step) -> Way | None:
        """The exit that goes on downwards: to the largest part that nothing else leads to."""
        alone = (way for way in ways(self.chart, step) if len(self._before[way.to.number]) == 1)
        steps = [way for way in alone if isinstance(way.to, Step)]
        return max(steps, key=lambda way: (self.size[way.to.number], -way.to.number), default=None)

    @cached_property
    def chains(self) -> tuple[tuple[Step, ...], ...]:
        """The steps in chains, each going on downwards; the chain of the root first, the others by their number."""
        inner = {way.to.number for node in self.chart if isinstance(node, Step) and (way := self.below(node))}
        heads = [node for node in self.chart if isinstance(node, Step) and node.number not in inner]
        return tuple(tuple(self._chain(head)) for head in heads)

    def _chain(self, step: Step) -> Iterator[Step]:
        yield step
        while (way := self.below(step)) is not None:
            assert isinstance(way.to, Step)
            step = way.to
            yield step

    def comes_from(self, number: int) -> str:
        """The steps that lead to a step from elsewhere, in words."""
        found = self._before.get(number)
        if not found:
            return ""
        return f"from step {', '.join(map(str, found[:8]))}" + (" and others" if len(found) > 8 else "")

    @cached_property
    def _before(self) -> Mapping[int, list[int]]:
        found: dict[int, list[int]] = {}
        for node in self.chart:
            for way in ways(self.chart, node) if isinstance(node, Step) else ():
                found.setdefault(way.to.number, []).append(node.number)
        return found

    def drawn(self, step: Step, *, goes_on: bool) -> Drawn:
        """A step; where the exit downwards does not go on in its column, it leads to a connector."""
        key = step.number, goes_on
        if key not in self._drawn:
            self._drawn[key] = self._block(step, goes_on)
        return self._drawn[key]

    def _block(self, step: Step, goes_on: bool) -> Drawn:
        below = self.below(step)
        aside = [way for way in ways(self.chart, step) if below is None or way.to is not below.to]
        aside.sort(key=lambda way: -way.probability)
        if not goes_on and below is not None:
            aside.append(below)
        shown = below if goes_on else None
        return step_block(self.asked.library, step, aside, shown, self.pages, self.taken)


def _depth_of(chart: Chart) -> Callable[[Step | End], int]:
    """How many steps the longest way from the root to a node has."""
    depth = {chart.root.number: 0}
    pending = [chart.root]
    while pending:
        node = pending.pop()
        for exit_ in node.exits if isinstance(node, Step) else ():
            if depth.get(exit_.to, -1) < depth[node.number] + 1:
                depth[exit_.to] = depth[node.number] + 1
                pending.append(chart.nodes[exit_.to])
    return lambda node: depth[node.number]


# --- columns and pages -----------------------------------------------------------------------------


def _run(book: Book, steps: Sequence[Step]) -> Group:
    """Steps below each other, joined by arrows, below a circle with the number of the first."""
    circle = entry(steps[0].number, book.comes_from(steps[0].number))
    groups, lines, y = [circle], [], CIRCLE
    tail, leaves = f"from-{steps[0].number}", CIRCLE
    for place, step in enumerate(steps):
        drawn = book.drawn(step, goes_on=place + 1 < len(steps))
        y += DOWN * (0.7 if place == 0 else 1.0)
        box = next(shape for shape in drawn.group.shapes if shape.id == f"step-{step.number}")
        state: State = "path" if step.number in book.taken else ""
        lines.append(Line(tail, box.id, ((MIDDLE, leaves), (MIDDLE, y + box.y)), "arrow", state))
        groups.append(drawn.group.moved(0, y))
        tail, leaves = f"ask-{step.number}", y + drawn.down
        y += drawn.group.h
    return together([*groups, Group(WIDTH, y, (), tuple(lines))])


@dataclass
class _Pages:
    """Pages of columns, filled from the top; nothing is moved once it is placed."""

    height: float
    width: float
    x: float = 0.0
    y: float = 0.0
    groups: list[list[Group]] = field(default_factory=lambda: [[]])
    numbers: list[list[int]] = field(default_factory=lambda: [[]])

    @property
    def left(self) -> float:
        """What is left of the column."""
        return self.height - self.y - (CHAIN_GAP if self.y else 0.0)

    def place(self, run: Group, steps: Sequence[Step]) -> None:
        """Put steps below what is there."""
        at = self.y + (CHAIN_GAP if self.y else 0.0)
        self.groups[-1].append(run.moved(self.x, at))
        self.numbers[-1].extend(step.number for step in steps)
        self.y = at + run.h

    def turn(self) -> None:
        """Go on in a new column, on a new page where no more fits beside."""
        self.x, self.y = self.x + WIDTH + COLUMN_GAP, 0.0
        if self.x + WIDTH > self.width:
            self.x = 0.0
            self.groups.append([])
            self.numbers.append([])


def _columns(book: Book, height: float, width: float) -> list[tuple[Group, tuple[int, ...]]]:
    """Chains in columns of a height, as many columns to a page as its width holds; the steps of each page with it."""
    pages = _Pages(height, width)
    for chain in book.chains:
        rest = list(chain)
        while rest:
            fits = _fitting(book, rest, pages.left)
            # One step alone at the foot of a column is not worth a connector, nor is what fits a column by itself.
            if pages.y and fits < len(rest) and (fits < 2 or _run(book, rest).h <= height):
                pages.turn()
                fits = _fitting(book, rest, pages.left)
            count = max(fits, 1)
            pages.place(_run(book, rest[:count]), rest[:count])
            rest = rest[count:]
    made = zip(pages.groups, pages.numbers, strict=True)
    return [(together(groups), tuple(numbers)) for groups, numbers in made]


def _fitting(book: Book, steps: Sequence[Step], height: float) -> int:
    """How many of these steps fit below each other in a height."""
    y = CIRCLE + DOWN * 0.7
    for count, step in enumerate(steps):
        if y + book.drawn(step, goes_on=False).group.h > height:
            return count
        y += book.drawn(step, goes_on=True).group.h + DOWN
    return len(steps)


def _height(book: Book) -> float:
    """The height of columns at which a chart on one sheet is about half as wide again as it is high."""
    total = sum(_run(book, chain).h + CHAIN_GAP for chain in book.chains)
    return max(500.0, float((total * WIDTH / 1.4) ** 0.5))


def _on_paper(book: Book, frame: Frame, paper: Paper) -> tuple[Sheet, ...]:
    w, h = paper.room[0], paper.room[1] - frame.height(paper.room[0])
    count = max(1, int((w / SMALLEST + COLUMN_GAP) // (WIDTH + COLUMN_GAP)))
    scale = min(1.0, w / (count * (WIDTH + COLUMN_GAP) - COLUMN_GAP))
    pages = _columns(book, h / scale, w / scale + 0.01)
    numbers = {step: page for page, (_, steps) in enumerate(pages, 1) for step in steps}
    final = Book(book.asked, book.chart, numbers if len(pages) > 1 else {})
    made = [group for group, _ in _columns(final, h / scale, w / scale + 0.01)]
    # A step may be higher than a page by itself: that page alone is made smaller.
    fits = [min(1.0, (h / scale) / max(group.h, 1.0)) for group in made]
    scaled = [group.scaled(scale * fit) for group, fit in zip(made, fits, strict=True)]
    return tuple(sheet(frame, group, number, len(made), paper) for number, group in enumerate(scaled, 1))


# --- legend and plain forms ------------------------------------------------------------------------


def _legend(chart: Chart) -> tuple[Sample, ...]:
    bracket = Shape("sample-bracket", "bracket", 10, 0, 6, 16, look="caution")
    noted = any(node.cautions for node in chart if isinstance(node, Step))
    return used(
        [
            (True, sample("box", "step: what to do, the question, minutes, who", look="step")),
            (True, sample("diamond", "decision: the answers stand on its exits", "?", look="mark")),
            (True, sample("round", "end", look="end")),
            (True, sample("circle", "connector: same number, same step", "2", look="transfer")),
            (noted, Sample(Group(26, 16, (bracket,)), "cautions: read before the step")),
        ]
    )


def _outline(book: Book, node: Step | End, depth: int, seen: set[int]) -> Iterator[Entry]:
    """Steps with their answers below them; a step that was listed already is only named."""
    if isinstance(node, End):
        for words in _care(book, node):
            yield Entry(depth, "!!", words)
        yield Entry(depth, "=", end_words(book.asked.library, node), "; ".join(node.manual), _state(book, node))
        return
    if node.number in seen:
        yield Entry(depth, f"({node.number})", f"go on at step {node.number}")
        return
    seen.add(node.number)
    for words in _care(book, node):
        yield Entry(depth, "!!", words)
    title = f"{node.title}: {node.ask}" if node.ask else node.title
    yield Entry(depth, f"[{node.number}]", title, f"{minutes(node.minutes)}, {node.by}", _state(book, node))
    for way in ways(book.chart, node):
        yield Entry(depth + 1, "-", way.words, percent(way.probability))
        yield from _outline(book, way.to, depth + 2, seen)


def _care(book: Book, node: Step | End) -> list[str]:
    """The cautions of a node in words."""
    found = [book.asked.library.cautions[name] for name in node.cautions]
    return [f"{one.level.upper()}: {one.text}" for one in found]


def _state(book: Book, node: Step | End) -> State:
    return "path" if node.number in book.taken else ""


def _vertices(book: Book) -> Iterator[Vertex]:
    for node in book.chart:
        if isinstance(node, End):
            words = "\n".join([*_care(book, node), end_words(book.asked.library, node)])
            yield Vertex(f"n{node.number}", "round", words, _state(book, node))
            continue
        care = _care(book, node)
        words = "\n".join([*care, f"{node.number}. {node.title}", node.ask])
        yield Vertex(f"n{node.number}", "diamond", words.strip(), _state(book, node))


def _arcs(book: Book) -> Iterator[Arc]:
    for node in book.chart:
        for way in ways(book.chart, node) if isinstance(node, Step) else ():
            on_way = {node.number, way.to.number} <= book.taken
            yield Arc(f"n{node.number}", f"n{way.to.number}", way.words, "path" if on_way else "")
