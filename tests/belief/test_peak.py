"""The likeliest state: as heavy as the heaviest of all listed states, and really a state."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.belief.peak import peak
from tests.belief.networks import Net, nets, random_evidence, random_net


def check_peak(net: Net, rng: random.Random) -> None:
    """The weight is the largest there is; the roots' values make a state of that very weight."""
    circuit = net.circuit([])
    roots = list(net.priors)
    states = net.states()
    for _ in range(3):
        evidence = random_evidence(rng, net)
        weights = net.weights(evidence)
        weight, values = peak(circuit, evidence, roots)
        if weights.max() == 0.0:
            assert (weight, values) == (float("-inf"), {})
            continue
        assert weight == pytest.approx(float(np.log(weights.max())), abs=1e-12)
        assert all(values.values())
        (row,) = np.flatnonzero((states[:, roots] == [values.get(root, 0) for root in roots]).all(axis=1))
        assert weights[row] == pytest.approx(weights.max(), rel=1e-12)


@settings(max_examples=80)
@given(nets(), st.randoms(use_true_random=False))
def test_nothing_is_heavier_than_the_likeliest_state(net: Net, rng: random.Random) -> None:
    check_peak(net, rng)


@pytest.mark.parametrize("seed", range(5))
def test_the_same_on_larger_networks(seed: int) -> None:
    rng = random.Random(seed)
    check_peak(random_net(rng, roots=9, gates=20), rng)


@pytest.mark.parametrize("seed", range(10))
def test_among_equals_one_state_is_taken_and_not_parts_of_two(seed: int) -> None:
    """With even priors many states weigh the same; the values must still belong together."""
    rng = random.Random(seed)
    net = random_net(rng, roots=6, gates=10)
    even = {root: (1.0 / len(prior),) * len(prior) for root, prior in net.priors.items()}
    check_peak(Net(net.network, even), rng)


def test_gates_can_be_asked_as_well_as_roots() -> None:
    """All values of one state: the gates follow from the roots."""
    net = random_net(random.Random(1), roots=5, gates=9)
    states = net.states()
    _, values = peak(net.circuit([]), [], range(len(net.network.sizes)))
    found = [values.get(variable, 0) for variable in range(len(net.network.sizes))]
    assert found in states.tolist()
