"""The likeliest state of a circuit: the upward pass with maxima, then a walk back down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.segments import Segments

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.circuit import Circuit, Evidence, Level


def peak(circuit: Circuit, evidence: Sequence[Evidence], variables: Sequence[int]) -> tuple[float, dict[int, int]]:
    """The log weight of the likeliest state, and the values of some variables that are not 0 in it.

    The weight is prior times evidence, not divided by P(evidence); it is -inf, with no values, where
    the evidence is impossible.
    """
    cells = circuit.enter(evidence)
    messages = circuit.collect(cells, Segments.max)
    top = messages[: circuit.roots]
    if not top.all():
        return float("-inf"), {}
    picked = _walk_down(circuit, cells, messages)
    values = {}
    for variable in variables:
        places, shown = circuit.seats[variable]
        value = int(shown[picked.take(places)][0])
        if value:
            values[variable] = value
    return float(np.log(top).sum()), values


def _walk_down(circuit: Circuit, cells: NDArray[np.float64], messages: NDArray[np.float64]) -> NDArray[np.bool_]:
    """One configuration of every clique, all of them agreeing."""
    picked = np.zeros(circuit.size, dtype=np.bool_)
    for level in circuit.levels:
        chosen = _chosen_entries(level, picked)
        part = cells[level.start : level.stop]
        best = messages[level.entry : level.exit].take(level.segment_of)
        ties = np.flatnonzero(chosen.take(level.segment_of) & (part == best))
        _, first = np.unique(level.segment_of[ties], return_index=True)
        picked[level.start + ties[first]] = True
    return picked


def _chosen_entries(level: Level, picked: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """The separator entries that the configurations picked above agree with."""
    chosen = np.zeros(level.exit - level.entry, dtype=np.bool_)
    if level.down is None:
        chosen[:] = True
    elif level.down.gather is not None:
        owners = np.repeat(np.arange(len(chosen)), level.down.lengths)
        chosen[owners[picked.take(level.down.gather)]] = True
    return chosen
