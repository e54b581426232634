"""The junction tree as flat arrays: one upward and one downward pass give every marginal.

Configurations of all cliques lie in one array, level by level. Within a level, those that send to
the same separator entry lie together (a segment), longest segments first. All sums are then segment
sums and all products gathers, a handful of numpy calls for each level (the two passes are those of
Jensen, Lauritzen & Olesen 1990). A trailing axis carries several sets of evidence at once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.belief.segments import Segments

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Places = NDArray[np.intp]


class Level(NamedTuple):
    """The cliques at one distance from their root.

    `start:stop` are their configurations, `entry:exit` their separator entries (messages up).
    `segments` sums configurations to entries and `segment_of` gives each configuration's entry,
    counted within the level. `products` are the (configurations or None for all, message) gathers
    that multiply the children's messages in. `down` sums the parents' configurations to entries.
    """

    start: int
    stop: int
    entry: int
    exit: int
    segments: Segments
    segment_of: Places
    products: tuple[tuple[Places | None, Places], ...]
    down: Segments | None


class Seat(NamedTuple):
    """Where a variable is read and given evidence: configurations of one clique and its value there."""

    places: Places
    values: Places


class Solution(NamedTuple):
    """What one run gives: the log of P(evidence) and the marginals of the queries.

    Without columns `log_z` is a scalar array and `marginals` has one entry per query; with columns
    both have a trailing axis. Marginals are 0 where the evidence is impossible.
    """

    log_z: Floats
    marginals: Floats


CHUNK = 3_000_000
"""Configurations times columns that are held at once; more columns are run in turn."""

Evidence = tuple[int, "Floats"]
"""A variable and one factor for each of its values."""


@dataclass(frozen=True, eq=False)
class Circuit:
    """The compiled network; see the module for its layout.

    `base` holds the product of the priors in each configuration, `seats` where each variable is
    read, `queries` the sums of configurations that answer each query.
    """

    levels: tuple[Level, ...]
    base: Floats
    seats: tuple[Seat, ...]
    queries: Segments

    @property
    def size(self) -> int:
        """The number of configurations, and one cell that is always 0."""
        return len(self.base)

    @property
    def roots(self) -> int:
        """How many root cliques there are; their messages come first."""
        return self.levels[0].exit if self.levels else 0

    def run(self, evidence: Sequence[Evidence], columns: Sequence[Sequence[Evidence]] | None = None) -> Solution:
        """All query marginals given evidence, or given each of several further sets of evidence."""
        width = max(1, CHUNK // self.size)
        if columns is not None and len(columns) > width:
            parts = [self.run(evidence, columns[start : start + width]) for start in range(0, len(columns), width)]
            return Solution(*(np.concatenate(side, axis=-1) for side in zip(*parts, strict=True)))
        cells = self.enter(evidence, columns)
        messages = self.collect(cells)
        top = messages[: self.roots]
        with np.errstate(divide="ignore"):
            log_z = np.log(top).sum(axis=0)
        self._distribute(cells, messages)
        return Solution(log_z, self.queries.sum(cells))

    def log_z(self, evidence: Sequence[Evidence], columns: Sequence[Sequence[Evidence]] | None = None) -> Floats:
        """The log of P(evidence) alone: one upward pass."""
        messages = self.collect(self.enter(evidence, columns))
        with np.errstate(divide="ignore"):
            return np.asarray(np.log(messages[: self.roots]).sum(axis=0))

    def enter(self, evidence: Sequence[Evidence], columns: Sequence[Sequence[Evidence]] | None = None) -> Floats:
        """Each configuration's weight: prior times evidence, one column for each further set."""
        cells = self.base.copy()
        for variable, factors in evidence:
            places, values = self.seats[variable]
            cells[places] *= factors.take(values)
        if columns is None:
            return cells
        cells = np.repeat(cells[:, None], len(columns), axis=1)
        for column, further in enumerate(columns):
            for variable, factors in further:
                places, values = self.seats[variable]
                cells[places, column] *= factors.take(values)
        return cells

    def collect(self, cells: Floats, reduce: Callable[[Segments, Floats], Floats] = Segments.sum) -> Floats:
        """Messages towards the roots; `cells` become the products that include the children.

        With `Segments.max` the messages carry the best weight below instead of the sum.
        """
        entries = self.levels[-1].exit if self.levels else 0
        messages = np.ones((entries + 1, *cells.shape[1:]))
        for level in reversed(self.levels):
            part = cells[level.start : level.stop]
            for places, sources in level.products:
                if places is None:
                    part *= messages.take(sources, axis=0)
                else:
                    part[places] *= messages.take(sources, axis=0)
            messages[level.entry : level.exit] = reduce(level.segments, part)
        return messages

    def _distribute(self, cells: Floats, messages: Floats) -> None:
        """Cells become joint marginals, each tree scaled to 1 (or 0 where it is impossible)."""
        for level in self.levels:
            up = messages[level.entry : level.exit]
            above = 1.0 if level.down is None else level.down.sum(cells)
            ratio = above / (up + (up == 0.0))
            cells[level.start : level.stop] *= ratio.take(level.segment_of, axis=0)
