"""Simulates every single fault, alone and with each other fault, so that most questions have a quick witness."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.logic.simulate import evaluate_many, pack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.frame import Frame

    Words = NDArray[np.uint64]

MOST_BYTES = 96_000_000
"""Bytes that the simulated nodes may take; beyond it every fault is looked at alone only."""


@dataclass(frozen=True, eq=False)
class Sweep:
    """Truth values as tables of bits: one row for each cause, one more for none, one column for each company.

    Column 0 is no company, column k the k-th cause. The bit of row c and column k belongs to the fault
    set of cause c and its company; the last row holds the company without c. What it shows is a proof
    that something can be; that something cannot be is for the oracle to say.
    """

    frame: Frame

    @cached_property
    def causes(self) -> tuple[str, ...]:
        """All causes, in the order of the rows."""
        return tuple(self.frame.library.causes)

    @cached_property
    def _columns(self) -> int:
        count = len(self.causes)
        size = len(self.frame.graph.nodes) * (count + 1) * (count + 64) / 8
        return count + 1 if size <= MOST_BYTES else 1

    @cached_property
    def possible(self) -> Words:
        """The sets that are possible: no cause in its own company or in that of one that it excludes."""
        seat = self.frame.prior.seat
        unit = np.array([seat[name][0] for name in self.causes], dtype=np.intp)
        table = np.ones((len(self.causes) + 1, self._columns), dtype=np.bool_)
        if self._columns > 1:
            table[:-1, 1:] = unit[:, None] != unit[None, :]
        return _packed(table)

    @cached_property
    def _present(self) -> dict[str, Words]:
        words = self.possible.shape[1]
        present = {}
        for row, name in enumerate(self.causes):
            table = np.zeros((len(self.causes) + 1, words), dtype=np.uint64)
            if self._columns > 1:
                table[:, (row + 1) // 64] = np.uint64(1 << (row + 1) % 64)
            table[row] = ~np.uint64(0)
            present[name] = table.reshape(-1)
        return present

    def tables(self, wanted: Mapping[str | None, Sequence[int]]) -> dict[tuple[str | None, int], Words]:
        """The table of each wanted literal in each situation."""
        found = {}
        for situation, literals in wanted.items():
            settings = self.frame.library.settings(situation)
            size = self.possible.size
            values = evaluate_many(self.frame.graph, settings, self._present, size, tuple(dict.fromkeys(literals)))
            found.update({(situation, one): table.reshape(self.possible.shape) for one, table in values.items()})
        return found

    def explains(self, table: Words) -> Words:
        """Where something is true with the cause of the row and not without it; possible sets only."""
        explained: Words = table[:-1] & ~table[-1] & self.possible[:-1]
        return explained

    def turns(self, table: Words) -> Words:
        """Where a value is another one with the cause of the row than without it; possible sets only."""
        turned: Words = (table[:-1] ^ table[-1]) & self.possible[:-1]
        return turned


def _packed(table: NDArray[np.bool_]) -> Words:
    """Rows of truth values, each in whole words."""
    return np.stack([pack(row) for row in table])
