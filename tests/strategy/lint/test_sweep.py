"""The simulation of single faults and pairs: its bits are those of the fault sets they stand for."""

from __future__ import annotations

import numpy as np
import pytest

import faultree.strategy.lint.sweep as swept
from faultree.belief.frame import frame_of
from faultree.logic.simulate import evaluate, value_of
from faultree.strategy.lint.sweep import Sweep
from tests.strategy.lint.enumerated import library

SEEDS = range(12)


def bit(table: swept.Words, row: int, column: int) -> bool:
    """One bit of a table."""
    return bool(int(table[row, column // 64]) >> column % 64 & 1)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_bit_is_the_value_under_its_fault_set(seed: int) -> None:
    """Row c, column k is the set of cause c and the k-th cause; the last row has no c, column 0 no company."""
    known = library(seed)
    frame = frame_of(known)
    sweep = Sweep(frame)
    wanted = {symptom.situation: [frame.seen[name]] for name, symptom in known.symptoms.items()}
    tables = sweep.tables(wanted)
    assert len(tables) == len(wanted)
    own = [frozenset({one}) for one in sweep.causes] + [frozenset[str]()]
    company = [frozenset[str](), *(frozenset({one}) for one in sweep.causes)]
    for (situation, literal), table in tables.items():
        for row, one in enumerate(own):
            for column, two in enumerate(company):
                values = evaluate(frame.graph, known.settings(situation), one | two)
                assert bit(table, row, column) == value_of(values, literal)


@pytest.mark.parametrize("seed", SEEDS)
def test_only_sets_of_different_units_are_possible(seed: int) -> None:
    """A cause is neither in its own company nor in that of one that it excludes."""
    sweep = Sweep(frame_of(library(seed)))
    unit = {one: sweep.frame.prior.seat[one][0] for one in sweep.causes}
    for row, one in enumerate(sweep.causes):
        assert bit(sweep.possible, row, 0)
        for column, two in enumerate(sweep.causes, start=1):
            assert bit(sweep.possible, row, column) == (unit[one] != unit[two])
    columns = len(sweep.causes) + 1
    assert not any(bit(sweep.possible, row, columns) for row in range(columns))


def test_turns_and_explains_compare_with_the_company_alone() -> None:
    known = library(1)
    sweep = Sweep(frame_of(known))
    rows = len(sweep.causes)
    rng = np.random.default_rng(5)
    table = rng.integers(0, 2**63, size=(rows + 1, sweep.possible.shape[1]), dtype=np.uint64)
    for row in range(rows):
        for column in range(rows + 1):
            here, alone = bit(table, row, column), bit(table, rows, column)
            possible = bit(sweep.possible, row, column)
            assert bit(sweep.turns(table), row, column) == (possible and here != alone)
            assert bit(sweep.explains(table), row, column) == (possible and here and not alone)


def test_a_large_library_is_swept_for_single_faults_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its pairs would not fit into the memory; the engine answers what is left open."""
    monkeypatch.setattr(swept, "MOST_BYTES", 0)
    sweep = Sweep(frame_of(library(2)))
    assert sweep.possible.shape == (len(sweep.causes) + 1, 1)
    assert (sweep.possible == 1).all()
