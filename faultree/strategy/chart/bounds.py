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
from typing import TYPE_CHECKING

import numpy as np

from faultree.strategy.chart.cover import covering

if TYPE_CHECKING:
    from faultree.strategy.chart.ahead import Ahead
    from faultree.strategy.chart.task import Floats, Move, Task

ROUNDING = 1e-12
"""Bounds are lowered by this share, so that rounding never lifts one above the truth."""


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
    task = ahead.task
    if task.restore:
        return 0.0
    inside = clean[ahead.basis.members]
    kept = np.flatnonzero(inside > 0.0)
    if len(kept) < 2:
        return 0.0
    cover = covering(ahead.basis.apart[:, kept][:, :, kept], ahead.shared, ahead.whole)
    if ahead.fading is None:
        return float(cover.least @ inside[kept]) * (1.0 - ROUNDING)
    fading = ahead.fading.only(kept)
    held = fading.reach(inside[kept], task.least)
    cut = fading.each(np.minimum(cover.least, held))
    needed = fading.needing(cover.single, cover.total, cover.prices[task.errs[ahead.basis.places]])
    paths = np.where(np.isinf(held), np.maximum(needed, cut), cut)
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
    inside = clean[:, ahead.basis.members]
    paths = (ahead.pairs[None, :, :] * (inside > 0.0)[:, None, :]).max(axis=2)
    if ahead.fading is not None:
        held = ahead.fading.reach(inside, ahead.task.least)
        cut = ahead.fading.worst(np.minimum(paths, held))
        paths = np.where(np.isinf(held), ahead.fading.before(paths), cut)
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
