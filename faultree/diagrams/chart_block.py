"""One step of a chart: process, decision, cautions beside it, and its exits to ends, steps and connectors.

Symbols of ISO 5807 (from memory): process rectangle, decision diamond with the answers on its exits, terminator,
connector circle with the same mark at both ends, annotation bracket on a dashed line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from faultree.base.words import minutes, percent
from faultree.diagrams.metrics import width, wrap
from faultree.diagrams.picture import SIZE, SMALL, Group, Line, Look, Shape, State, text_height, together
from faultree.library.model import Library
from faultree.strategy.chart.value import Chart, End, Exit, Step

NOTES = 118.0
"""The width of the annotation at the left, in points."""

LEFT = 128.0
BOX = 206.0
MIDDLE = LEFT + BOX / 2
DIAMOND = (46.0, 30.0)
BUS = LEFT + BOX + 14.0
LABEL = 84.0
ENDS = BUS + LABEL + 24.0
END = 204.0
WIDTH = ENDS + END
"""The width of a step with all that belongs to it, in points."""

SLIGHT = 0.01
"""What is less likely than this is only counted at an end where several things stay open."""

BELOW = BUS - MIDDLE - 14.0
"""The room for the answer on the exit downwards: it must not reach the answers on the others."""

CIRCLE = 22.0
GAP = 9.0
DOWN = 26.0


@dataclass(frozen=True, slots=True)
class Way:
    """Exits of a step that lead to the same place: the node, and the words of their answers."""

    to: Step | End
    exits: tuple[Exit, ...]

    @property
    def words(self) -> str:
        """The answers, each on its own exit, as one label."""
        return " / ".join(exit_.text for exit_ in self.exits)

    @property
    def probability(self) -> float:
        """How likely it is that a walk that comes to the step goes on here."""
        return sum(exit_.probability for exit_ in self.exits)


def ways(chart: Chart, step: Step) -> tuple[Way, ...]:
    """The exits of a step, those with the same end together."""
    found: dict[object, list[Exit]] = {}
    for exit_ in step.exits:
        node = chart.nodes[exit_.to]
        same = ("end", node.ending, node.units, node.cautions) if isinstance(node, End) else exit_.to
        found.setdefault(same, []).append(exit_)
    return tuple(Way(chart.nodes[some[0].to], tuple(some)) for some in found.values())


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawn step: its picture, and where the exit that goes on downwards leaves it (y), if one does."""

    group: Group
    down: float


def step_block(
    library: Library,
    step: Step,
    aside: Sequence[Way],
    below: Way | None,
    pages: Mapping[int, int],
    taken: frozenset[int],
) -> Drawn:
    """A step with its ends and connectors at the right, and the exit `below` that goes on downwards.

    `pages` gives the page of each step drawn elsewhere; `taken` the nodes on the way that a case has gone.
    """
    state: State = "path" if step.number in taken else ""
    process = _process(step, state)
    notes = _cautions(library, step, process.h)
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
    codes = _codes(aside)
    right, more = _aside(library, step, aside, middle, pages, taken, codes)
    bottom = y + DIAMOND[1]
    care = _care_list(library, step, codes)
    groups.append(care.moved(0, max(bottom + 6, top + process.h / 2 + notes.h / 2 + 8)))
    if below is not None:
        label = _label(f"label-{step.number}-{below.to.number}", below, BELOW)
        groups.append(label.moved(MIDDLE + 6, bottom + 3))
        bottom += label.h + 4
    whole = together([*groups, right, Group(WIDTH, bottom, (), (*lines, *more))])
    return Drawn(whole, y + DIAMOND[1])


def _codes(aside: Sequence[Way]) -> dict[str, str]:
    """Where two ends of a step or more have cautions: each caution once, with the code by which an end names it."""
    ends = [way.to for way in aside if isinstance(way.to, End) and way.to.cautions]
    if len(ends) < 2:
        return {}
    names = dict.fromkeys(name for end in ends for name in end.cautions)
    return {name: f"C{number}" for number, name in enumerate(names, 1)}


def _care_list(library: Library, step: Step, codes: Mapping[str, str]) -> Group:
    """The cautions of a step's ends with their codes, below the decision and left of the exits."""
    if not codes:
        return Group(0.0, 0.0)
    room = MIDDLE - 16
    lines = ["Before a repair at the right:"]
    for name, code in codes.items():
        caution = library.cautions[name]
        lines += wrap(f"{code} {caution.level.upper()}: {caution.text}", room, SMALL, most=40, even=False)
    high = text_height(len(lines), SMALL)
    shape = Shape(f"care-{step.number}", "text", 0, 0, room, high, tuple(lines), SMALL, align="start", look="caution")
    return Group(room, high, (shape,))


def _process(step: Step, state: State) -> Group:
    """What is done: number, title, question, and who needs how long."""
    room = BOX - 36
    title = wrap(step.title, room, SIZE, bold=True)
    ask = wrap(step.ask, room, SIZE)
    facts = wrap(f"{minutes(step.minutes)}, {step.by}" + (", opens access" if step.opens else ""), room, SMALL)
    rows = [(title, SIZE, True, "plain"), (ask, SIZE, False, "plain"), (facts, SMALL, False, "small")]
    name = f"step-{step.number}"
    shapes, y = [], 5.0
    for place, (lines, size, bold, look) in enumerate(rows):
        high = text_height(len(lines), size)
        if lines:
            shapes.append(
                Shape(f"{name}!{place}", "text", 30, y, room, high, lines, size, bold, "start", _look(look), state)
            )
        y += high
    box = Shape(name, "box", 0, 0, BOX, y + 5, look="step", state=state, title=step.title, source=step.target)
    number = Shape(f"{name}!number", "text", 3, 4, 24, 12, (str(step.number),), 9.0, bold=True)
    return Group(BOX, y + 5, (box, number, *shapes))


def _look(word: str) -> Look:
    return "small" if word == "small" else "plain"


def _diamond(step: Step, y: float, state: State) -> Group:
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


def _cautions(library: Library, step: Step, least: float) -> Group:
    """The cautions of a step in a bracket."""
    lines = caution_lines(library, step.cautions, NOTES - 10, SMALL)
    if not lines:
        return Group(NOTES, 0.0)
    high = max(text_height(len(lines), SMALL) + 4, min(least, 24.0))
    title = " ".join(lines)
    bracket = Shape(f"note-{step.number}", "bracket", NOTES - 4, 0, 6, high, look="caution", title=title)
    text = Shape(f"note-{step.number}!text", "text", 0, 0, NOTES - 8, high, lines, SMALL, align="start", look="caution")
    return Group(NOTES, high, (bracket, text))


def caution_lines(library: Library, names: Sequence[str], room: float, size: float) -> tuple[str, ...]:
    """Cautions as lines, each with its level before it; none is shortened."""
    found: list[str] = []
    for name in names:
        caution = library.cautions[name]
        found += wrap(f"{caution.level.upper()}: {caution.text}", room, size, most=40, even=False)
    return tuple(found)


def _aside(
    library: Library,
    step: Step,
    aside: Sequence[Way],
    middle: float,
    pages: Mapping[int, int],
    taken: frozenset[int],
    codes: Mapping[str, str],
) -> tuple[Group, list[Line]]:
    """The exits to the right: each with its answer on it, to an end or a connector."""
    groups, lines, y = [], [], 0.0
    for way in aside:
        end = _end(library, step, way, taken, codes) if isinstance(way.to, End) else _connector(step, way, pages)
        label = _label(f"label-{step.number}-{way.to.number}", way, LABEL)
        high = max(end.h, label.h)
        at = y + high / 2
        on_way = way.to.number in taken and step.number in taken
        state: State = "path" if on_way else ""
        head = f"end-{step.number}-{way.to.number}"
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


def _label(name: str, way: Way, room: float) -> Group:
    """The answers of an exit and how likely they are."""
    lines = wrap(way.words, room, SMALL, bold=True, most=7, even=False)
    chance = (percent(way.probability),)
    high, low = text_height(len(lines), SMALL), text_height(1, 6.5)
    wide = max(width(line, SMALL, bold=True) for line in lines) if lines else 0.0
    wide = max(wide, width(chance[0], 6.5))
    return Group(
        wide,
        high + low,
        (
            Shape(name, "text", 0, 0, wide, high, lines, SMALL, bold=True, align="start", title=way.words),
            Shape(f"{name}!chance", "text", 0, high, wide, low, chance, 6.5, align="start", look="small"),
        ),
    )


def _end(library: Library, step: Step, way: Way, taken: frozenset[int], codes: Mapping[str, str]) -> Group:
    """A terminator: what is found, or what stays open, with its manual and cautions."""
    end = way.to
    assert isinstance(end, End)
    room = END - 26
    title = wrap(end_words(library, end), room, SIZE, bold=True, most=10)
    small = wrap("; ".join(end.manual), room, SMALL, most=20, even=False)
    if codes:
        named = ", ".join(codes[one] for one in end.cautions)
        care = wrap(f"Before this: cautions {named}" if named else "", room, SMALL, bold=True)
    else:
        care = caution_lines(library, end.cautions, room, SMALL)
    name = f"end-{step.number}-{end.number}"
    y, shapes = 6.0, []
    for key, lines, size, bold, look in (
        ("title", title, SIZE, True, "plain"),
        ("manual", small, SMALL, False, "small"),
        ("care", care, SMALL, bool(codes), "plain"),
    ):
        high = text_height(len(lines), size)
        if lines:
            shapes.append(Shape(f"{name}!{key}", "text", 13, y, room, high, lines, size, bold, "start", _look(look)))
        y += high
    state: State = "path" if end.number in taken else ""
    outline = Shape(
        name, "round", 0, 0, END, y + 6, look="end", state=state, title=f"{end_words(library, end)} {end.say}"
    )
    return Group(END, y + 6, (outline, *shapes))


def end_words(library: Library, end: End) -> str:
    """What an end says: what to replace, or what is still open with its shares."""
    if end.ending == "restored":
        return "The report is gone"
    titles = [_unit_title(library, unit) for unit in end.units]
    if end.ending == "found" and titles:
        return "Replace or repair " + " and ".join(titles)
    shares: dict[str, float] = {}
    for one in end.causes:
        shares[one.item or one.cause] = shares.get(one.item or one.cause, 0.0) + one.probability
    likely = [unit for unit in end.units if shares.get(unit, 0.0) >= SLIGHT] or list(end.units[:3])
    listed = [f"{_unit_title(library, unit)} ({percent(min(shares.get(unit, 0.0), 1.0))})" for unit in likely[:6]]
    more = len(end.units) - len(listed)
    shown = "; ".join(listed) + (f"; and {more} more" if more else "")
    start = "Goes on with another person" if end.ending == "continue" else "Still open"
    return f"{start}: {shown}" if shown else start


def _unit_title(library: Library, unit: str) -> str:
    return library.items[unit].title if unit in library.items else library.causes[unit].title


def _connector(step: Step, way: Way, pages: Mapping[int, int]) -> Group:
    """A circle with the number of the step that follows elsewhere."""
    number = way.to.number
    name = f"end-{step.number}-{number}"
    page = pages.get(number, 0)
    words = (f"to step {number}" + (f", page {page}" if page else ""),)
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
    text = Shape(f"{name}!words", "text", MIDDLE + CIRCLE, 0, 150, CIRCLE, (words,), SMALL, align="start", look="small")
    return Group(MIDDLE + 172, CIRCLE, (circle, text))
