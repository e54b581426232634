"""What a chart has to tell apart and what can be done, in numbers: hypotheses, moves, and what each move shows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.value import Action

    Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Move:
    """A check, or a repair with the operational check after it.

    `rows` numbers its outcomes in the task's tables (for a repair: gone, then still there), `access` the
    access that it needs as bits.
    """

    name: str
    action: Action
    minutes: float
    access: int
    rows: tuple[int, ...]
    noisy: bool = False

    @cached_property
    def is_check(self) -> bool:
        """Whether it is a check."""
        return self.action == "check"


@dataclass(frozen=True, eq=False)
class Task:
    """A chart's problem; hypotheses are numbered, and sets of them are the bits of an integer.

    `chances` (n) sum to 1; `labels` (n) number what a hypothesis calls for: a branch may end where one label
    is left. `shows` (outcomes x n) is P(outcome / hypothesis), `right` whether that outcome is free of error.
    `access` holds minutes. For `restore`, `mends` (n) is the least minutes that mending a hypothesis takes with
    the access `mend_access`, and `shifts` says for some repairs what is left of a hypothesis where it does not
    clear the reports. Hypotheses of chance 0 at the start are such remainders.
    """

    chances: Floats
    labels: tuple[int, ...]
    moves: tuple[Move, ...]
    shows: Floats
    right: NDArray[np.bool_]
    access: tuple[float, ...]
    restore: bool = False
    shifts: dict[str, NDArray[np.intp]] | None = None
    least: float = 0.0
    doubt: float = 0.0

    @cached_property
    def everything(self) -> int:
        """The hypotheses to begin with."""
        return mask_of(self.chances > 0.0)

    @cached_property
    def support(self) -> tuple[int, ...]:
        """For each outcome, the hypotheses under which it can come."""
        return tuple(mask_of(row > 0.0) for row in self.shows)

    @cached_property
    def truth(self) -> tuple[int, ...]:
        """For each outcome, the hypotheses under which it is right."""
        return tuple(mask_of(row) for row in self.right)

    @cached_property
    def strange(self) -> frozenset[int]:
        """The outcomes of checks that are right under no hypothesis: errors, or signs of faults that are not charted.

        None for `restore`: there the operational check behind each repair says whether it was the right one.
        """
        rows = () if self.restore else [row for move in self.moves for row in move.rows]
        return frozenset(row for row in rows if not self.right[row].any())

    @cached_property
    def eased(self) -> dict[str, int]:
        """For repairs that leave something else of some hypotheses, those hypotheses."""
        return {name: mask_of(shift != np.arange(len(shift))) for name, shift in (self.shifts or {}).items()}

    @cached_property
    def label_masks(self) -> tuple[int, ...]:
        """For each hypothesis, those with its label."""
        labels = np.array(self.labels)
        return tuple(mask_of(labels == label) for label in self.labels)

    @cached_property
    def kinds(self) -> Floats:
        """Membership of hypotheses in labels (n x labels), as 0 and 1."""
        labels = np.array(self.labels)
        return np.asarray(labels[:, None] == np.unique(labels)[None, :], dtype=np.float64)

    @cached_property
    def noisy(self) -> bool:
        """Whether some check errs."""
        return any(move.noisy for move in self.moves)

    @cached_property
    def loss(self) -> Floats:
        """-log P(no error / hypothesis) of each move (moves x n)."""
        sure = np.array([self.clean_shows[list(move.rows)].max(axis=0) for move in self.moves])
        return np.asarray(-np.log(np.maximum(sure.reshape(len(self.moves), -1), 1e-300)))

    @cached_property
    def errs(self) -> NDArray[np.bool_]:
        """Which moves err."""
        return np.array([move.noisy for move in self.moves], dtype=np.bool_)

    @cached_property
    def minutes(self) -> Floats:
        """Minutes of each move without access."""
        return np.array([move.minutes for move in self.moves])

    @cached_property
    def minutes_of_access(self) -> Floats:
        """Minutes of each access."""
        return np.array(self.access)

    @cached_property
    def needs(self) -> NDArray[np.bool_]:
        """Which move needs which access (moves x access)."""
        return bits_of([move.access for move in self.moves], len(self.access))

    @cached_property
    def opened_by_repairs(self) -> NDArray[np.bool_]:
        """The access that some repair needs."""
        repairs = np.array([not move.is_check for move in self.moves], dtype=np.bool_)
        return np.asarray(self.needs[repairs].any(axis=0))

    @cached_property
    def label_numbers(self) -> NDArray[np.intp]:
        """The labels as an array."""
        return np.array(self.labels, dtype=np.intp)

    @cached_property
    def place(self) -> dict[str, int]:
        """Where each move stands among the moves."""
        return {move.name: place for place, move in enumerate(self.moves)}

    @cached_property
    def apart(self) -> NDArray[np.bool_]:
        """Which moves part which hypotheses (moves x n x n), by the outcomes that are right."""
        outcomes = np.array([self.right[list(move.rows)].argmax(axis=0) for move in self.moves])
        outcomes = outcomes.reshape(len(self.moves), -1)
        return np.asarray(outcomes[:, :, None] != outcomes[:, None, :])

    @cached_property
    def clean_shows(self) -> Floats:
        """P(outcome without error / hypothesis)."""
        return np.where(self.right, self.shows, 0.0)

    def open_minutes(self, needed: int) -> float:
        """Minutes to open some access (bits)."""
        return sum(self.access[place] for place in members_of(needed)) if needed else 0.0


def mask_of(members: NDArray[np.bool_] | Sequence[bool]) -> int:
    """Truth values as the bits of an integer, the first in the lowest bit.

    >>> mask_of([True, False, True])
    5
    """
    return sum(1 << int(place) for place in np.flatnonzero(members))


def members_of(mask: int) -> list[int]:
    """The numbers in a set.

    >>> members_of(5)
    [0, 2]
    """
    found = []
    while mask:
        low = mask & -mask
        found.append(low.bit_length() - 1)
        mask ^= low
    return found


def bits_of(masks: Sequence[int], width: int) -> NDArray[np.bool_]:
    """Sets as rows of truth values.

    >>> bits_of([5], 3).tolist()
    [[True, False, True]]
    """
    rows = [[bool(mask >> place & 1) for place in range(width)] for mask in masks]
    return np.array(rows, dtype=np.bool_).reshape(len(masks), width)
