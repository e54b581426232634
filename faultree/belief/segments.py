"""Sums over groups of entries of an array, for one column or many.

`numpy.add.reduceat` is the fastest for one column or a few, and for long groups. For many columns and
short groups it is slow, so the k-th members of all groups are added at once there, groups sorted by
length.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Places = NDArray[np.intp]

FEW, SHORT = 6, 8
"""For more columns than this and groups that are shorter than this on average, members are added by rank."""

MOST = 24
"""The members of a group that are added by rank; the rest of it is summed apart."""


@dataclass(frozen=True, eq=False)
class Segments:
    """Groups of entries: group g holds `gather[starts[g]:starts[g + 1]]` (or those very places).

    `gather` None means that the entries lie in order. Every group has one entry or more.
    """

    gather: NDArray[np.intp] | None
    starts: NDArray[np.intp]
    lengths: NDArray[np.intp]

    @classmethod
    def of(cls, lengths: NDArray[np.intp], gather: NDArray[np.intp] | None = None) -> Segments:
        """Groups of these lengths, one after the other."""
        starts = np.concatenate([np.zeros(1, dtype=np.intp), np.cumsum(lengths)[:-1]]) if len(lengths) else lengths
        return cls(gather, starts.astype(np.intp), lengths)

    def sum(self, entries: NDArray[np.float64]) -> NDArray[np.float64]:
        """The sum of each group along the first axis."""
        if not len(self.starts):
            return np.zeros((0, *entries.shape[1:]))
        if entries.ndim == 1:
            flat = entries if self.gather is None else entries.take(self.gather)
            return np.add.reduceat(flat, self.starts)
        return self._sum_columns(entries)

    def max(self, entries: NDArray[np.float64]) -> NDArray[np.float64]:
        """The largest entry of each group, for one column."""
        flat = entries if self.gather is None else entries.take(self.gather)
        return np.maximum.reduceat(flat, self.starts) if len(self.starts) else np.zeros(0)

    def _sum_columns(self, entries: NDArray[np.float64]) -> NDArray[np.float64]:
        if entries.shape[1] > FEW and self.lengths.sum() < SHORT * len(self.lengths):
            return self._sum_by_rank(entries)
        flat = entries if self.gather is None else entries.take(self.gather, axis=0)
        return np.add.reduceat(flat, self.starts, axis=0)

    def _sum_by_rank(self, entries: NDArray[np.float64]) -> NDArray[np.float64]:
        order, counts, rest, rest_starts = self._ranks
        starts = self.starts[order]
        total = self._rows(entries, starts)
        for rank, count in enumerate(counts, start=1):
            total[:count] += self._rows(entries, starts[:count] + rank)
        if len(rest):
            total[: len(rest_starts)] += np.add.reduceat(self._rows(entries, rest), rest_starts, axis=0)
        result = np.empty_like(total)
        result[order] = total
        return result

    @cached_property
    def _ranks(self) -> tuple[Places, list[int], Places, Places]:
        """Groups by length, longest first; how many have a member of each rank; what is left of the longest."""
        order = np.argsort(-self.lengths, kind="stable")
        lengths, starts = self.lengths[order], self.starts[order]
        most = min(int(lengths[0]), MOST)
        counts = np.searchsorted(-lengths, -np.arange(1, most)).tolist()
        left = lengths[lengths > MOST] - MOST
        ends = np.cumsum(left)
        inside = np.arange(int(left.sum())) - np.repeat(ends - left, left)
        rest = np.repeat(starts[: len(left)] + MOST, left) + inside
        return order, counts, rest, ends - left

    def _rows(self, entries: NDArray[np.float64], places: NDArray[np.intp]) -> NDArray[np.float64]:
        return entries.take(places if self.gather is None else self.gather.take(places), axis=0)
