"""Lower bounds on what a chart must still cost from a state, never above the true least.

Where labels with weights q must be told apart, every binary tree that does so takes at least the mean path
length L of Huffman's tree (Huffman 1952) in steps. A path of k different steps costs at least the sum f(k) of
the k cheapest; f is convex, so the mean cost is at least f(L) (Jensen's inequality). Four extensions keep
the bound below the truth:

- a step with several outcomes is as good as a few yes/no steps one after the other, ceil(log2(outcomes)) of
  them, among which its minutes are divided;
- access that several steps share is divided among those that could share it on one path;
- checks that err: along the path on which nothing errs, later steps are reached more rarely (`fading`); only
  hypotheses that are too likely to be cut off there count;
- `restore`: every hypothesis needs its cheapest repair at the end. A repair may at the same time be the step
  that splits it off, so one step less is counted.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart.cover import covering, dearest, parting
from faultree.strategy.chart.fading import Fading, fading
from faultree.strategy.chart.task import members_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Move, Task


ROUNDING = 1e-12
"""Bounds are lowered by this share, so that rounding never lifts one above the truth."""


@dataclass(frozen=True, eq=False)
class Ahead:
    """What lies ahead of a state, or of what follows it with more access open: moves, hypotheses, open access."""

    task: Task
    moves: tuple[Move, ...]
    mask: int
    opened: int

    @cached_property
    def whole(self) -> Floats:
        """Minutes of each move with all the access that it would open."""
        return np.array([one.minutes + self.task.open_minutes(one.access & ~self.opened) for one in self.moves])

    @cached_property
    def shared(self) -> Floats:
        """Minutes of each move with closed access divided among the moves on one path that could share it."""
        longest = max(self.mask.bit_count() - 1, 1)
        share = _shares(self.task, self.moves, self.opened, longest)
        if not share:
            return np.array([one.minutes for one in self.moves])
        return np.array(
            [one.minutes + sum(part for place, part in share.items() if one.access >> place & 1) for one in self.moves]
        )

    @cached_property
    def ladder(self) -> Ladder:
        """What a path of so many yes/no steps costs at least."""
        steps: list[float] = []
        for move, minutes in zip(self.moves, self.shared.tolist(), strict=True):
            if len(move.rows) == 2:
                steps.append(minutes)
                continue
            outcomes = sum(1 for row in move.rows if self.task.truth[row] & self.mask)
            copies = max(1, (outcomes - 1).bit_length())
            steps += [minutes / copies] * copies
        sums = np.cumsum([0.0, *sorted(steps)])
        return Ladder(sums if self.fading is None else _hull(self.fading.worst(sums)))

    @cached_property
    def fading(self) -> Fading | None:
        """How errors lower what is surely spent; None where nothing errs."""
        return fading(self.task, self.moves, self.shared, self.members)

    @cached_property
    def members(self) -> NDArray[np.intp]:
        """The hypotheses by number."""
        return np.array(members_of(self.mask), dtype=np.intp)

    @cached_property
    def apart(self) -> NDArray[np.bool_]:
        """Which moves part which hypotheses."""
        return parting(self.task, self.moves, self.members)

    @cached_property
    def pairs(self) -> Floats:
        """For each pair of members what parting them costs at least."""
        return dearest(self.apart, self.whole)

    def opening(self, access: int) -> Ahead:
        """The same with more access open."""
        return replace(self, opened=self.opened | access)


@dataclass(frozen=True, eq=False)
class Ladder:
    """What a path of so many steps costs at least: `sums[k]` for k steps, convex, linear between."""

    sums: Floats

    def at(self, steps: Floats) -> Floats:
        """The ladder at many mean lengths at once."""
        last = len(self.sums) - 1
        slope = self.sums[-1] - self.sums[-2] if last else 0.0
        inside = np.interp(steps, np.arange(last + 1), self.sums)
        return np.asarray(inside + np.maximum(steps - last, 0.0) * slope)


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


def by_length(ahead: Ahead, weights: Floats, clean: Floats) -> float:
    """What must still be spent at least from a state, times its probability: by Huffman's length and the ladder."""
    task = ahead.task
    base = float(_mending(task, ahead.opened) @ weights) if task.restore else 0.0
    shares = _counted(ahead, clean) @ task.kinds
    present = shares[shares > 0.0]
    if len(present) < 2:
        return base
    total = float(present.sum())
    steps = max(huffman(present.tolist()) / total - task.restore, 0.0)
    return base + total * float(ahead.ladder.at(np.array([steps]))[0]) * (1.0 - ROUNDING)


def by_cover(ahead: Ahead, clean: Floats) -> float:
    """The same by what it takes to part each hypothesis from all others; nothing for `restore`.

    Only hypotheses that take no error yet count, on either side: the others may be set aside.
    """
    if ahead.task.restore:
        return 0.0
    inside = clean[ahead.members]
    kept = np.flatnonzero(inside > 0.0)
    if len(kept) < 2:
        return 0.0
    paths = covering(ahead.apart[:, kept][:, :, kept], ahead.shared, ahead.whole)
    if ahead.fading is not None:
        whole = np.zeros(len(inside))
        whole[kept] = paths
        paths = ahead.fading.each(np.minimum(whole, ahead.fading.reach(inside, ahead.task.least)))[kept]
    return float(paths @ inside[kept]) * (1.0 - ROUNDING)


def quick_bounds(
    ahead: Ahead, moves: Sequence[Move], weights: Floats, clean: Floats, *, pairs: bool
) -> tuple[list[float], bool]:
    """The same for what each move leads to, more roughly; and whether pairs raised one of the bounds.

    Entropy stands in place of Huffman's length, and the dearest pair for the cover. Each move opens the access that
    it needs before what follows.
    """
    task = ahead.task
    rows = [row for move in moves for row in move.rows]
    starts = np.cumsum([0, *(len(move.rows) for move in moves)])[:-1]
    after = clean * task.clean_shows[rows]
    shares = _counted(ahead, after) @ task.kinds
    total = shares.sum(axis=1)
    steps = np.maximum(_bits(shares, total) - task.restore, 0.0)
    opens = [move.access & ~ahead.opened for move in moves for _ in move.rows]
    found, helped = np.zeros(len(rows)), False
    for access in dict.fromkeys(opens):
        here = np.array([one == access for one in opens])
        then = ahead.opening(access) if access else ahead
        found[here] = total[here] * then.ladder.at(steps[here])
        if pairs:
            parted = _by_pairs(then, after[here])
            helped = helped or bool((parted > found[here]).any())
            found[here] = np.maximum(found[here], parted)
    found *= 1.0 - ROUNDING
    if task.restore:
        still = np.array([move.is_check or row != move.rows[0] for move in moves for row in move.rows])
        base = 0.0 if task.shifts else (weights * task.shows[rows]) @ _mending(task, ~0)
        found = (found + base) * still
    return np.add.reduceat(found, starts).tolist(), helped


def _by_pairs(ahead: Ahead, clean: Floats) -> Floats:
    """For each row of weights the dearest pair of each hypothesis, weighted."""
    inside = clean[:, ahead.members]
    paths = (ahead.pairs[None, :, :] * (inside > 0.0)[:, None, :]).max(axis=2)
    if ahead.fading is not None:
        paths = ahead.fading.worst(np.minimum(paths, ahead.fading.reach(inside, ahead.task.least)))
    return np.asarray((paths * inside).sum(axis=1))


def _counted(ahead: Ahead, clean: Floats) -> Floats:
    """The weights of the hypotheses that are surely not cut off on the path without error."""
    if ahead.fading is None:
        return clean
    return np.where(np.isinf(ahead.fading.reach(clean, ahead.task.least)), clean, 0.0)


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
