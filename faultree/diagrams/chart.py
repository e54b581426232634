"""A compiled troubleshooting chart as a drawing: chains of steps in columns, then its ends, over several sheets."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from faultree.base.words import percent
from faultree.diagrams.chart_block import (
    CIRCLE,
    DOWN,
    GAP,
    LEAVE,
    MIDDLE,
    WIDTH,
    Drawn,
    Places,
    entry,
    facts_of,
    sources,
    step_block,
    ways,
)
from faultree.diagrams.chart_end import HALF, end_block, rows_of
from faultree.diagrams.drawing import Drawing, DrawingError, Request
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.paper import Paper
from faultree.diagrams.picture import Arc, Entry, Group, Line, Plain, Shape, Sheet, State, Vertex, together
from faultree.strategy.chart.merge import merged
from faultree.strategy.chart.value import Chart, Step
from faultree.walk.chart_blocks import Block, ChartPage, EndBlock, StepBlock, Way
from faultree.walk.chart_page import page_of

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
    book = Book(asked, merged(chart), page_of(asked.library, chart))
    # A chart is of all its reports; the other views are of one, beside which the others are named.
    block = replace(asked.block("Troubleshooting chart", facts(book.page)), title=book.page.title, reports=())
    frame = Frame(block, _legend(book))
    if asked.ways:
        found = [_on_paper(book, frame, paper) for paper in asked.ways]
        sheets = min(found, key=len)
    else:
        sheets = (sheet(frame, _columns(book, _height(book), 1e9)[0][0], 1, 1, None),)
    plain = Plain(tuple(_outline(book)), tuple(_vertices(book)), tuple(_arcs(book)), "TB")
    return Drawing(
        "chart", asked.symptom, book.page.title, sheets, plain, asked.theme, signs=(SIGNS, book.page.use[-1])
    )


SIGNS = (
    "[number] a step, its answers below it; (number) goes on at that step; = an end, by its number in full at the end; "
    "-> the chart is left; !! a caution of what follows it."
)


def facts(page: ChartPage) -> str:
    """What the chart costs and how good that is, what it is for, and what to do where it does not help."""
    return " ".join([page.proof, *(f"{label}: {words}." for label, words in page.facts), page.use[-1]])


@dataclass(frozen=True, eq=False)
class Book:
    """A chart cut into chains, and what is known of their places."""

    asked: Request
    chart: Chart
    page: ChartPage
    pages: Mapping[int, int] = field(default_factory=dict)
    _drawn: dict[tuple[int, bool], Drawn] = field(default_factory=dict, repr=False)

    @cached_property
    def blocks(self) -> Mapping[int, Block]:
        """The steps and ends by their number."""
        return {one.number: one for one in self.page.blocks}

    @cached_property
    def ends(self) -> tuple[EndBlock, ...]:
        """The ends, by their number."""
        return tuple(one for one in self.page.blocks if isinstance(one, EndBlock))

    @cached_property
    def places(self) -> Places:
        """What a step needs to know of where its exits lead."""
        return Places({one.number: one.headline for one in self.ends}, self.pages, self.taken)

    @cached_property
    def taken(self) -> frozenset[int]:
        """The nodes on the way that the case has gone: none where the first step of the chart was not made."""
        node, found, replies = self.chart.root, set[int](), self.asked.evidence.replies
        while isinstance(node, Step) and node.target in replies:
            reply = replies[node.target]
            to = next((exit_.to for exit_ in node.exits if exit_.answer == reply), None)
            found.add(node.number)
            if to is None:
                break
            node = self.chart.nodes[to]
            found.add(node.number)
        return frozenset(found)

    def steps_of(self, step: StepBlock) -> list[tuple[Way, StepBlock]]:
        """The exits of a step that lead to steps."""
        found = ((way, self.blocks[way.to]) for way in ways(step) if way.to is not None)
        return [(way, block) for way, block in found if isinstance(block, StepBlock)]

    @cached_property
    def _steps(self) -> tuple[StepBlock, ...]:
        return tuple(one for one in self.page.blocks if isinstance(one, StepBlock))

    def below(self, step: StepBlock) -> Way | None:
        """The exit that goes on downwards: to the next number that nothing else leads to, so that numbers follow."""
        alone = [(way, block) for way, block in self.steps_of(step) if len(block.come_from) == 1]
        found = min(alone, key=lambda one: one[1].number, default=None)
        return found[0] if found else None

    @cached_property
    def chains(self) -> tuple[tuple[StepBlock, ...], ...]:
        """The steps in chains, each going on downwards; the chain of the root first, the others by their number."""
        inner = {way.to for step in self._steps if (way := self.below(step))}
        heads = [step for step in self._steps if step.number not in inner]
        return tuple(tuple(self._chain(head)) for head in heads)

    def _chain(self, step: StepBlock) -> Iterator[StepBlock]:
        yield step
        while (way := self.below(step)) is not None:
            found = self.blocks[way.to or 0]
            assert isinstance(found, StepBlock)
            step = found
            yield step

    def comes_from(self, block: Block) -> str:
        """The steps that lead to a step or end from elsewhere, in words."""
        return sources(block.come_from, self.places.page)

    def drawn(self, step: StepBlock, *, goes_on: bool) -> Drawn:
        """A step; where the exit downwards does not go on in its column, it leads to a connector."""
        key = step.number, goes_on
        if key not in self._drawn:
            below = self.below(step)
            aside = [way for way in ways(step) if below is None or way.to != below.to]
            aside.sort(key=lambda way: (way.to is None, -way.probability))
            if not goes_on and below is not None:
                aside.append(below)
            self._drawn[key] = step_block(step, aside, below if goes_on else None, self.places)
        return self._drawn[key]


# --- columns and pages -----------------------------------------------------------------------------


def _run(book: Book, steps: Sequence[StepBlock]) -> Group:
    """Steps below each other, joined by arrows, below a circle with the number of the first."""
    circle = entry(steps[0].number, book.comes_from(steps[0]))
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


def _pairs(book: Book) -> Iterator[tuple[Group, tuple[int, ...]]]:
    """The ends, two side by side, with their numbers."""
    for start in range(0, len(book.ends), 2):
        pair = book.ends[start : start + 2]
        drawn = [end_block(one, book.comes_from(one), taken=one.number in book.taken) for one in pair]
        groups = [one.moved(place * (HALF + GAP), 0.0) for place, one in enumerate(drawn)]
        yield together([*groups, Group(WIDTH, 0.0)]), tuple(one.number for one in pair)


@dataclass
class _Pages:
    """Pages of columns, filled from the top; nothing is moved once it is placed."""

    height: float
    width: float
    x: float = 0.0
    y: float = 0.0
    groups: list[list[Group]] = field(default_factory=lambda: [[]])
    numbers: list[list[int]] = field(default_factory=lambda: [[]])

    def left(self, gap: float = CHAIN_GAP) -> float:
        """What is left of the column."""
        return self.height - self.y - (gap if self.y else 0.0)

    def place(self, group: Group, numbers: Sequence[int], gap: float = CHAIN_GAP) -> None:
        """Put steps or ends below what is there."""
        at = self.y + (gap if self.y else 0.0)
        self.groups[-1].append(group.moved(self.x, at))
        self.numbers[-1].extend(numbers)
        self.y = at + group.h

    def turn(self) -> None:
        """Go on in a new column, on a new page where no more fits beside."""
        self.x, self.y = self.x + WIDTH + COLUMN_GAP, 0.0
        if self.x + WIDTH > self.width:
            self.x = 0.0
            self.groups.append([])
            self.numbers.append([])


def _columns(book: Book, height: float, width: float) -> list[tuple[Group, tuple[int, ...]]]:
    """Chains, then ends, in columns of a height, as many to a page as its width holds; what is on each page with it."""
    pages = _Pages(height, width)
    for chain in book.chains:
        rest = list(chain)
        while rest:
            fits = _fitting(book, rest, pages.left())
            # One step alone at the foot of a column is not worth a connector, nor is what fits a column by itself.
            if pages.y and fits < len(rest) and (fits < 2 or _run(book, rest).h <= height):
                pages.turn()
                fits = _fitting(book, rest, pages.left())
            count = max(fits, 1)
            pages.place(_run(book, rest[:count]), [step.number for step in rest[:count]])
            rest = rest[count:]
    for group, numbers in _pairs(book):
        if pages.y and group.h > pages.left(GAP):
            pages.turn()
        pages.place(group, numbers, GAP)
    made = zip(pages.groups, pages.numbers, strict=True)
    return [(together(groups), tuple(numbers)) for groups, numbers in made]


def _fitting(book: Book, steps: Sequence[StepBlock], height: float) -> int:
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
    total += sum(group.h + GAP for group, _ in _pairs(book))
    return max(500.0, float((total * WIDTH / 1.4) ** 0.5))


def _on_paper(book: Book, frame: Frame, paper: Paper) -> tuple[Sheet, ...]:
    w, h = paper.room[0], paper.room[1] - frame.height(paper.room[0])
    count = max(1, int((w / SMALLEST + COLUMN_GAP) // (WIDTH + COLUMN_GAP)))
    scale = min(1.0, w / (count * (WIDTH + COLUMN_GAP) - COLUMN_GAP))
    # Where it is not known yet, room is kept for the number of every page.
    kept = replace(book, pages=dict.fromkeys(book.blocks, 99), _drawn={})
    pages = _columns(kept, h / scale, w / scale + 0.01)
    numbers = {number: page for page, (_, found) in enumerate(pages, 1) for number in found}
    final = replace(book, pages=numbers if len(pages) > 1 else {}, _drawn={})
    made = [group for group, _ in _columns(final, h / scale, w / scale + 0.01)]
    # A step may be higher than a page by itself: that page alone is made smaller.
    fits = [min(1.0, (h / scale) / max(group.h, 1.0)) for group in made]
    scaled = [group.scaled(scale * fit) for group, fit in zip(made, fits, strict=True)]
    return tuple(sheet(frame, group, number, len(made), paper) for number, group in enumerate(scaled, 1))


# --- legend and plain forms ------------------------------------------------------------------------


def _legend(book: Book) -> tuple[Sample, ...]:
    bracket = Shape("sample-bracket", "bracket", 10, 0, 6, 16, look="caution")
    steps = [one for one in book.page.blocks if isinstance(one, StepBlock)]
    way = Line("", "", ((0, 4), (26, 4)), state="path")
    return used(
        [
            (True, sample("box", "step: what to do, the question, minutes, who", look="step")),
            (True, sample("diamond", "decision: the answers stand on its exits", "?", look="mark")),
            (True, sample("round", "end: in full behind the steps", look="end")),
            (any(way.to is None for step in steps for way in step.ways), sample("round", "the chart is left")),
            (True, sample("circle", "connector: same number, same step", "2", look="transfer")),
            (any(one.cautions for one in steps), Sample(Group(26, 16, (bracket,)), "cautions: read before the step")),
            (bool(book.taken), Sample(Group(26, 8, (), (way,)), "heavy: the way of this case")),
        ]
    )


def _outline(book: Book) -> Iterator[Entry]:
    """Steps with their answers below them, then the ends in full."""
    if book.page.blocks:
        yield from _listed(book, book.page.blocks[0], 0, set())
    for end in book.ends:
        yield Entry(0, "=", f"End {end.number}. {end.headline}", state=_state(book, end))
        for label, words in rows_of(end):
            yield Entry(1, "!!" if label.isupper() else "", f"{label}: {words}" if label else words)


def _listed(book: Book, block: Block, depth: int, seen: set[int]) -> Iterator[Entry]:
    """A step with its answers below it; one that was listed already is only named, and so is an end."""
    if isinstance(block, EndBlock):
        yield Entry(depth, "=", f"End {block.number}. {block.headline}", "", _state(book, block))
        return
    if block.number in seen:
        yield Entry(depth, f"({block.number})", f"go on at step {block.number}")
        return
    seen.add(block.number)
    for words in _care(block):
        yield Entry(depth, "!!", words)
    title = f"{block.title}: {block.ask}" if block.ask else block.title
    yield Entry(depth, f"[{block.number}]", title, "; ".join(facts_of(block)), _state(book, block))
    for way in ways(block):
        yield Entry(depth + 1, "-", way.text, percent(way.probability))
        if way.to is None:
            yield Entry(depth + 2, "->", "leave the chart", way.found)
        else:
            yield from _listed(book, book.blocks[way.to], depth + 2, seen)


def _care(block: Block) -> list[str]:
    """The cautions of a step or end in words."""
    return [f"{one.level.upper()}: {one.text}" for one in block.cautions]


def _state(book: Book, block: Block) -> State:
    return "path" if block.number in book.taken else ""


def _vertices(book: Book) -> Iterator[Vertex]:
    for block in book.page.blocks:
        state = _state(book, block)
        if isinstance(block, EndBlock):
            words = [f"End {block.number}. {block.headline}", *_care(block)]
            words += [f"{label}: {said}" for label, said in rows_of(block) if label in ("Item", "Do")]
            yield Vertex(f"n{block.number}", "round", "\n".join(words), state)
            continue
        words = [*_care(block), f"{block.number}. {block.title}", *facts_of(block), block.ask]
        yield Vertex(f"n{block.number}", "diamond", "\n".join(words).strip(), state)
        for way in ways(block):
            if way.to is None:
                yield Vertex(f"leave{block.number}", "round", "\n".join(filter(None, (LEAVE, way.found))))


def _arcs(book: Book) -> Iterator[Arc]:
    for block in book.page.blocks:
        for way in ways(block) if isinstance(block, StepBlock) else ():
            to = f"leave{block.number}" if way.to is None else f"n{way.to}"
            on_way = {block.number, way.to} <= book.taken
            yield Arc(f"n{block.number}", to, way.text, "path" if on_way else "")
