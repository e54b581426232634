"""Lower bounds on what a chart must still cost from a state, never above the true least.

Where labels with weights q must be told apart, every binary tree that does so takes at least the mean path
length L of Huffman's tree (Huffman 1952) in steps. A path of k different steps costs at least the sum f(k) of
the k cheapest; f is convex, so the mean cost is at least f(L) (Jensen's inequality). Four extensions keep
the bound below the truth:

- a step with several outcomes is as good as a few yes/no steps one after the other, ceil(log2(outcomes)) of
  them, among which its minutes are divided;
- access that several steps share is divided among those that could share it on one path;
- checks that err: along the path on which nothing errs, the k-th step is reached with the product of the chances
  of no error, so each rung is lowered by that; only hypotheses that are too likely to be cut off there count;
- `restore`: every hypothesis needs its cheapest repair at the end. A repair may at the same time be the step
  that splits it off, so one step less is counted.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from faultree.strategy.chart.task import Floats, Move, Task


ROUNDING = 1e-12
"""Bounds are lowered by this share, so that rounding never lifts one above the truth."""


@dataclass(frozen=True, eq=False)
class Ladder:
    """f: what a path of so many steps costs at least (`sums[k]` for k steps, convex, linear between)."""

    sums: Floats
    opened: int

    def at(self, steps: Floats) -> Floats:
        """The ladder at many mean lengths at once."""
        last = len(self.sums) - 1
        slope = self.sums[-1] - self.sums[-2] if last else 0.0
        inside = np.interp(steps, np.arange(last + 1), self.sums)
        return np.asarray(inside + np.maximum(steps - last, 0.0) * slope)


def ladder(task: Task, moves: Sequence[Move], opened: int, mask: int) -> Ladder:
    """The ladder of some moves, given the access that is open."""
    longest = max(mask.bit_count() - 1, 1)
    share = _shares(task, moves, opened, longest)
    steps: list[float] = []
    surest = 1.0
    for move in moves:
        outcomes = sum(1 for row in move.rows if task.truth[row] & mask)
        copies = max(1, (outcomes - 1).bit_length())
        minutes = move.minutes + sum(one for place, one in share.items() if move.access >> place & 1)
        steps += [minutes / copies] * copies
        if move.noisy:
            surest = min(surest, _surest(task, move))
    steps.sort()
    rungs = np.array(steps)
    if surest < 1.0:
        return Ladder(_hull(np.concatenate([[0.0], np.cumsum(rungs * surest ** np.arange(len(rungs)))])), opened)
    return Ladder(np.concatenate([[0.0], np.cumsum(rungs)]), opened)


def _shares(task: Task, moves: Sequence[Move], opened: int, longest: int) -> dict[int, float]:
    """Minutes of each closed access, divided by how many of the moves on one path could share it."""
    shares = {}
    repairs = 0  # what a repair opens is counted with the repair at the end of the path
    for move in moves:
        repairs |= 0 if move.is_check else move.access
    for place, minutes in enumerate(task.access):
        if not (opened | repairs) >> place & 1:
            users = sum(move.access >> place & 1 for move in moves)
            if users:
                shares[place] = minutes / min(users, longest)
    return shares


def _surest(task: Task, move: Move) -> float:
    """The least chance that a check does not err."""
    rows = list(move.rows)
    return float(task.clean_shows[rows].max(axis=0).min())


def _hull(sums: Floats) -> Floats:
    """The largest convex function below some values at 0, 1, 2, ..."""
    corners: list[int] = []
    for place in range(len(sums)):
        while len(corners) > 1:
            one, two = corners[-2:]
            if (sums[two] - sums[one]) * (place - one) < (sums[place] - sums[one]) * (two - one):
                break
            corners.pop()
        corners.append(place)
    return np.asarray(np.interp(np.arange(len(sums)), corners, sums[corners]))


def huffman(weights: Sequence[float]) -> float:
    """Sum over labels of weight times depth in the best binary tree (weights need not sum to 1).

    >>> huffman([0.7, 0.12, 0.1, 0.05, 0.02, 0.01])  # published: 1.59
    1.59
    """
    leaves = deque(sorted(weights))
    joined: deque[float] = deque()
    total = 0.0
    for _ in range(len(leaves) - 1):
        pair = 0.0
        for _ in range(2):
            pair += joined.popleft() if joined and (not leaves or joined[0] < leaves[0]) else leaves.popleft()
        joined.append(pair)
        total += pair
    return round(total, 15)


def least_minutes(task: Task, rungs: Ladder, weights: Floats, clean: Floats) -> float:
    """What must still be spent at least, times the probability of the state."""
    shares = _counted(task, clean[None, :])[0]
    present = shares[shares > 0.0]
    total = float(present.sum())
    base = float(_mending(task, rungs.opened) @ weights) if task.restore else 0.0
    if len(present) < 2:
        return base
    length = huffman(present.tolist()) / total
    return base + total * float(rungs.at(np.array([max(length - task.restore, 0.0)]))[0])


def quick_bounds(
    task: Task, rungs: Callable[[int], Ladder], opened: int, moves: Sequence[Move], weights: Floats, clean: Floats
) -> list[float]:
    """The same for what each move leads to, more roughly: entropy in place of Huffman's length.

    `rungs` gives the ladder for some open access; each move opens what it needs before what follows.
    """
    if not moves:
        return []
    rows = [row for move in moves for row in move.rows]
    starts = np.cumsum([0, *(len(move.rows) for move in moves)])[:-1]
    shares = _counted(task, clean * task.clean_shows[rows])
    total = shares.sum(axis=1)
    steps = np.maximum(_bits(shares, total) - task.restore, 0.0)
    after = np.array([opened | move.access for move in moves for _ in move.rows], dtype=object)
    found = np.zeros(len(rows))
    for one in dict.fromkeys(after.tolist()):
        here = after == one
        found[here] = total[here] * rungs(one).at(steps[here])
    if task.restore:
        still = np.array([move.is_check or row != move.rows[0] for move in moves for row in move.rows])
        base = 0.0 if task.shifts else (weights * task.shows[rows]) @ _mending(task, ~0)
        found = (found + base) * still
    return np.add.reduceat(found, starts).tolist()  # type: ignore[no-any-return]


def _counted(task: Task, clean: Floats) -> Floats:
    """The weight of each label, of the hypotheses that cannot be cut off on the path without error."""
    if task.noisy:
        clean = np.where(clean * task.surest >= task.least, clean, 0.0)
    return np.asarray(clean @ task.kinds)


def _bits(shares: Floats, total: Floats) -> Floats:
    """A lower bound on Huffman's mean length: the entropy; where one label has p >= 1/2, it takes one step.

    So there the length is 1 + (1 - p)(that of the rest).
    """
    scale = np.maximum(total, 1e-300)
    parts = shares / scale[:, None]
    entropy = -_x_log_x(parts).sum(axis=1)
    top = parts.max(axis=1)
    rest = np.maximum(1.0 - top, 0.0)
    halved = np.where(top >= 0.5, 1.0 + entropy + _x_log_x(top) + _x_log_x(rest), 1.0)
    several = (parts > 0.0).sum(axis=1) > 1
    return np.where(several, np.maximum(entropy, halved) * (1.0 - ROUNDING), 0.0)


def _x_log_x(values: Floats) -> Floats:
    return np.asarray(values * np.log2(np.where(values > 0.0, values, 1.0)))


def _mending(task: Task, opened: int) -> Floats:
    """The least minutes to put each hypothesis right."""
    found = np.full(len(task.chances), np.inf)
    for move in task.moves:
        if not move.is_check:
            cost = move.minutes + task.open_minutes(move.access & ~opened)
            found = np.where(task.right[move.rows[0]], np.minimum(found, cost), found)
    return np.where(np.isfinite(found), found, 0.0)
