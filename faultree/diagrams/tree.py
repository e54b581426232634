"""The derived fault tree as a drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from faultree.diagrams.blocks import Layout
from faultree.diagrams.drawing import Drawing, DrawingError, Request
from faultree.diagrams.folding import idle_branches
from faultree.diagrams.frame import Frame, Sample, sample, sheet, used
from faultree.diagrams.paging import arranged, beside, paged, references
from faultree.diagrams.parts import Part, unfolded
from faultree.diagrams.picture import Arc, Entry, Form, Group, Line, Plain, Shape, Sheet, Vertex
from faultree.diagrams.symbols import FORMS, doubled, learnt, likelihood, qualifier, unsaid
from faultree.logic.fault_tree import FaultTree
from faultree.walk.scale import bands

MOST = 2000
"""A tree with more parts is not drawn: nobody reads a hundred sheets."""

MOST_ON_ONE = 400
"""A tree with more parts needs paper, over which it can be split."""

DEEPEST = 150

WIDEST = 2000.0
"""On one sheet a tree wider than this is cut up, in points."""

LARGEST = 1.3
"""On paper with room to spare a tree is drawn so much larger at most."""


class Proportions(NamedTuple):
    """How wide a drawing on one sheet is made for its height, and how wide at least (points)."""

    width: float
    height: float
    least: float


LYING = Proportions(1.4, 1.0, 420.0)
"""As a page in landscape."""

UPRIGHT = Proportions(0.7, 1.0, 320.0)
"""As a page in portrait, or a phone."""


def tree_drawing(asked: Request, tree: FaultTree, proportions: Proportions = LYING) -> Drawing:
    """The drawing of a fault tree; DrawingError where it has too many parts."""
    _refuse_if_too_deep(asked, tree)
    folded = frozenset() if asked.whole else idle_branches(asked.library, tree)
    root = unfolded(tree, asked.evidence, folded=folded, depth=asked.depth)
    _refuse_if_too_large(asked, root)
    words = _Words(asked)
    frame = Frame(asked.block("Fault tree", words.scale()), legend(root, asked))
    layout = Layout({}, words.notes, words.bar)
    if not asked.ways:
        block = layout.best(root, proportions.width, proportions.height)
        cut = block.w > WIDEST
        whole = beside(root, layout, proportions.width / proportions.height) if cut else block.group()
        frame = replace(frame, legend=legend(root, asked, cut=cut))
        sheets = [sheet(frame, whole, 1, 1, None, proportions.least)]
        return _drawing(asked, tree, root, sheets, words)
    plan = paged(root, layout, asked.ways, frame.height)
    w, h = plan.paper.room
    w, h = w / plan.scale, (h - frame.height(w)) / plan.scale
    groups = [
        _page(page, Layout(references(plan.pages, here), words.notes, words.bar), (w, h))
        for here, page in enumerate(plan.pages, 1)
    ]
    # On large paper all pages grow alike; a page reference may need a little more room than was kept.
    growth = min(LARGEST / plan.scale, *(min(w / max(one.w, 1), h / max(one.h, 1)) for one in groups))
    fits = [min(max(growth, 1.0), w / max(one.w, 1), h / max(one.h, 1)) for one in groups]
    sheets = [
        sheet(frame, one.scaled(plan.scale * fit), number, len(groups), plan.paper)
        for number, (one, fit) in enumerate(zip(groups, fits, strict=True), 1)
    ]
    return _drawing(asked, tree, root, sheets, words)


def _page(parts: Sequence[Part], layout: Layout, room: tuple[float, float]) -> Group:
    """The parts of a page; where its references need more room than was kept, a little larger than the page."""
    more = (room[0] * 1.3, room[1] * 1.3)
    return arranged(parts, layout, room) or arranged(parts, layout, more) or Group(0, 0)


def _refuse_if_too_deep(asked: Request, tree: FaultTree) -> None:
    """Refuse what would take too long to unfold, unless only its upper levels are wanted."""
    if asked.depth is not None and asked.depth <= DEEPEST:
        return
    levels: dict[str, int] = {}
    for node in reversed(tuple(tree)):
        levels[node.key] = 1 + max((levels[name] for name in node.inputs), default=0)
    if levels[tree.top] > DEEPEST:
        raise DrawingError(f"the fault tree has {levels[tree.top]} levels; draw only its upper ones with '--depth 20'")


def _refuse_if_too_large(asked: Request, root: Part) -> None:
    parts = sum(1 for _ in root)
    most = MOST if asked.paper else MOST_ON_ONE
    if parts <= most:
        return
    other = "" if asked.paper or parts > MOST else "split it over sheets with '--paper a3', or "
    sheets = "a set of sheets" if asked.paper else "one sheet"
    raise DrawingError(
        f"the fault tree has {parts} parts, more than {most} for {sheets}; "
        f"{other}draw only its upper levels with '--depth 4'"
    )


def _drawing(asked: Request, tree: FaultTree, root: Part, sheets: Sequence[Sheet], words: _Words) -> Drawing:
    plain = Plain(tuple(_outline(root, 0, words)), tuple(_vertices(root, words)), tuple(_arcs(root)), "TB")
    return Drawing("tree", asked.symptom, tree.title, tuple(sheets), plain, asked.theme, signs=_signs(asked))


SIGNS = (
    "& all of, ≥1 one or more of, ≥m that many or more, =1 exactly one; (o) basic event "
    "(a number: the same event again), [on] [off] house event, "
    "<> undeveloped, {} branch not drawn further, /A\\ transfer: same letter, same branch."
)
FOUND = "* from the likeliest cause to the top, ? still possible, - excluded or below 0.1 %, ! seen, not as expected."


def _signs(asked: Request) -> tuple[str, ...]:
    return (SIGNS, FOUND) if asked.evidence.given else (SIGNS,)


class _Words:
    """The notes and bars of the parts."""

    def __init__(self, asked: Request) -> None:
        self.asked = asked
        self.library = asked.library
        self.evidence = asked.evidence

    def notes(self, part: Part) -> tuple[str, ...]:
        """What stands in small type below a title."""
        return tuple(self._notes(part))

    def _notes(self, part: Part) -> Iterator[str]:
        node = part.node
        if part.kind == "cause" and not part.negated:
            cause = self.library.causes[node.source]
            if self.library.history:
                yield learnt(cause.likelihood, cause.probability, self.library.bands)
            else:
                yield likelihood(cause.likelihood, cause.probability)
        if part.kind == "house":
            yield f"{'on' if node.state else 'off'} in this situation"
        if part.kind == "undeveloped":
            yield "not developed further"
        if part.kind == "folded":
            yield part.note or "so while nothing is wrong, and no cut set needs a fault in it; not drawn further"
        yield from self._seen(part)
        home = self.asked.symptom.partition("/")[0]
        if part.kind in ("gate", "folded") and node.title and node.system not in ("", home):
            yield f"from: {self.library.systems[node.system].title}"

    def _seen(self, part: Part) -> Iterator[str]:
        """What was observed of it: of a gate, which may say the opposite of its signal, what the signal was."""
        observed = self.evidence.observed.get(part.node.source) if part.node.source else None
        if observed and part.kind != "transfer":
            home = self.library.symptoms[self.asked.symptom].situation
            yield (observed.answered if part.kind == "cause" else observed.stated)(self.library, home)

    def bar(self, part: Part) -> tuple[float, str] | None:
        """The bar of a suspect, and its words."""
        if part.kind != "cause" or not self.evidence.given or part.negated:
            return None
        return self.evidence.probabilities.get(part.node.source, 0.0), self.evidence.says(part.node.source)

    def scale(self) -> str:
        """What the likelihood words stand for, where there are any."""
        return bands(self.library, self.library.causes)


# --- the legend ------------------------------------------------------------------------------------


def legend(root: Part, asked: Request, *, cut: bool = False) -> tuple[Sample, ...]:
    """The symbols that the drawing uses, and what they mean; `cut`: parts of it stand beside each other."""
    parts = list(root)
    kinds = {part.kind for part in parts}
    gates = {part.node.gate for part in parts if part.kind == "gate"}
    again = any(part.kind == "cause" and part.mark for part in parts)
    return used(
        [
            (True, sample("box", "event, described", look="gate")),
            ("all" in gates, sample("box", "all of", "&", look="mark")),
            ("any" in gates, sample("box", "one or more of", "≥1", look="mark")),
            ("at_least" in gates, sample("box", "that many or more of", "≥m", look="mark")),
            ("one_of" in gates, sample("box", "exactly one of", "=1", look="mark")),
            ("none" in gates or "not" in gates, _ring("none of (ring at the output)", "≥1")),
            (any(part.negated for part in parts), _ring("ring at an input: must not be so", "")),
            ("cause" in kinds, sample("circle", "basic event, with its likelihood", look="leaf")),
            (again, sample("circle", "same number: same event", "1", look="leaf")),
            ("house" in kinds, sample("house", "house event: a fact of the situation", "on", look="leaf")),
            ("undeveloped" in kinds, sample("diamond", "undeveloped event", look="leaf")),
            ("folded" in kinds, sample("hexagon", "branch not drawn further", look="leaf")),
            (
                "transfer" in kinds or bool(asked.paper) or cut,
                sample("triangle", "transfer: same letter, same branch", "A", look="transfer"),
            ),
            *evidence_samples(asked),
        ]
    )


def evidence_samples(asked: Request) -> list[tuple[bool, Sample]]:
    """What the marks of the evidence mean."""
    if not asked.evidence.given:
        return []
    bar = Shape("sample-bar", "bar", 0, 0, 28, 6, value=0.6)
    way = Line("", "", ((0, 4), (26, 4)), state="path")
    return [
        (True, Sample(Group(28, 6, (bar,)), "probability now")),
        (True, Sample(Group(26, 8, (), (way,)), "heavy: from the likeliest cause to the symptom")),
        (True, sample("box", "dashed, or crossed out: excluded, or below 0.1 %", "×", look="gate", state="cleared")),
        (
            bool(asked.evidence.observed),
            _doubled("double frame: observed other than expected"),
        ),
    ]


def _doubled(words: str) -> Sample:
    outer = Shape(f"sample-{words}", "box", 0, 0, 26, 15, look="gate", state="odd")
    return Sample(Group(26, 15, (outer, doubled(outer))), words)


def _ring(words: str, sign: str) -> Sample:
    shape = Shape(f"sample-{words}", "box", 3, 8, 22, 11, (sign,) if sign else (), 7.0, True, look="mark")
    line = Line("", "", ((14, 0), (14, 8)), "ring")
    return Sample(Group(28, 19, (shape,), (line,)), words)


# --- without places --------------------------------------------------------------------------------


def _outline(part: Part, depth: int, words: _Words) -> Iterator[Entry]:
    marks = {
        "cause": f"({part.mark or 'o'})",
        "house": "[on]" if part.node.state else "[off]",
        "undeveloped": "<>",
        "folded": "{}",
    }
    mark = qualifier(part) if part.kind == "gate" else marks.get(part.kind, f"/{part.mark}\\")
    title = part.node.title or unsaid(part)
    if part.negated:
        title = f"not: {title}"
    notes = [*words.notes(part)]
    if part.kind == "gate" and part.mark:
        title += f" /{part.mark}\\"
    bar = words.bar(part)
    if bar:
        notes.insert(0, bar[1])
    if part.kind == "transfer":
        notes.append(f"drawn at {part.mark}")
    yield Entry(depth, mark, title, "; ".join(notes), part.state)
    for kid in part.kids:
        yield from _outline(kid, depth + 1, words)


def _vertices(root: Part, words: _Words) -> Iterator[Vertex]:
    for part in root:
        form: Form = "box" if part.kind == "gate" else FORMS[part.kind]
        title = part.node.title
        if part.kind == "gate":
            title = f"{title}\n{qualifier(part)}" if title else qualifier(part)
        notes = words.notes(part)
        bar = words.bar(part)
        lines = [title, *notes, *([bar[1]] if bar else []), *([f"mark {part.mark}"] if part.mark else [])]
        yield Vertex(part.id, form, "\n".join(line for line in lines if line), part.state)


def _arcs(part: Part) -> Iterator[Arc]:
    for kid in part.kids:
        yield Arc(part.id, kid.id, "not" if kid.negated else "", kid.state if kid.state == "path" else "", "")
        yield from _arcs(kid)
