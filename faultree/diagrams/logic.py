"""The success side as a drawing: conditions to signals to function to indication, left to right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations
from math import ceil

from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.logic_box import Box, box_of
from faultree.diagrams.logic_facts import SPLIT, Facts
from faultree.diagrams.metrics import width
from faultree.diagrams.net import Link, Net, Node, net_of
from faultree.diagrams.paging import BETWEEN
from faultree.diagrams.paper import Paper
from faultree.diagrams.picture import Arc, Entry, Form, Group, Line, Plain, Point, Shape, Sheet, State, Vertex, together
from faultree.diagrams.placed import Placed, placed
from faultree.diagrams.tree import evidence_samples

SMALLEST = 0.79
"""Panels are split rather than made smaller than this."""

LARGEST = 1.2
"""On paper with room to spare panels are made so much larger at most."""

SCREEN = (1750.0, 1500.0)
"""The room of a panel, in points, where no paper is asked for."""

PANEL = 12.0

ROUNDS = 24
"""So often at most is a panel split that is too large."""

SORTED = 4
"""So often at most are the boxes of a panel placed, each time with their inputs sorted by the places before."""


@dataclass(frozen=True, slots=True)
class Panel:
    """What is drawn of one system, or of a piece of it; `middles` says where its boxes stand."""

    name: str
    group: Group
    middles: Mapping[str, Point] = field(default_factory=dict)


def logic_drawing(asked: Request) -> Drawing:
    """The logic behind a symptom, a panel for each system that has a part in it."""
    net = net_of(asked.library, asked.symptom)
    facts = Facts(asked, net, {node.id: node.system for node in net.nodes.values()})
    # Logic flows from left to right: paper lies with its long side along it.
    sheets = _paged(facts, asked.ways[0] if asked.ways else None)
    plain = Plain(tuple(_outline(net, facts)), tuple(_vertices(net, facts)), tuple(_arcs(net)), "LR")
    title = asked.library.symptoms[asked.symptom].title
    return Drawing("logic", asked.symptom, title, sheets, plain, asked.theme, signs=(SIGNS,))


def _frame(facts: Facts, *, marks: bool) -> Frame:
    return Frame(facts.asked.block("Logic"), _legend(facts.net, facts.asked, marks=marks))


def _paged(facts: Facts, paper: Paper | None) -> tuple[Sheet, ...]:
    """The sheets: one as large as it needs, or pages of a size."""
    w, h = SCREEN
    if paper:
        w, h = paper.room[0], paper.room[1] - _frame(facts, marks=True).height(paper.room[0])
    facts = _banded(
        replace(facts, assumed=99 if paper else 0), w / (SMALLEST if paper else 1.0), h / (SMALLEST if paper else 1.0)
    )
    frame = _frame(facts, marks=bool(facts.marks))
    panels = [_panel(facts, name) for name in facts.panels()]
    if paper is None:
        return (sheet(frame, _shelved(panels, max(one.group.w for one in panels)), 1, 1, None),)
    pages = _filled(panels, w / SMALLEST, h / SMALLEST)
    numbers = {panel.name: number for number, page in enumerate(pages, 1) for panel in page}
    final = replace(facts, pages=numbers if len(pages) > 1 else {}, assumed=0)
    made = [_as_large([_panel(final, panel.name) for panel in page], w, h) for page in pages]
    return tuple(sheet(frame, group, number, len(made), paper) for number, group in enumerate(made, 1))


def _filled(panels: Sequence[Panel], w: float, h: float) -> list[list[Panel]]:
    """Panels in pages, each on the first that has room for it: what is narrow stands beside others."""
    pages: list[list[Panel]] = []
    for panel in panels:
        for page in pages:
            tried = _shelved([*page, panel], w)
            if tried.w <= w + 0.01 and tried.h <= h + 0.01:
                page.append(panel)
                break
        else:
            pages.append([panel])
    return pages


def _as_large(panels: Sequence[Panel], w: float, h: float) -> Group:
    """The panels of one page as large as it holds them, within reason."""
    found = []
    for step in range(round((LARGEST - SMALLEST) / 0.02) + 1):
        scale = LARGEST - 0.02 * step
        group = _shelved(panels, w / scale)
        found.append(group.scaled(min(scale, w / group.w, h / group.h)))
        if group.w <= w / scale + 0.01 and group.h <= h / scale + 0.01:
            return found[-1]
    # With its page references a panel may be a little higher than it was, and a single signal may be too large.
    return max(found, key=lambda one: one.w * one.h)


def _shelved(panels: Sequence[Panel], width: float) -> Group:
    """Panels in rows, the report's first; a row takes what its width holds."""
    groups, x, y, high = [], 0.0, 0.0, 0.0
    for panel in panels:
        if x and x + panel.group.w > width + 0.01:
            x, y, high = 0.0, y + high + BETWEEN, 0.0
        groups.append(panel.group.moved(x, y))
        x += panel.group.w + BETWEEN
        high = max(high, panel.group.h)
    return together(groups)


def _banded(facts: Facts, w: float, h: float) -> Facts:
    """Panels that do not fit in a room split, from left to right or from top to bottom, until all fit."""
    done: dict[object, Panel] = {}
    for _ in range(ROUNDS):
        panels = [_known(facts, name, done) for name in facts.panels()]
        large = [one for one in panels if _too_large(facts, one, w, h)]
        split = next((parts for one in large if (parts := _parted(facts, one, w, h))), None)
        if split is None:
            break
        facts = replace(facts, home={**facts.home, **split})
    return facts


def _too_large(facts: Facts, panel: Panel, w: float, h: float) -> bool:
    """Whether a panel does not fit in a room and can still be split: it has more than one signal."""
    big = [name for name in _own(facts, panel) if facts.net.nodes[name].kind in ("signal", "report")]
    return len(big) > 1 and max(panel.group.w / w, panel.group.h / h) > 1.0


def _own(facts: Facts, panel: Panel) -> list[str]:
    return [name for name, home in facts.home.items() if home == panel.name]


def _known(facts: Facts, name: str, done: dict[object, Panel]) -> Panel:
    """A panel, laid out anew only where its boxes or what they need of others have changed."""
    links = (link for link in facts.net.links if facts.home[link.head] == name)
    inner = tuple(node for node, home in facts.home.items() if home == name)
    key = inner, tuple((link.tail, link.head, facts.crosses(link)) for link in links)
    if key not in done:
        done[key] = _panel(facts, name)
    return done[key]


def _parted(facts: Facts, panel: Panel, w: float, h: float) -> dict[str, str]:
    """The new panel of each box by where it stands; what leads only to one box goes with that box.

    Empty where neither a cut from top to bottom nor one from left to right parts anything.
    """
    own = [facts.net.nodes[name] for name in _own(facts, panel)]
    across = panel.group.w / w >= panel.group.h / h
    for axis in (0, 1) if across else (1, 0):
        count = max(2, ceil(panel.group.w / w if axis == 0 else panel.group.h / h))
        middles = {node.id: panel.middles[node.id][axis] for node in own if node.kind in ("signal", "report")}
        parts = _columns(middles, count) if axis == 0 else _rows(middles, count)
        if len(set(parts.values())) > 1:
            break
    else:
        return {}
    heads = {link.tail: link.head for link in facts.net.links}
    for node in own:
        # A gate is made after the box that it leads to, so that box has its part by now.
        if node.id not in parts and heads[node.id] in parts:
            parts[node.id] = parts[heads[node.id]]
    return {name: f"{panel.name}{SPLIT}{part:02}" for name, part in parts.items()}


def _columns(middles: Mapping[str, float], count: int) -> dict[str, int]:
    """Boxes parted by their distance from the left: those above each other stay together, or links would lead back."""
    left, right = min(middles.values()), max(middles.values())
    part = max(right - left, 1.0) / count
    return {name: min(count - 1, int((x - left) / part)) for name, x in middles.items()}


def _rows(middles: Mapping[str, float], count: int) -> dict[str, int]:
    """Boxes parted from the top, as many to a part as to the next."""
    names = sorted(middles, key=lambda name: (middles[name], name))
    each = -(-len(names) // count)
    return {name: place // each for place, name in enumerate(names)}


# --- panels ----------------------------------------------------------------------------------------


def _panel(facts: Facts, name: str) -> Panel:
    """The boxes of one panel, with a triangle for each signal that comes from another."""
    net = facts.net
    boxes = {node.id: box_of(node, facts) for node in net.nodes.values() if facts.home[node.id] == name}
    links = []
    for link in net.links:
        if facts.home[link.head] == name:
            tail = link.tail
            if facts.crosses(link):
                tail = f"{link.tail}>{link.head}"
                boxes[tail] = box_of(replace(net.nodes[link.tail], id=tail), facts, transfer=True)
            links.append(replace(link, tail=tail))
    w, h, corners, curves = _placed(boxes, links)
    groups = [boxes[one].group.moved(*corner) for one, corner in corners.items()]
    lines = tuple(_line(link, curve, facts) for link, curve in zip(links, curves, strict=True))
    middles = {one: (x + boxes[one].w / 2, y + boxes[one].h / 2) for one, (x, y) in corners.items()}
    return _framed(name, together([*groups, Group(w, h, (), lines)]), middles, facts)


def _placed(boxes: Mapping[str, Box], links: Sequence[Link]) -> Placed:
    """Places for boxes whose every input ends at a place of its own.

    The inputs of a qualifier are sorted by where they come from, so that they do not cross before the box. Where a box
    stands is known only once it is placed: a few times in turn, until nothing crosses or nothing gets better.
    """
    sizes = {name: (box.w, box.h) for name, box in boxes.items()}
    pairs = [(link.tail, link.head) for link in links]
    order, best, least = list(range(len(links))), None, 0
    for _ in range(SORTED):
        ends = _ends(boxes, links, order)
        found = placed(sizes, pairs, ends)
        middles = [found[2][link.tail][1] + boxes[link.tail].h / 2 for link in links]
        crossings = _crossings(links, middles, ends)
        if best is None or crossings < least:
            best, least = found, crossings
        order = sorted(range(len(links)), key=lambda number: (middles[number], number))
        if not crossings or _ends(boxes, links, order) == ends:
            break
    assert best is not None
    return best


def _crossings(links: Sequence[Link], middles: Sequence[float], ends: Sequence[float]) -> int:
    """How many pairs of inputs of one qualifier come from above each other and end the other way round."""
    heads: dict[str, list[int]] = {}
    for number, link in enumerate(links):
        if link.way == "follows":
            heads.setdefault(link.head, []).append(number)
    pairs = (pair for numbers in heads.values() for pair in combinations(numbers, 2))
    return sum((middles[one] - middles[two]) * (ends[one] - ends[two]) < 0 for one, two in pairs)


def _ends(boxes: Mapping[str, Box], links: Sequence[Link], order: Sequence[int]) -> list[float]:
    """For each link how far below the upper edge of its box it ends; inputs of one qualifier stand in an order."""
    slots = {name: list(box.slots) for name, box in boxes.items()}
    found = {}
    for number in order:
        link = links[number]
        if link.way == "follows":
            found[number] = slots[link.head].pop(0)
        else:
            tail = link.tail.partition(">")[0]
            found[number] = boxes[link.head].rows[tail, link.turned]
    return [found[number] for number in range(len(links))]


def _line(link: Link, curve: Sequence[Point], facts: Facts) -> Line:
    tail, head = link.tail.partition(">")[0], link.head
    state: State = "path" if {tail, head} <= facts.way else ""
    return Line(
        link.tail,
        link.head,
        tuple(curve),
        "ring" if link.ring else "arrow",
        state,
        dashed=link.way == "forced",
        curved=True,
    )


def _framed(name: str, content: Group, middles: Mapping[str, Point], facts: Facts) -> Panel:
    """A panel with its title above it."""
    title = facts.panel_title(name)
    inner = content.moved(PANEL, PANEL + 16)
    w, h = max(inner.w, width(title, 9.5, bold=True) + PANEL + 2) + PANEL, inner.h + PANEL
    edge = Shape(f"panel-{name}", "box", 0, 0, w, h, look="frame", title=title)
    words = Shape(f"panel-{name}!title", "text", PANEL, 5, w - 2 * PANEL, 16, (title,), 9.5, bold=True, align="start")
    return Panel(name, Group(w, h, (edge, words, *inner.shapes), inner.lines), middles)


# --- legend and plain forms ------------------------------------------------------------------------

SIGNS = "(on) or (off): what it is in this situation while nothing is wrong. & all of, ≥1 one or more of."


WAYS = {"lost": "taken away by", "forced": "forced by"}


def _legend(net: Net, asked: Request, *, marks: bool) -> tuple[Sample, ...]:
    """The symbols that are drawn; `marks`: triangles too."""
    signs = {node.sign for node in net.nodes.values()}
    kinds = {node.kind for node in net.nodes.values()}
    arrow = Line("", "", ((0.0, 5.0), (26.0, 5.0)), "arrow")
    ring = Line("", "", ((0.0, 5.0), (26.0, 5.0)), "ring")
    forced = Line("", "", ((0.0, 5.0), (26.0, 5.0)), "arrow", dashed=True)
    return used(
        [
            (True, sample("box", "signal; on or off: its value here while nothing is wrong", look="gate")),
            ("&" in signs, sample("box", "needs all inputs", "&", look="mark")),
            ("≥1" in signs, sample("box", "needs one or more", "≥1", look="mark")),
            (
                any(sign.startswith("≥") and sign != "≥1" for sign in signs),
                sample("box", "needs that many", "≥m", look="mark"),
            ),
            ("=1" in signs, sample("box", "needs exactly one", "=1", look="mark")),
            (True, Sample(Group(26, 10, (), (arrow,)), "must be so")),
            (True, Sample(Group(26, 10, (), (ring,)), "must not be so; beside “taken away by”: takes it away")),
            (
                any(link.way == "forced" for link in net.links),
                Sample(Group(26, 10, (), (forced,)), "forces it, whatever else is so"),
            ),
            ("condition" in kinds, sample("house", "condition of the situation", "on", look="leaf")),
            (True, sample("circle", "fault", look="leaf")),
            (marks, sample("triangle", "same letter: same signal, drawn elsewhere", "A", look="transfer")),
            *evidence_samples(asked),
        ]
    )


def _outline(net: Net, facts: Facts) -> Iterator[Entry]:
    library = facts.asked.library
    for system in net.systems():
        yield Entry(0, "", library.systems[system].title)
        for node in reversed([one for one in net.nodes.values() if one.system == system]):
            if node.kind in ("signal", "report"):
                value = "" if node.kind == "report" else " (on)" if facts.sound[node.source] else " (off)"
                title = (
                    library.symptoms[node.source].title if node.kind == "report" else library.node(node.source).title
                )
                yield Entry(1, "", f"{title}{value}", state="path" if node.id in facts.way else "")
                yield from _needs(net, node.id, node.sign, facts, 2)
                for row in node.rows:
                    if not row.tail:
                        says = facts.asked.evidence.says(row.name)
                        state = facts.asked.evidence.state(row.name)
                        yield Entry(2, f"{WAYS[row.way]}:", library.causes[row.name].title, says, state)


def _needs(net: Net, head: str, sign: str, facts: Facts, depth: int) -> Iterator[Entry]:
    words = {"follows": sign or "follows:", "lost": "taken away by:", "forced": "forced by:"}
    for link in net.links:
        if link.head == head:
            tail = net.nodes[link.tail]
            title = facts.asked.library.node(tail.source).title if tail.source else "gate"
            yield Entry(depth, words[link.way], f"not: {title}" if link.turned else title)
            if tail.kind == "gate":
                yield from _needs(net, tail.id, tail.sign, facts, depth + 1)


def _vertices(net: Net, facts: Facts) -> Iterator[Vertex]:
    library = facts.asked.library
    forms: dict[str, Form] = {"condition": "house", "cause": "circle", "report": "round"}
    for node in net.nodes.values():
        lines = [_title(node, facts), node.sign]
        lines += [f"{WAYS[row.way]}: {net.says(row)}" for row in node.rows]
        state: State = "path" if node.id in facts.way else ""
        words = "\n".join(line for line in lines if line)
        yield Vertex(node.id, forms.get(node.kind, "box"), words, state, library.systems[node.system].title)


def _title(node: Node, facts: Facts) -> str:
    library = facts.asked.library
    if node.kind == "report":
        return library.symptoms[node.source].title
    return library.node(node.source).title if node.source else ""


def _arcs(net: Net) -> Iterator[Arc]:
    for link in net.links:
        yield Arc(link.tail, link.head, "forces" if link.way == "forced" else "", "", "ring" if link.ring else "arrow")
