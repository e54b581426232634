"""The success side as a drawing: conditions to signals to function to indication, left to right."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil

from faultree.diagrams.drawing import Drawing, Request
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.logic_box import box_of
from faultree.diagrams.logic_facts import SPLIT, Facts
from faultree.diagrams.metrics import width
from faultree.diagrams.net import Link, Net, Node, net_of
from faultree.diagrams.paging import BETWEEN
from faultree.diagrams.paper import Paper
from faultree.diagrams.picture import Arc, Entry, Form, Group, Line, Plain, Point, Shape, Sheet, State, Vertex, together
from faultree.diagrams.placed import placed
from faultree.diagrams.tree import evidence_samples

SMALLEST = 0.76
"""Panels are split rather than made smaller than this."""

SCREEN = (1750.0, 1500.0)
"""The room of a panel, in points, where no paper is asked for."""

PANEL = 12.0

ROUNDS = 24
"""So often at most is a panel split that is too large."""


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
    frame = Frame(asked.block("Logic"), _legend(net, asked))
    # Logic flows from left to right: paper lies with its long side along it.
    sheets = _paged(facts, frame, asked.ways[0] if asked.ways else None)
    plain = Plain(tuple(_outline(net, facts)), tuple(_vertices(net, facts)), tuple(_arcs(net)), "LR")
    title = asked.library.symptoms[asked.symptom].title
    return Drawing("logic", asked.symptom, title, sheets, plain, asked.theme, signs=(SIGNS,))


def _paged(facts: Facts, frame: Frame, paper: Paper | None) -> tuple[Sheet, ...]:
    """The sheets: one as large as it needs, or pages of a size."""
    w, h = SCREEN
    if paper:
        w, h = paper.room[0], paper.room[1] - frame.height(paper.room[0])
    facts = _banded(facts, w / (SMALLEST if paper else 1.0), h / (SMALLEST if paper else 1.0))
    panels = [_panel(facts, name) for name in facts.panels()]
    if paper is None:
        return (sheet(frame, _stacked(panels), 1, 1, None),)
    # A single signal that is too large even so makes only its own page smaller.
    fits = [min(w / panel.group.w, h / panel.group.h) for panel in panels]
    scale = min([1.0, *(one for one in fits if one >= SMALLEST * 0.99)])
    pages = list(_stacks(panels, h / scale))
    numbers = {panel.name: number for number, page in enumerate(pages, 1) for panel in page}
    final = replace(facts, pages=numbers if len(pages) > 1 else {})
    groups = [_stacked([_panel(final, panel.name) for panel in page]) for page in pages]
    # With its page references a panel may be a little higher than it was without.
    made = [one.scaled(min(scale, w / one.w, h / one.h)) for one in groups]
    return tuple(sheet(frame, group, number, len(made), paper) for number, group in enumerate(made, 1))


def _banded(facts: Facts, w: float, h: float) -> Facts:
    """Panels that do not fit in a room split, from left to right or from top to bottom, until all fit."""
    done: dict[object, Panel] = {}
    for _ in range(ROUNDS):
        panels = [_known(facts, name, done) for name in facts.panels()]
        large = next((one for one in panels if _too_large(facts, one, w, h)), None)
        if large is None:
            break
        facts = replace(facts, home={**facts.home, **_parted(facts, large, w, h)})
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
    """The new panel of each box by where it stands; what leads only to one box goes with that box."""
    axis = 0 if panel.group.w / w >= panel.group.h / h else 1
    count = max(2, ceil(panel.group.w / w if axis == 0 else panel.group.h / h))
    own = [facts.net.nodes[name] for name in _own(facts, panel)]
    big = [node.id for node in own if node.kind in ("signal", "report")]
    places = sorted(big, key=lambda name: (panel.middles[name][axis], name))
    each = -(-len(places) // count)
    parts = {name: place // each for place, name in enumerate(places)}
    if axis == 0:
        # Boxes that stand above each other stay together, or links would lead backwards.
        edges = [panel.middles[places[place]][0] for place in range(each, len(places), each)]
        parts = {name: sum(panel.middles[name][0] >= edge for edge in edges) for name in places}
    heads = {link.tail: link.head for link in facts.net.links}
    for node in own:
        # A gate is made after the box that it leads to, so that box has its part by now.
        if node.id not in parts and heads[node.id] in parts:
            parts[node.id] = parts[heads[node.id]]
    return {name: f"{panel.name}{SPLIT}{part:02}" for name, part in parts.items()}


def _stacks(panels: Sequence[Panel], height: float) -> Iterator[list[Panel]]:
    """Panels in their order, as many to a page as it holds."""
    page: list[Panel] = []
    for panel in panels:
        if page and sum(one.group.h + BETWEEN for one in page) + panel.group.h > height + 0.01:
            yield page
            page = []
        page.append(panel)
    yield page


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
    pairs = [(link.tail, link.head) for link in links]
    w, h, corners, curves = placed({name: (box.w, box.h) for name, box in boxes.items()}, pairs)
    groups = [boxes[one].group.moved(*corner) for one, corner in corners.items()]
    lines = tuple(_line(link, curve, facts) for link, curve in zip(links, curves, strict=True))
    middles = {one: (x + boxes[one].w / 2, y + boxes[one].h / 2) for one, (x, y) in corners.items()}
    return _framed(name, together([*groups, Group(w, h, (), lines)]), middles, facts)


def _line(link: Link, curve: Sequence[Point], facts: Facts) -> Line:
    turned = link.turned != (link.way == "lost")
    tail, head = link.tail.partition(">")[0], link.head
    state: State = "path" if {tail, head} <= facts.way else ""
    return Line(
        link.tail,
        link.head,
        tuple(curve),
        "ring" if turned else "arrow",
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


def _stacked(panels: Sequence[Panel]) -> Group:
    """Panels below each other, the report's first."""
    groups, y = [], 0.0
    for panel in panels:
        groups.append(panel.group.moved(0.0, y))
        y += panel.group.h + BETWEEN
    return together(groups)


# --- legend and plain forms ------------------------------------------------------------------------

SIGNS = "(on) or (off): what it is in this situation while nothing is wrong. & all of, ≥1 one or more of."


WAYS = {"lost": "taken away by", "forced": "forced by"}


def _legend(net: Net, asked: Request) -> tuple[Sample, ...]:
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
            (any(sign not in ("", "&", "≥1") for sign in signs), sample("box", "needs that many", "≥m", look="mark")),
            (True, Sample(Group(26, 10, (), (arrow,)), "must be so")),
            (True, Sample(Group(26, 10, (), (ring,)), "must not be so, or takes it away")),
            (any(link.way == "forced" for link in net.links), Sample(Group(26, 10, (), (forced,)), "forces it")),
            ("condition" in kinds, sample("house", "condition of the situation", "on", look="leaf")),
            (True, sample("circle", "fault", look="leaf")),
            (
                len(net.systems()) > 1,
                sample("triangle", "same letter: same signal, of another system", "A", look="transfer"),
            ),
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
                    if row.name in library.causes:
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
        lines += [f"{WAYS[row.way]}: {library.node(row.name).title}" for row in node.rows]
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
        turned = link.turned != (link.way == "lost")
        yield Arc(link.tail, link.head, "forces" if link.way == "forced" else "", "", "ring" if turned else "arrow")
