"""What lies ahead of a state in numbers: minutes of the moves, access shared among them, and their ladder."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart.cover import dearest, parting
from faultree.strategy.chart.fading import Fading, fading
from faultree.strategy.chart.task import members_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Move, Task


@dataclass(frozen=True, eq=False)
class Basis:
    """Moves and hypotheses (bits), whatever access is open."""

    task: Task
    moves: tuple[Move, ...]
    mask: int

    @cached_property
    def places(self) -> NDArray[np.intp]:
        """The moves by number."""
        place = self.task.place
        return np.array([place[move.name] for move in self.moves], dtype=np.intp)

    @cached_property
    def minutes(self) -> Floats:
        """Minutes of each move without access."""
        return self.task.minutes[self.places]

    @cached_property
    def needs(self) -> NDArray[np.bool_]:
        """Which move needs which access."""
        return self.task.needs[self.places]

    @cached_property
    def copies(self) -> NDArray[np.intp]:
        """As how many yes/no steps each move counts."""
        truth, mask = self.task.truth, self.mask
        found = [
            1 if len(move.rows) == 2 else max(1, (sum(1 for row in move.rows if truth[row] & mask) - 1).bit_length())
            for move in self.moves
        ]
        return np.array(found, dtype=np.intp)

    @cached_property
    def members(self) -> NDArray[np.intp]:
        """The hypotheses by number."""
        return np.array(members_of(self.mask), dtype=np.intp)

    @cached_property
    def apart(self) -> NDArray[np.bool_]:
        """Which moves part which hypotheses that call for different things."""
        return parting(self.task, self.places, self.members)


@dataclass(frozen=True, eq=False)
class Ahead:
    """What lies ahead of a state, or of what follows it with more access open (bits)."""

    basis: Basis
    opened: int

    @property
    def task(self) -> Task:
        """The task."""
        return self.basis.task

    @cached_property
    def _closed(self) -> NDArray[np.bool_]:
        return np.array([not self.opened >> place & 1 for place in range(len(self.task.access))], dtype=np.bool_)

    @cached_property
    def whole(self) -> Floats:
        """Minutes of each move with all the access that it would open."""
        return np.asarray(self.basis.minutes + (self.basis.needs & self._closed) @ self.task.minutes_of_access)

    @cached_property
    def shared(self) -> Floats:
        """Minutes of each move with closed access divided among the moves on one path that could share it.

        What a repair opens is left out, as it is counted with the repair at the end of the path.
        """
        basis, task = self.basis, self.task
        closed = self._closed & ~task.opened_by_repairs
        needed = basis.needs & closed
        users = np.minimum(needed.sum(axis=0), max(basis.mask.bit_count() - 1, 1))
        return np.asarray(basis.minutes + needed @ (task.minutes_of_access / np.maximum(users, 1)))

    @cached_property
    def ladder(self) -> Ladder:
        """What a path of so many yes/no steps costs at least."""
        copies = self.basis.copies
        steps = np.sort(np.repeat(self.shared / copies, copies))
        sums = np.concatenate([[0.0], np.cumsum(steps)])
        return Ladder(sums if self.fading is None else _hull(self.fading.worst(sums)))

    @cached_property
    def fading(self) -> Fading | None:
        """How errors lower what is surely spent; None where nothing errs."""
        return fading(self.task, self.basis.places, self.shared, self.basis.members) if self.task.noisy else None

    @cached_property
    def pairs(self) -> Floats:
        """For each pair of members what parting them costs at least."""
        return dearest(self.basis.apart, self.whole)

    def opening(self, access: int) -> Ahead:
        """The same with more access open."""
        return Ahead(self.basis, self.opened | access)


@dataclass(frozen=True, eq=False)
class Ladder:
    """What a path of so many steps costs at least: `sums[k]` for k steps, convex, linear between.

    >>> Ladder(np.array([0.0, 1.0, 3.0])).at(np.array([0.5, 2.0, 3.0])).tolist()
    [0.5, 3.0, 5.0]
    """

    sums: Floats

    def at(self, steps: Floats) -> Floats:
        """The ladder at many mean lengths at once."""
        last = len(self.sums) - 1
        slope = self.sums[-1] - self.sums[-2] if last else 0.0
        inside = np.interp(steps, np.arange(last + 1), self.sums)
        return np.asarray(inside + np.maximum(steps - last, 0.0) * slope)


def _hull(sums: Floats) -> Floats:
    """The largest convex function below some values at 0, 1, 2, ..."""
    values = sums.tolist()
    corners: list[int] = []
    for place, value in enumerate(values):
        while len(corners) > 1:
            one, two = corners[-2:]
            if (values[two] - values[one]) * (place - one) < (value - values[one]) * (two - one):
                break
            corners.pop()
        corners.append(place)
    return np.asarray(np.interp(np.arange(len(sums)), corners, sums[corners]))
