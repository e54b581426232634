"""Sums over groups of entries of an array, for one column or many.

For one column `numpy.add.reduceat` is the fastest; for many it is slow along the first axis, so the
k-th members of all groups are added at once there, groups sorted by length.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

LONG = 24
"""Groups longer than this are summed one by one in the many-column case."""


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
        order = np.argsort(-self.lengths, kind="stable")
        lengths, starts = self.lengths[order], self.starts[order]
        total = self._rows(entries, starts)
        for rank in range(1, min(int(lengths[0]), LONG)):
            count = int(np.searchsorted(-lengths, -rank))
            total[:count] += self._rows(entries, starts[:count] + rank)
        for group in range(int(np.searchsorted(-lengths, -LONG))):
            rest = np.arange(starts[group] + LONG, starts[group] + lengths[group])
            total[group] += self._rows(entries, rest).sum(axis=0)
        result = np.empty_like(total)
        result[order] = total
        return result

    def _rows(self, entries: NDArray[np.float64], places: NDArray[np.intp]) -> NDArray[np.float64]:
        return entries.take(places if self.gather is None else self.gather.take(places), axis=0)
