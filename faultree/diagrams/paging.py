"""A fault tree over sheets: fitted whole where it can be, else cut at gates, with the page of the other end."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from faultree.diagrams.blocks import Block, Layout
from faultree.diagrams.paper import Paper
from faultree.diagrams.parts import Part, letters
from faultree.diagrams.picture import Group, together

SCALES = (1.0, 0.92, 0.85, 0.78)
"""A drawing may be made this much smaller to fit its paper: titles stay above 6.5 points."""

BETWEEN = 24.0
"""Between two cut-off parts on one page, in points."""

Room = tuple[float, float]

PIECE: Room = (1000.0, 900.0)
"""The room of each part where a wide tree is cut up on one sheet, in points."""


@dataclass(frozen=True, slots=True)
class Paged:
    """The parts of each page and where they stand, at one scale."""

    paper: Paper
    scale: float
    pages: tuple[tuple[Part, ...], ...]


def fitted(part: Part, layout: Layout, room: Room) -> Block | None:
    """The part within a room, or None."""
    block = layout.best(part, *room)
    return block if block.w <= room[0] + 0.01 and block.h <= room[1] + 0.01 else None


def paged(root: Part, layout: Layout, ways: Sequence[Paper], taken: Callable[[float], float]) -> Paged:
    """The tree on sheets of a size: whole on one, either way, if it can be; else cut into parts.

    `taken(width)` is the height that the frame takes.
    """
    for scale in SCALES:
        for paper in ways:
            if fitted(root, layout, _room(paper, scale, taken)):
                return Paged(paper, scale, ((root,),))
    return min((_split(root, layout, paper, taken) for paper in ways), key=lambda one: len(one.pages))


def _split(root: Part, layout: Layout, paper: Paper, taken: Callable[[float], float]) -> Paged:
    room = _room(paper, SCALES[-1], taken)
    parts = _named(_cut(root, layout, room))
    return Paged(paper, SCALES[-1], tuple(_shelved(parts, layout, room)))


def _room(paper: Paper, scale: float, taken: Callable[[float], float]) -> Room:
    w, h = paper.room
    return w / scale, (h - taken(w)) / scale


def beside(root: Part, layout: Layout, proportion: float) -> Group:
    """The tree cut as for paper, its parts in rows on one sheet of about this proportion of width to height.

    Where a tree is wider than any wall, lines as long as the sheet are worse to follow than letters.
    """
    blocks = [_smallest(part, layout, PIECE) for part in _named(_cut(root, layout, PIECE))]
    area = sum((block.w + BETWEEN) * (block.h + BETWEEN) for block in blocks)
    first = max([*(block.w for block in blocks), (area * proportion) ** 0.5])
    tried = [_rows(blocks, first * more) for more in (1.0, 1.1, 1.2, 1.35, 1.5)]
    return min(tried, key=lambda one: max(one.w / proportion, one.h))


def _rows(blocks: Sequence[Block], width: float) -> Group:
    groups, x, y, high = [], 0.0, 0.0, 0.0
    for block in blocks:
        if x and x + block.w > width + 0.01:
            x, y, high = 0.0, y + high + BETWEEN, 0.0
        groups.append(block.group(x, y))
        x += block.w + BETWEEN
        high = max(high, block.h)
    return together(groups)


# --- cutting ---------------------------------------------------------------------------------------


def _cut(root: Part, layout: Layout, room: Room) -> list[Part]:
    """The tree in parts that each fit a page; the first holds the top, the others in the order of the tree."""
    done: list[Part] = []
    top = _fit(root, layout, room, done)
    order = {part.id: place for place, part in enumerate(root)}
    return [top, *sorted(done, key=lambda part: (order.get(part.id.partition("+")[0], 0), part.id))]


def _fit(part: Part, layout: Layout, room: Room, done: list[Part]) -> Part:
    """The part with as much cut off as it takes to fit; what is cut goes to `done`, already fitting."""
    if part.kind != "gate" or fitted(part, layout, room):
        return part
    part = replace(part, kids=tuple(_fit(kid, layout, room, done) for kid in part.kids))
    while not fitted(part, layout, room):
        candidates = list(_candidates(part)) or [kid for kid in part.kids if kid.kind == "gate"]
        if not candidates:
            return _shortened(part, layout, room, done)
        largest = max(candidates, key=lambda kid: (_area(kid, layout), kid.id))
        done.append(largest)
        part = _without(part, largest)
    return part


def _candidates(part: Part) -> Iterator[Part]:
    """The nearest described gates below: a transfer needs words at both ends."""
    for kid in part.kids:
        if kid.kind == "gate":
            if kid.node.title:
                yield kid
            else:
                yield from _candidates(kid)


def _without(part: Part, cut: Part) -> Part:
    """The part with a transfer in place of another part below it; what does not hold that stays the same value."""
    if part is cut:
        return replace(part, id=f"{part.id}!to", kind="transfer", kids=())
    kids = tuple(_without(kid, cut) for kid in part.kids)
    return part if all(new is old for new, old in zip(kids, part.kids, strict=True)) else replace(part, kids=kids)


def _area(part: Part, layout: Layout) -> float:
    return min(block.w * block.h for block in layout.choices(part))


def _shortened(part: Part, layout: Layout, room: Room, done: list[Part]) -> Part:
    """A gate with more leaves than a page holds: the rest goes on, as a part of the same gate, on the next."""
    low, high = 1, len(part.kids) - 1
    while low < high:
        middle = (low + high + 1) // 2
        fits = fitted(_with_rest(part, middle), layout, room)
        low, high = (middle, high) if fits else (low, middle - 1)
    first = _with_rest(part, low)
    rest = replace(part, id=f"{part.id}+", kids=part.kids[low:], more=True, mark="")
    done.append(rest if fitted(rest, layout, room) else _shortened(rest, layout, room, done))
    return first


def _with_rest(part: Part, count: int) -> Part:
    rest = replace(part, id=f"{part.id}+!to", kind="transfer", kids=(), more=True, mark="")
    return replace(part, kids=(*part.kids[:count], rest))


# --- marks -----------------------------------------------------------------------------------------


def _named(parts: Sequence[Part]) -> list[Part]:
    """Every cut-off part with a mark, the same at both ends."""
    used = {part.mark for whole in parts for part in whole if part.kind == "gate"}
    free = (letters(number) for number in range(10**6) if letters(number) not in used)
    marks = {part.id: part.mark or next(free) for part in parts[1:]}
    return [_marked(part, marks) for part in parts]


def _marked(part: Part, marks: dict[str, str]) -> Part:
    """The part with its marks; the same value where nothing changes, so that its layouts are kept."""
    own = part.id.removesuffix("!to")
    mark = marks.get(own, part.mark) if part.kind in ("gate", "transfer") else part.mark
    kids = tuple(_marked(kid, marks) for kid in part.kids)
    same = mark == part.mark and all(new is old for new, old in zip(kids, part.kids, strict=True))
    return part if same else replace(part, mark=mark, kids=kids)


def references(pages: Sequence[Sequence[Part]], here: int) -> dict[str, int]:
    """What page `here` says of marks.

    For a part that is drawn elsewhere its page; under `mark<` the first other page that uses one that is drawn here.
    """
    drawn = {part.mark: number for number, part in _numbered(pages) if part.kind == "gate" and part.mark}
    found: dict[str, int] = {}
    for number, part in _numbered(pages):
        if part.kind != "transfer" or part.mark not in drawn or drawn[part.mark] == number:
            continue
        if number == here:
            found[part.mark] = drawn[part.mark]
        elif drawn[part.mark] == here:
            found.setdefault(f"{part.mark}<", number)
    return found


def _numbered(pages: Sequence[Sequence[Part]]) -> Iterator[tuple[int, Part]]:
    for number, page in enumerate(pages, 1):
        for whole in page:
            for part in whole:
                yield number, part


# --- shelves ---------------------------------------------------------------------------------------


def _shelved(parts: Sequence[Part], layout: Layout, room: Room) -> Iterator[tuple[Part, ...]]:
    """Parts in their order, as many to a page as it holds."""
    page: tuple[Part, ...] = ()
    for part in parts:
        if page and arranged((*page, part), layout, room) is None:
            yield page
            page = ()
        page = (*page, part)
    yield page


def arranged(parts: Sequence[Part], layout: Layout, room: Room) -> Group | None:
    """Parts in rows from left to right; None where they do not fit."""
    groups, x, y, high = [], 0.0, 0.0, 0.0
    for part in parts:
        # What comes after the first takes the least area; alone, a part may fill the page.
        block = layout.best(part, *room) if len(parts) == 1 else _smallest(part, layout, room)
        if x and x + block.w > room[0]:
            x, y, high = 0.0, y + high + BETWEEN, 0.0
        groups.append(block.group(x, y))
        x += block.w + BETWEEN
        high = max(high, block.h)
    whole = together(groups)
    return whole if whole.h <= room[1] + 0.01 and whole.w <= room[0] + 0.01 else None


def _smallest(part: Part, layout: Layout, room: Room) -> Block:
    """The layout of the least area that fits alone."""
    fits = [one for one in layout.choices(part) if one.w <= room[0] and one.h <= room[1]]
    return min(fits or layout.choices(part), key=lambda one: (one.w * one.h, one.w))
