"""Which signal or event, if somebody made it observable, would split a group of faults best."""

from __future__ import annotations

from collections.abc import Sequence
from math import fsum, log2
from typing import TYPE_CHECKING, NamedTuple

from faultree.belief.frame import frame_of
from faultree.strategy.dependency import alone

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.dependency import Matrix

LEAST = 1e-12
"""Fewer bits than this are rounding."""


class Split(NamedTuple):
    """Reading `node` in `situation` (None: all as usual) would tell `on` (node true) from `off`.

    `bits` is the entropy of that answer for a fault drawn from the group by prior probability: 1 where it
    halves the group.
    """

    node: str
    situation: str | None
    bits: float
    on: tuple[str, ...]
    off: tuple[str, ...]


def best_split(matrix: Matrix, group: Sequence[str]) -> Split | None:
    """The signal or event, and the situation, that tells most within a group; None where nothing splits it.

    Of equals: the situation of the symptom, then one that a check uses, then any; the system of the group's
    first cause before another; then library order.
    """
    library = matrix.library
    best: Split | None = None
    for situation in _situations(library, matrix.symptom):
        for split in _splits(matrix, group, situation):
            if best is None or split.bits > best.bits + LEAST:
                best = split
    return best


def _situations(library: Library, symptom: str) -> list[str | None]:
    """All situations, the likeliest to be of use first."""
    used = (check.situation for check in library.checks.values())
    return list(dict.fromkeys((library.symptoms[symptom].situation, *used, None, *library.situations)))


def _splits(matrix: Matrix, group: Sequence[str], situation: str | None) -> list[Split]:
    """What each signal and event would tell in one situation, where it tells anything."""
    library, frame = matrix.library, frame_of(matrix.library)
    home = library.causes[group[0]].system
    nodes = sorted((*library.events, *library.signals), key=lambda name: not name.startswith(f"{home}/"))
    values = alone(frame, group, situation, [frame.graph.literals[name] for name in nodes])
    weights = [matrix.weight(cause) for cause in group]
    found = []
    for name in nodes:
        bits = values[frame.graph.literals[name]][:-1].tolist()
        worth = _entropy(weights, bits)
        if worth > LEAST:
            on = tuple(cause for cause, true in zip(group, bits, strict=True) if true)
            off = tuple(cause for cause, true in zip(group, bits, strict=True) if not true)
            found.append(Split(name, situation, worth, on, off))
    return found


def _entropy(weights: Sequence[float], bits: Sequence[bool]) -> float:
    """The entropy of a yes/no answer, in bits, where each weight answers by its bit.

    >>> _entropy([0.1, 0.1], [True, False]), _entropy([0.1, 0.1], [True, True])
    (1.0, 0.0)
    """
    whole = fsum(weights)
    yes = fsum(weight for weight, bit in zip(weights, bits, strict=True) if bit) / whole
    return fsum(p * log2(1.0 / p) for p in (yes, 1.0 - yes) if p > 0.0)
