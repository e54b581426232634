"""One step of a chart: process, decision, cautions beside it, and its exits to ends, steps and out of the chart.

Symbols of ISO 5807 (from memory): process rectangle, decision diamond with the answers on its exits, terminator,
connector circle with the same mark at both ends, annotation bracket on a dashed line.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from faultree.base.words import listing, percent
from faultree.diagrams.metrics import width, wrap
from faultree.diagrams.picture import SIZE, SMALL, Group, Line, Look, Shape, State, text_height, together
from faultree.walk.chart_blocks import StepBlock, Way
from faultree.walk.prompt import CautionLine

NOTES = 118.0
"""The width of the annotation at the left, in points."""

LEFT = 128.0
BOX = 216.0
MIDDLE = LEFT + BOX / 2
DIAMOND = (46.0, 30.0)
BUS = LEFT + BOX + 14.0
LABEL = 88.0
ENDS = BUS + LABEL + 24.0
END = 140.0
WIDTH = ENDS + END
"""The width of a step with all that belongs to it, in points."""

CARE = 7.5
"""The type size of cautions: what is read for safety is not set smaller than what is read for the work."""

BELOW = BUS - MIDDLE - 14.0
"""The room for the answer on the exit downwards: it must not reach the answers on the others."""

CIRCLE = 22.0
GAP = 9.0
DOWN = 26.0

WHO = {"crew": "the crew can tell", "line": "on the aircraft", "shop": "in the workshop"}
LEAVE = "Leave the chart"


def ways(step: StepBlock) -> tuple[Way, ...]:
    """The answers of a step, those that lead to the same place as one."""
    found: dict[int | None, list[Way]] = {}
    for way in step.ways:
        found.setdefault(way.to, []).append(way)
    return tuple(
        Way(" / ".join(one.text for one in some), sum(one.probability for one in some), to, some[0].found)
        for to, some in found.items()
    )


@dataclass(frozen=True, slots=True)
class Places:
    """What is known of the other ends of exits: headlines of the ends, pages of steps and ends, the way of a case."""

    headlines: Mapping[int, str]
    pages: Mapping[int, int]
    taken: frozenset[int]

    def page(self, number: int | None) -> str:
        """Behind the number of a step or end its page, where there are several."""
        page = self.pages.get(number, 0) if number is not None else 0
        return f", page {page}" if page else ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawn step: its picture, and where the exit that goes on downwards leaves it (y), if one does."""

    group: Group
    down: float


def step_block(step: StepBlock, aside: Sequence[Way], below: Way | None, places: Places) -> Drawn:
    """A step with its ends and connectors at the right, and the exit `below` that goes on downwards."""
    state: State = "path" if step.number in places.taken else ""
    process = _process(step, state)
    notes = _cautions(step, process.h)
    top = max(0.0, notes.h / 2 - process.h / 2)
    y = top + process.h + 14
    middle = y + DIAMOND[1] / 2
    groups = [process.moved(LEFT, top), notes.moved(0, top + process.h / 2 - notes.h / 2), _diamond(step, y, state)]
    lines = [
        Line(f"step-{step.number}", f"ask-{step.number}", ((MIDDLE, top + process.h), (MIDDLE, y)), "arrow", state)
    ]
    if notes.shapes:
        at = top + process.h / 2
        lines.append(Line(f"step-{step.number}", f"note-{step.number}", ((LEFT, at), (NOTES + 2, at)), dashed=True))
    right, more = _aside(step, aside, middle, places)
    bottom = y + DIAMOND[1]
    if below is not None:
        label = _label(f"label-{step.number}-{below.to}", below, BELOW)
        groups.append(label.moved(MIDDLE + 6, bottom + 3))
        bottom += label.h + 4
    whole = together([*groups, right, Group(WIDTH, bottom, (), (*lines, *more))])
    return Drawn(whole, y + DIAMOND[1])


def facts_of(step: StepBlock) -> Iterator[str]:
    """What is to be known beside a step, each on a line of its own: time, who, situation, access, tools, manual."""
    yield f"{step.takes}; {WHO[step.by]}"
    yield from (f"{label}: {words}" for label, words in step.facts)
    if step.never:
        yield f"Not listed, as it goes against the answers so far: {listing(step.never)}"


def _process(step: StepBlock, state: State) -> Group:
    """What is done: number, title, question, and what is to be known beside it."""
    room = BOX - 34
    name = f"step-{step.number}"
    title = f"Put right: {step.title}" if step.replaces else step.title
    rows: list[tuple[tuple[str, ...], float, bool, Look]] = [
        (wrap(title, room, SIZE, bold=True), SIZE, True, "plain"),
        (wrap(step.ask, room, SIZE), SIZE, False, "plain"),
        *((wrap(fact, room, SMALL, most=20, even=False), SMALL, False, "plain") for fact in facts_of(step)),
    ]
    shapes, y = [], 5.0
    for place, (lines, size, bold, look) in enumerate(rows):
        high = text_height(len(lines), size)
        if lines:
            shapes.append(Shape(f"{name}!{place}", "text", 28, y, room, high, lines, size, bold, "start", look, state))
        y += high
    box = Shape(name, "box", 0, 0, BOX, y + 5, look="step", state=state, title=step.title)
    number = Shape(f"{name}!number", "text", 3, 4, 24, 12, (str(step.number),), 9.0, bold=True)
    return Group(BOX, y + 5, (box, number, *shapes))


def _diamond(step: StepBlock, y: float, state: State) -> Group:
    shape = Shape(
        f"ask-{step.number}",
        "diamond",
        MIDDLE - DIAMOND[0] / 2,
        y,
        *DIAMOND,
        ("?",),
        9.0,
        bold=True,
        look="mark",
        state=state,
        title=step.ask,
    )
    return Group(MIDDLE + DIAMOND[0] / 2, y + DIAMOND[1], (shape,))


def _cautions(step: StepBlock, least: float) -> Group:
    """The cautions of a step in a bracket."""
    lines = caution_lines(step.cautions, NOTES - 10, CARE)
    if not lines:
        return Group(NOTES, 0.0)
    high = max(text_height(len(lines), CARE) + 4, min(least, 24.0))
    title = " ".join(lines)
    bracket = Shape(f"note-{step.number}", "bracket", NOTES - 4, 0, 6, high, look="caution", title=title)
    text = Shape(f"note-{step.number}!text", "text", 0, 0, NOTES - 8, high, lines, CARE, align="start", look="caution")
    return Group(NOTES, high, (bracket, text))


def caution_lines(cautions: Iterable[CautionLine], room: float, size: float) -> tuple[str, ...]:
    """Cautions as lines, each with its level before it; none is shortened."""
    found: list[str] = []
    for one in cautions:
        found += wrap(f"{one.level.upper()}: {one.text}", room, size, most=60, even=False)
    return tuple(found)


def _aside(step: StepBlock, aside: Sequence[Way], middle: float, places: Places) -> tuple[Group, list[Line]]:
    """The exits to the right: each with its answer on it, to an end, a connector, or out of the chart."""
    groups, lines, y = [], [], 0.0
    for way in aside:
        end = _target(step, way, places)
        label = _label(f"label-{step.number}-{_where(way)}", way, LABEL)
        high = max(end.h, label.h)
        at = y + high / 2
        state: State = "path" if {way.to, step.number} <= places.taken else ""
        head = f"end-{step.number}-{_where(way)}"
        x = BUS + 6
        groups += [label.moved(x, at - label.h / 2), end.moved(ENDS, at - end.h / 2)]
        start = (MIDDLE + DIAMOND[0] / 2, middle)
        lines.append(Line(f"ask-{step.number}", f"{head}!label", (start, (BUS, middle), (BUS, at), (x, at)), "", state))
        leaves = x + label.w + 3
        groups.append(Group(0, 0, (Shape(f"{head}!label", "text", x, at, 0, 0),)))
        groups.append(Group(0, 0, (Shape(f"{head}!from", "text", leaves, at, 0, 0),)))
        lines.append(Line(f"{head}!from", head, ((leaves, at), (ENDS, at)), "arrow", state))
        y += high + GAP
    return together([*groups, Group(WIDTH, max(0.0, y - GAP))]), lines


def _where(way: Way) -> str:
    return "leave" if way.to is None else str(way.to)


def _label(name: str, way: Way, room: float) -> Group:
    """The answers of an exit and how likely they are."""
    lines = wrap(way.text, room, SMALL, bold=True, most=20, even=False)
    chance = (percent(way.probability),)
    high, low = text_height(len(lines), SMALL), text_height(1, SMALL)
    wide = max(width(line, SMALL, bold=True) for line in lines) if lines else 0.0
    wide = max(wide, width(chance[0], SMALL))
    return Group(
        wide,
        high + low,
        (
            Shape(name, "text", 0, 0, wide, high, lines, SMALL, bold=True, align="start", title=way.text),
            Shape(f"{name}!chance", "text", 0, high, wide, low, chance, SMALL, align="start", look="small"),
        ),
    )


def _target(step: StepBlock, way: Way, places: Places) -> Group:
    """Where an exit leads: a connector to a step, an end by its number and headline, or out of the chart."""
    name = f"end-{step.number}-{_where(way)}"
    if way.to is None:
        return _terminator(name, LEAVE, way.found, "plain", "")
    if way.to not in places.headlines:
        return _connector(name, way.to, places.page(way.to))
    state: State = "path" if way.to in places.taken else ""
    words = places.headlines[way.to]
    return _terminator(name, f"End {way.to}{places.page(way.to)}", words, "end", state)


def _terminator(name: str, title: str, words: str, look: Look, state: State) -> Group:
    room = END - 20
    rows = ((wrap(title, room, SIZE, bold=True), SIZE, True), (wrap(words, room, SMALL, most=12), SMALL, False))
    y, shapes = 5.0, []
    for key, (lines, size, bold) in zip(("title", "words"), rows, strict=True):
        high = text_height(len(lines), size)
        if lines:
            shapes.append(Shape(f"{name}!{key}", "text", 10, y, room, high, lines, size, bold, "start"))
        y += high
    outline = Shape(name, "round", 0, 0, END, y + 5, look=look, state=state, title=f"{title}: {words}")
    return Group(END, y + 5, (outline, *shapes))


def _connector(name: str, number: int, page: str) -> Group:
    """A circle with the number of the step that follows elsewhere."""
    words = (f"to step {number}{page}",)
    circle = Shape(
        name, "circle", 0, 0, CIRCLE, CIRCLE, (str(number),), 8.0, bold=True, look="transfer", title=words[0]
    )
    text = Shape(f"{name}!to", "text", CIRCLE + 5, 0, 90, CIRCLE, words, SMALL, align="start", look="small")
    return Group(CIRCLE + 95, CIRCLE, (circle, text))


def entry(number: int, words: str) -> Group:
    """What stands above the first step of a chain: a circle with where it is come from; above the root, the start."""
    name = f"from-{number}"
    if not words:
        start = Shape(name, "round", MIDDLE - 30, 2, 60, CIRCLE - 4, ("Start",), SIZE, bold=True, look="end")
        return Group(MIDDLE + 30, CIRCLE, (start,))
    circle = Shape(
        name, "circle", MIDDLE - CIRCLE / 2, 0, CIRCLE, CIRCLE, (str(number),), 8.0, bold=True, look="transfer"
    )
    room = WIDTH - MIDDLE - CIRCLE
    lines = wrap(words, room, SMALL, most=2, even=False)
    text = Shape(f"{name}!words", "text", MIDDLE + CIRCLE, 0, room, CIRCLE, lines, SMALL, align="start", look="small")
    return Group(WIDTH, CIRCLE, (circle, text))


def sources(numbers: Sequence[int], page: Callable[[int], str], most: int = 8) -> str:
    """The steps that lead somewhere, with their pages: "from steps 3, page 1 and 7, page 2"."""
    if not numbers:
        return ""
    named = [f"{number}{page(number)}" for number in numbers[:most]]
    rest = len(numbers) - len(named)
    return f"from step{'s' if len(numbers) > 1 else ''} {listing([*named, *([f'{rest} more'] if rest else [])])}"
