"""What somebody should make observable: bits by their definition, against all signals and situations."""

from __future__ import annotations

import random
from math import fsum, log2

import pytest

from faultree.library.model import Library
from faultree.strategy.observe import Split, best_split
from faultree.strategy.testability import assess
from tests.oracles.brute import World
from tests.oracles.random_libraries import Size, random_library
from tests.strategy.matrices import pump


def test_the_signal_that_splits_a_group() -> None:
    """Without the look at the floor, the dry floor would part the leak from the worn pump."""
    found = assess(pump(), "pump/no-flow", by=["line", "crew"])
    (split,) = found.splits
    assert split is not None
    assert (split.node, split.situation) == ("pump/dry", "pump/running")
    assert (split.on, split.off) == (("pump/worn",), ("pump/leak",))
    assert split.bits == pytest.approx(-(2 * log2(2 / 3) + log2(1 / 3)) / 3)


def test_nothing_splits_faults_that_act_on_the_same_signals_everywhere() -> None:
    found = assess(pump(("lost_if: [worn, leak]", "lost_if: [worn, seized]")), "pump/no-flow", by=["crew"])
    assert found.groups == (("pump/worn", "pump/low"),)
    assert found.splits != (None,)
    alike = pump(("dry: {title: the floor dry, lost_if: [leak]}", "dry: {title: the floor dry, lost_if: []}"))
    assert assess(alike, "pump/no-flow", by=["line", "crew"]).splits == (None,)


def _bits(library: Library, group: tuple[str, ...], node: str, situation: str | None) -> float:
    """The entropy of a node's value for one fault of the group, drawn by prior."""
    weights = {cause: library.causes[cause].probability for cause in group}
    on = [cause for cause in group if World(library, {cause}, situation).node(node)]
    share = fsum(weights[cause] for cause in on) / fsum(weights.values())
    return -fsum(p * log2(p) for p in (share, 1 - share) if p > 1e-15)


def _held_against(library: Library, group: tuple[str, ...], split: Split | None) -> None:
    nodes = [*library.signals, *library.events]
    most = max(_bits(library, group, node, situation) for node in nodes for situation in (None, *library.situations))
    assert (split.bits if split else 0.0) == pytest.approx(most, abs=1e-9)
    if split is not None:
        assert split.bits == pytest.approx(_bits(library, group, split.node, split.situation), abs=1e-9)
        assert set(split.on) | set(split.off) == set(group)
        assert all(World(library, {cause}, split.situation).node(split.node) for cause in split.on)
        assert not any(World(library, {cause}, split.situation).node(split.node) for cause in split.off)


def test_random_libraries() -> None:
    """No signal and no event tells more in any situation; some groups are split, and some cannot be."""
    found = []
    for seed in range(100):
        library = random_library(random.Random(seed), Size(fault_sets=5000, nodes=14, checks=3)).library
        for symptom in library.symptoms:
            one = assess(library, symptom)
            for group, split in zip(one.groups, one.splits, strict=True):
                _held_against(library, group, split)
                assert split == best_split(one.matrix, group)
                found.append(split)
    assert sum(split is None for split in found) > 3
    assert sum(split is not None for split in found) > 20
