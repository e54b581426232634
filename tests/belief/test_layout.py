"""The layout: queries and priors find their variable wherever it lies, and what never occurs reads zero."""

from __future__ import annotations

import numpy as np
import pytest

from faultree.belief.response import Network, Relation
from tests.belief.networks import Net, Query


def chain(length: int) -> Net:
    """Gates in a row, each joining the one before with a root of its own: v2 = v0 or v1, v4 = v2 or v3, ..."""
    network = Network()
    priors: dict[int, tuple[float, ...]] = {}
    above = network.variable(2)
    priors[above] = (0.9, 0.1)
    for number in range(length):
        root = network.variable(2)
        priors[root] = (1.0 - 0.01 * (number + 1), 0.01 * (number + 1))
        output = network.variable(2)
        network.relations.append(Relation(above, root, output, ((0, 1), (1, 1))))
        above = output
    return Net(network, priors)


def split() -> Net:
    """Two parts with nothing in common, one of them a single root."""
    net = chain(2)
    alone = net.network.variable(3)
    net.priors[alone] = (0.5, 0.3, 0.2)
    return net


def yes(variable: int) -> Query:
    """Whether a variable of two values is 1."""
    return variable, np.array([False, True])


@pytest.mark.parametrize("length", [1, 2, 3, 10])
def test_a_chain_of_gates_is_read_at_every_place(length: int) -> None:
    """P(output) = 1 - the product of what is good so far."""
    net = chain(length)
    outputs = [relation.output for relation in net.network.relations]
    good = np.cumprod([0.9, *[1.0 - 0.01 * (number + 1) for number in range(length)]])[1:]
    found = net.circuit([yes(output) for output in outputs]).run([]).marginals
    assert found.tolist() == pytest.approx((1.0 - good).tolist(), rel=1e-13)


def test_queries_are_answered_in_the_order_asked() -> None:
    net = chain(3)
    queries = [yes(variable) for variable in range(7)]
    ahead = net.circuit(queries).run([]).marginals
    back = net.circuit(queries[::-1]).run([]).marginals
    assert back[::-1].tolist() == pytest.approx(ahead.tolist(), rel=1e-14)


def test_a_query_sums_all_values_that_count() -> None:
    net = split()
    alone = len(net.network.sizes) - 1
    some, every, none = (np.array(bits) for bits in ([False, True, True], [True] * 3, [False] * 3))
    found = net.circuit([(alone, some), (alone, every), (alone, none)]).run([]).marginals
    assert found.tolist() == pytest.approx([0.5, 1.0, 0.0], abs=1e-15)


def test_parts_that_share_nothing_are_independent() -> None:
    """Evidence in one part leaves the other at its prior; P(evidence) is the product over the parts."""
    net = split()
    alone = len(net.network.sizes) - 1
    circuit = net.circuit([yes(0), (alone, np.array([False, False, True]))])
    solution = circuit.run([(0, np.array([0.0, 1.0])), (alone, np.array([1.0, 1.0, 0.5]))])
    assert solution.marginals.tolist() == pytest.approx([1.0, 0.1 / 0.9], rel=1e-13)
    assert float(np.exp(solution.log_z)) == pytest.approx(0.1 * 0.9, rel=1e-13)


def test_a_value_that_never_occurs_has_probability_zero() -> None:
    """The gate is 1 only where a and not a would both be; asking for it is allowed."""
    network = Network()
    a, b = network.variable(2), network.variable(2)
    either = network.variable(2)
    network.relations.append(Relation(a, b, either, ((0, 1), (1, 1))))
    never = network.variable(2)
    network.relations.append(Relation(a, either, never, ((0, 0), (1, 0))))
    net = Net(network, {a: (0.7, 0.3), b: (0.6, 0.4)})
    circuit = net.circuit([yes(never), yes(either)])
    assert circuit.run([]).marginals.tolist() == pytest.approx([0.0, 0.58], abs=1e-15)
    assert circuit.run([], [[], []]).marginals[0].tolist() == [0.0, 0.0]
    assert float(circuit.run([(never, np.array([0.0, 1.0]))]).log_z) == float("-inf")


def test_a_network_of_nothing_is_certain() -> None:
    """No variable, no query: P(evidence) is 1 and there is nothing to read."""
    circuit = Net(Network(), {}).circuit([])
    assert float(circuit.run([]).log_z) == 0.0
    assert circuit.run([]).marginals.shape == (0,)
    assert circuit.run([], [[], []]).log_z.tolist() == [0.0, 0.0]


def test_a_circuit_without_queries_still_weighs() -> None:
    net = chain(2)
    assert float(np.exp(net.circuit([]).run([(0, np.array([0.0, 1.0]))]).log_z)) == pytest.approx(0.1)


def test_its_size_grows_with_the_chain_and_not_with_its_states() -> None:
    """A chain of 60 gates has 2^61 states and a circuit of some hundred configurations."""
    sizes = [chain(length).circuit([]).size for length in (15, 30, 60)]
    assert sizes[2] < 500
    assert sizes[2] - sizes[1] == 2 * (sizes[1] - sizes[0])
