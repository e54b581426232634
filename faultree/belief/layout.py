"""Lays the tables of a junction tree out as one flat circuit."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import prod
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.circuit import Circuit, Level, Seat
from faultree.belief.joins import ravel
from faultree.belief.segments import Segments

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.tables import Table

    Places = NDArray[np.intp]

Query = tuple[int, "NDArray[np.bool_]"]
"""A variable and, for each of its values, whether it counts."""


@dataclass(eq=False)
class _Box:
    """One table on its way into the layout.

    `key` numbers the separator entry of each configuration. `firsts` gives the first configuration of each
    entry, `numbers` its row-major number, in ascending order, and `entries` its place. `met` gives, for each
    configuration of the parent, the entry that it agrees with.
    """

    table: Table
    children: list[_Box]
    key: Places
    count: int
    firsts: Places
    numbers: Places
    places: Places
    entries: Places
    met: Places


def circuit_of(tables: Sequence[Table], priors: Mapping[int, Sequence[float]], queries: Sequence[Query]) -> Circuit:
    """The circuit of some tables, with a prior for some variables and queries to answer.

    Every variable must occur in a table. A query is answered by the sum over the configurations of
    one clique in which the variable has a value that counts.
    """
    boxes = [_box(table) for table in tables]
    roots = [box for box in boxes if box.table.clique.parent < 0]
    for box in boxes:
        if box.table.clique.parent >= 0:
            boxes[box.table.clique.parent].children.append(box)
    levels = []
    start = entry = 0
    front, above = roots, None
    while front:
        level = _level(front, above, start, entry)
        levels.append(level)
        start, entry = level.stop, level.exit
        above, front = front, [child for box in front for child in box.children]
    finished = [_with_products(level, boxes_at, entry) for level, boxes_at in zip(levels, _fronts(roots), strict=True)]
    seats = _seats(boxes)
    base = _base(seats, priors, start)
    return Circuit(tuple(finished), base, seats, _queries(seats, queries, start))


def _fronts(roots: list[_Box]) -> list[list[_Box]]:
    fronts = []
    front = roots
    while front:
        fronts.append(front)
        front = [child for box in front for child in box.children]
    return fronts


def _box(table: Table) -> _Box:
    shared = len(table.clique.separator)
    cells = ravel(table.values[:shared], table.sizes[:shared])
    fresh = np.ones(len(cells), dtype=np.bool_)
    fresh[1:] = cells[1:] != cells[:-1]
    key = np.cumsum(fresh) - 1
    nothing = np.zeros(0, dtype=np.intp)
    firsts = np.flatnonzero(fresh)
    return _Box(table, [], key, len(firsts), firsts, cells[firsts], nothing, nothing, nothing)


def _level(front: list[_Box], above: list[_Box] | None, start: int, entry: int) -> Level:
    """Give every configuration and separator entry of one level its place."""
    lengths = np.concatenate([np.bincount(box.key, minlength=box.count) for box in front])
    order = np.argsort(-lengths, kind="stable")
    rank = np.empty_like(order)
    rank[order] = np.arange(len(order))
    segments = Segments.of(lengths[order])
    first = 0
    for box in front:
        box.entries = entry + rank[first : first + box.count]
        first += box.count
        inside = np.arange(len(box.key)) - box.firsts[box.key]
        box.places = start + segments.starts[box.entries[box.key] - entry] + inside
    stop, exit_ = start + int(lengths.sum()), entry + len(lengths)
    owners = np.repeat(np.arange(len(lengths)), segments.lengths)
    return Level(start, stop, entry, exit_, segments, owners, (), _down(above, entry, exit_))


def _meet(parent: _Box, child: _Box) -> Places:
    """For each configuration of the parent: the separator entry of the child that it agrees with."""
    separator = child.table.clique.separator
    scope = parent.table.scope
    rows = parent.table.values[[scope.index(variable) for variable in separator]]
    sizes = child.table.sizes[: len(separator)]
    cells, total = ravel(rows, sizes), prod(sizes)
    if total > 16 * len(cells):
        return np.asarray(child.entries[np.searchsorted(child.numbers, cells)])
    entry = np.zeros(total, dtype=np.intp)
    entry[child.numbers] = child.entries
    return entry[cells]


def _down(above: list[_Box] | None, entry: int, exit_: int) -> Segments | None:
    if above is None:
        return None
    for parent in above:
        for child in parent.children:
            child.met = _meet(parent, child)
    places = np.concatenate([parent.places for parent in above for _ in parent.children])
    entries = np.concatenate([child.met for parent in above for child in parent.children]) - entry
    # sixteen bits are sorted by counting, several times faster
    order = np.argsort(entries.astype(np.uint16) if exit_ - entry <= 1 << 16 else entries, kind="stable")
    return Segments.of(np.bincount(entries, minlength=exit_ - entry), places[order])


def _with_products(level: Level, front: list[_Box], unit: int) -> Level:
    """Add the gathers that multiply the children's messages in; entry `unit` always holds 1."""
    products: list[tuple[Places | None, Places]] = []
    for rank in range(max(len(box.children) for box in front)):
        boxes = [box for box in front if len(box.children) > rank]
        places = np.concatenate([box.places for box in boxes]) - level.start
        sources = np.concatenate([box.children[rank].met for box in boxes])
        if 2 * len(places) > level.stop - level.start:
            every = np.full(level.stop - level.start, unit, dtype=np.intp)
            every[places] = sources
            products.append((None, every))
        else:
            products.append((places, sources))
    return level._replace(products=tuple(products))


def _seats(boxes: Sequence[_Box]) -> tuple[Seat, ...]:
    """For each variable its seat in the smallest clique that holds it."""
    best: dict[int, tuple[int, _Box, int]] = {}
    for box in boxes:
        size = len(box.key)
        for row, variable in enumerate(box.table.scope):
            if variable not in best or size < best[variable][0]:
                best[variable] = (size, box, row)
    return tuple(Seat(best[v][1].places, best[v][1].table.values[best[v][2]]) for v in range(len(best)))


def _base(seats: Sequence[Seat], priors: Mapping[int, Sequence[float]], size: int) -> NDArray[np.float64]:
    base = np.ones(size + 1)
    base[size] = 0.0  # what is asked of values that never occur is read here
    for variable, prior in priors.items():
        places, values = seats[variable]
        base[places] *= np.array(prior).take(values)
    return base


def _queries(seats: Sequence[Seat], queries: Sequence[Query], void: int) -> Segments:
    picked = [seats[variable].places[counts[seats[variable].values]] for variable, counts in queries]
    picked = [one if len(one) else np.array([void], dtype=np.intp) for one in picked]
    lengths = np.array([len(one) for one in picked], dtype=np.intp)
    return Segments.of(lengths, np.concatenate(picked) if picked else np.zeros(0, dtype=np.intp))
