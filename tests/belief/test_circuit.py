"""The circuit: every marginal and P(evidence) as the listed states give them, for one set of evidence or many."""

from __future__ import annotations

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.belief import circuit as circuits
from faultree.belief.response import Network, Relation
from tests.belief.networks import Factors, Net, nets, random_evidence, random_net, random_queries


def log(weight: float) -> float:
    return float(np.log(weight)) if weight > 0.0 else float("-inf")


def check_against_states(net: Net, rng: random.Random) -> None:
    """Marginals to 1e-12 and the log of P(evidence), whatever the evidence rules out."""
    queries = random_queries(rng, net)
    circuit = net.circuit(queries)
    for _ in range(3):
        evidence = random_evidence(rng, net)
        solution = circuit.run(evidence)
        assert float(solution.log_z) == pytest.approx(log(net.weights(evidence).sum()), abs=1e-12)
        assert float(circuit.log_z(evidence)) == pytest.approx(float(solution.log_z), abs=1e-12)
        if not np.isfinite(solution.log_z):
            assert ((solution.marginals >= 0.0) & (solution.marginals <= 1.0 + 1e-12)).all()
            continue
        np.testing.assert_allclose(solution.marginals, net.marginals(queries, evidence), rtol=1e-12, atol=1e-15)


@settings(max_examples=60)
@given(nets(), st.randoms(use_true_random=False))
def test_marginals_are_those_of_the_listed_states(net: Net, rng: random.Random) -> None:
    check_against_states(net, rng)


@pytest.mark.parametrize("seed", range(5))
def test_the_same_on_larger_networks(seed: int) -> None:
    rng = random.Random(seed)
    check_against_states(random_net(rng, roots=9, gates=20), rng)


@settings(max_examples=40)
@given(nets(), st.randoms(use_true_random=False))
def test_a_column_is_a_run_of_its_own(net: Net, rng: random.Random) -> None:
    """Common evidence with that of each column gives what both together give in a single run."""
    queries = random_queries(rng, net)
    circuit = net.circuit(queries)
    common = random_evidence(rng, net, most=2)
    columns = [random_evidence(rng, net, most=2) for _ in range(rng.randint(1, 5))]
    together = circuit.run(common, columns)
    assert together.log_z.shape == (len(columns),)
    assert together.marginals.shape == (len(queries), len(columns))
    np.testing.assert_allclose(circuit.log_z(common, columns), together.log_z, atol=1e-12)
    for number, column in enumerate(columns):
        alone = circuit.run([*common, *column])
        np.testing.assert_allclose(together.marginals[:, number], alone.marginals, rtol=1e-12, atol=1e-15)
        assert float(together.log_z[number]) == pytest.approx(float(alone.log_z), abs=1e-12)


def example(seed: int = 3) -> Net:
    """A network with some gates."""
    return random_net(random.Random(seed), roots=5, gates=9)


def connected() -> Net:
    """A network whose last gate hangs together with everything."""
    network = Network(sizes=[2, 3, 2])
    network.relations.append(Relation(0, 1, network.variable(2), ((0, 0, 1), (0, 1, 1))))
    network.relations.append(Relation(2, 3, network.variable(3), ((0, 1), (2, 1))))
    return Net(network, {0: (0.9, 0.1), 1: (0.5, 0.3, 0.2), 2: (0.25, 0.75)})


@pytest.mark.parametrize("chunk", [1, 40, 100])
def test_columns_in_turn_are_the_same_as_all_at_once(chunk: int, monkeypatch: pytest.MonkeyPatch) -> None:
    rng = random.Random(7)
    net = random_net(rng, roots=6, gates=10)
    circuit = net.circuit(random_queries(rng, net))
    columns = [random_evidence(rng, net, most=2) for _ in range(7)]
    together = circuit.run([], columns)
    monkeypatch.setattr(circuits, "CHUNK", chunk)
    in_turn = circuit.run([], columns)
    np.testing.assert_allclose(in_turn.log_z, together.log_z, atol=1e-14)
    np.testing.assert_allclose(in_turn.marginals, together.marginals, atol=1e-15)


def test_impossible_evidence_gives_minus_infinity_and_zeros() -> None:
    """Never a division by zero, and no column that is possible suffers from one that is not.

    Zeros are meant within one connected part of a network; another part may keep its own shares.
    """
    net = connected()
    queries = random_queries(random.Random(0), net)
    circuit = net.circuit(queries)
    last = len(net.network.sizes) - 1
    never: Factors = (last, np.zeros(net.network.sizes[last]))
    alone = circuit.run([never])
    assert float(alone.log_z) == float("-inf")
    assert not alone.marginals.any()
    both = circuit.run([], [[never], []])
    assert float(both.log_z[0]) == float("-inf")
    assert not both.marginals[:, 0].any()
    np.testing.assert_allclose(both.marginals[:, 1], net.marginals(queries), rtol=1e-12)


def test_no_evidence_gives_the_prior() -> None:
    net = example()
    queries = [(root, np.arange(len(prior)) == 1) for root, prior in net.priors.items()]
    solution = net.circuit(queries).run([])
    assert float(solution.log_z) == pytest.approx(0.0, abs=1e-14)
    assert solution.marginals.tolist() == pytest.approx([prior[1] for prior in net.priors.values()], rel=1e-13)


def test_evidence_twice_on_one_variable_counts_twice() -> None:
    net = example()
    queries = random_queries(random.Random(1), net)
    circuit = net.circuit(queries)
    once, again = np.linspace(0.2, 0.9, net.network.sizes[0]), np.linspace(0.7, 0.1, net.network.sizes[0])
    twice = circuit.run([(0, once), (0, again)])
    joined = circuit.run([(0, once * again)])
    np.testing.assert_allclose(twice.marginals, joined.marginals, rtol=1e-13)
    assert float(twice.log_z) == pytest.approx(float(joined.log_z), abs=1e-13)


def test_a_run_leaves_nothing_behind() -> None:
    """The circuit is shared by all cases of a library: what one asked must not show in the next."""
    net = example()
    circuit = net.circuit(random_queries(random.Random(2), net))
    before = circuit.run([])
    circuit.run([(0, np.array([0.0, *[1.0] * (net.network.sizes[0] - 1)]))])
    circuit.run([], [[(1, np.full(net.network.sizes[1], 0.5))], []])
    circuit.log_z([(2, np.full(net.network.sizes[2], 0.25))])
    after = circuit.run([])
    assert (after.marginals == before.marginals).all()
    assert after.log_z == before.log_z


def test_factors_are_only_read() -> None:
    net = example()
    factors = np.linspace(0.1, 0.9, net.network.sizes[0])
    kept = factors.copy()
    net.circuit(random_queries(random.Random(4), net)).run([(0, factors)], [[(0, factors)], []])
    assert (factors == kept).all()


@pytest.mark.parametrize("scale", [1e-120, 1e-300])
def test_small_probabilities_keep_their_ratio(scale: float) -> None:
    """Evidence of tiny weight is no impossible evidence: shares and the log stay right."""
    net = example()
    queries = random_queries(random.Random(5), net)
    circuit = net.circuit(queries)
    evidence = [(0, np.linspace(0.2, 0.9, net.network.sizes[0]))]
    tiny = [(0, evidence[0][1] * scale)]
    np.testing.assert_allclose(circuit.run(tiny).marginals, circuit.run(evidence).marginals, rtol=1e-10)
    expected = float(circuit.log_z(evidence)) + float(np.log(scale))
    assert float(circuit.log_z(tiny)) == pytest.approx(expected, abs=1e-9)
