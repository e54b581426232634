"""The response network: right in every world at once, and no larger than what is asked needs."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from faultree.belief.frame import Frame, frame_of
from faultree.belief.response import Network, Target, World, network_of, reached_roots
from faultree.logic.simulate import evaluate, value_of
from tests.belief.networks import Net
from tests.belief.small import library, pump_frame
from tests.oracles.random_libraries import SMALL, RandomLibrary, libraries, random_library


def made(frame: Frame, worlds: list[World], targets: list[Target]) -> Network:
    return network_of(frame.graph, frame.prior, worlds, targets)


def check_network(frame: Frame, worlds: list[World], targets: list[Target], rng: random.Random) -> None:
    """For all values of its roots each target is as simulated, in its own world, whatever the other roots are."""
    network = made(frame, worlds, targets)
    roots = frame.prior.roots
    net = Net(network, {variable: roots[root].probabilities for root, variable in network.roots.items()})
    for state in net.states().tolist():
        faulty = {root: rng.randrange(len(one.probabilities)) for root, one in enumerate(roots)}
        faulty |= {root: state[variable] for root, variable in network.roots.items()}
        for target, (variable, vectors) in zip(targets, network.targets, strict=True):
            shown = vectors[0] if variable < 0 else vectors[state[variable]]
            assert shown == expected(frame, worlds[target.world], target.literal, faulty), target


def expected(frame: Frame, world: World, literal: int, faulty: dict[int, int]) -> bool:
    """The literal simulated with the causes of these root values, those of repaired units left out."""
    left = [(frame.prior.roots[root], value) for root, value in faulty.items() if root not in world.repaired]
    present = {root.causes[value - 1] for root, value in left if value}
    return value_of(evaluate(frame.graph, dict(world.settings), present), literal)


def random_worlds(rng: random.Random, frame: Frame) -> list[World]:
    """A few situations, some of them after repairs."""
    found = []
    for _ in range(rng.randint(1, 4)):
        where = rng.choice([None, *frame.library.situations])
        repaired = frozenset(root for root in range(len(frame.prior.roots)) if rng.random() < 0.15)
        found.append(World(tuple(frame.library.settings(where).items()), repaired))
    return found


def random_targets(rng: random.Random, frame: Frame, worlds: int) -> list[Target]:
    count = rng.randint(1, 6)
    return [Target(rng.randrange(2 * len(frame.graph.nodes)), rng.randrange(worlds)) for _ in range(count)]


@settings(max_examples=60)
@given(libraries(), st.randoms(use_true_random=False))
def test_every_target_is_as_simulated_in_its_world(drawn: RandomLibrary, rng: random.Random) -> None:
    frame = frame_of(drawn.library)
    worlds = random_worlds(rng, frame)
    check_network(frame, worlds, random_targets(rng, frame, len(worlds)), rng)


@pytest.mark.parametrize("seed", range(25))
def test_all_nodes_at_once_in_several_worlds(seed: int) -> None:
    rng = random.Random(seed)
    frame = frame_of(random_library(rng, SMALL).library)
    worlds = random_worlds(rng, frame)
    literals = range(0, 2 * len(frame.graph.nodes), 2)
    check_network(frame, worlds, [Target(one, rng.randrange(len(worlds))) for one in literals], rng)


FRAME = pump_frame()
PLAIN, DARK, READY = (World(tuple(FRAME.library.settings(name).items())) for name in (None, "s/dark", "s/ready"))


def literal(name: str) -> int:
    return FRAME.graph.literals[f"s/{name}"]


def units(network: Network) -> set[str]:
    """The units whose roots are in the network."""
    return {FRAME.prior.roots[root].unit for root in network.roots}


def test_units_outside_the_cone_are_left_out() -> None:
    assert units(made(FRAME, [PLAIN], [Target(literal("pressure"), 0)])) == {"s/pump", "s/leak"}
    assert units(made(FRAME, [READY], [Target(literal("moves"), 0)])) == {"s/pump", "s/leak", "s/valve"}


def test_what_the_conditions_settle_drops_out() -> None:
    """Without power there is no pressure, whatever is wrong; only the gauge can still show some."""
    network = made(FRAME, [DARK], [Target(literal("pressure"), 0), Target(literal("shown"), 0)])
    assert network.targets[0] == (-1, (0,))
    assert units(network) == {"s/gauge"}


def test_a_target_that_nothing_can_change_needs_no_variable() -> None:
    network = made(FRAME, [PLAIN, DARK], [Target(literal("moves"), 0), Target(literal("pressure"), 1)])
    assert (network.sizes, network.relations, network.roots) == ([], [], {})
    assert [variable for variable, _ in network.targets] == [-1, -1]


def test_a_repaired_unit_has_no_part_where_it_is_good() -> None:
    good = World(PLAIN.settings, frozenset({FRAME.prior.index["s/pump"]}))
    assert units(made(FRAME, [good], [Target(literal("pressure"), 0)])) == {"s/leak"}
    both = made(FRAME, [PLAIN, good], [Target(literal("pressure"), 0), Target(literal("pressure"), 1)])
    assert units(both) == {"s/pump", "s/leak"}


def test_vectors_tell_only_the_worlds_in_which_a_node_is_needed() -> None:
    """A node asked in one world has two values at most, however many worlds there are."""
    alone = made(FRAME, [PLAIN], [Target(literal("shown"), 0)])
    beside = made(FRAME, [DARK, PLAIN, READY], [Target(literal("shown"), 1)])
    assert sorted(beside.sizes) == sorted(alone.sizes)
    assert max(size for variable, size in enumerate(beside.sizes) if variable not in beside.roots.values()) == 2


def test_a_second_world_that_changes_nothing_costs_nothing() -> None:
    """Being armed does not matter to the pressure, so the two worlds show the same in every state."""
    one = made(FRAME, [PLAIN], [Target(literal("pressure"), 0)])
    two = made(FRAME, [PLAIN, READY], [Target(literal("pressure"), 0), Target(literal("pressure"), 1)])
    assert sorted(two.sizes) == sorted(one.sizes)


def test_the_values_of_a_node_are_its_distinct_responses() -> None:
    """Shown with power and without: as it is, lost, or forced high; three of the four responses to two worlds."""
    network = made(FRAME, [PLAIN, DARK], [Target(literal("shown"), 0), Target(literal("shown"), 1)])
    assert network.targets[0].variable == network.targets[1].variable
    pairs = zip(network.targets[0].vectors, network.targets[1].vectors, strict=True)
    assert sorted(pairs) == [(0, 0), (1, 0), (1, 1)]


def test_targets_are_restricted_to_their_own_world() -> None:
    turned = Target(literal("shown") ^ 1, 0)
    network = made(FRAME, [PLAIN, DARK], [Target(literal("shown"), 0), turned, Target(literal("shown"), 1)])
    plain, opposite, _ = network.targets
    assert set(plain.vectors) == {0, 1}
    assert [1 - one for one in plain.vectors] == list(opposite.vectors)


GATES = """
items:
  part: {{title: A part}}
causes:
  one: {{title: One mode, item: part, probability: 0.1}}
  other: {{title: Another mode, item: part, probability: 0.1}}
  c: {{title: C, probability: 0.1}}
  d: {{title: D, probability: 0.1}}
  e: {{title: E, probability: 0.1}}
conditions:
  fact: {{title: A fact}}
events:
  inner: {{title: Inner, any: [c, d]}}
  top: {{title: Top, {gate}}}
"""

COUNTING = [
    "one_of: [one, other, c]",
    "one_of: [one, c, d, e]",
    "at_least: {count: 2, of: [one, other, c, d]}",
    "at_least: {count: 3, of: [one, c, d, e]}",
    "at_least: {count: 2, of: [c, {not: c}, d, e]}",
    "at_least: {count: 2, of: [fact, c, d]}",
    "one_of: [fact, c, inner]",
    "one_of: [{not: fact}, {not: c}, inner, e]",
    "at_least: {count: 2, of: [inner, c, {all: [c, d]}]}",
    "any: [one, other, {all: [c, inner]}, {not: inner}]",
    "all: [{not: one}, {not: other}, inner]",
    "none: [one, other, {one_of: [c, d]}, e]",
]


@pytest.mark.parametrize("gate", COUNTING)
def test_gates_over_inputs_that_depend_on_each_other(gate: str) -> None:
    """Modes of one item, a cause used twice, a node beside its own input, conditions among the inputs."""
    frame = frame_of(library(GATES.format(gate=gate)))
    on = World((("s/fact", True),))
    off = World((("s/fact", False),))
    mended = World((("s/fact", True),), frozenset({0, 1}))
    top = frame.graph.literals["s/top"]
    worlds = [on, off, mended]
    for targets in ([Target(top, 0)], [Target(top, number) for number in range(3)]):
        check_network(frame, worlds, targets, random.Random(1))


def wide(kind: str, count: int) -> Frame:
    """A gate over this many causes."""
    causes = "\n".join(f"  c{number}: {{title: C, probability: 0.01}}" for number in range(count))
    names = ", ".join(f"c{number}" for number in range(count))
    gate = f"at_least: {{count: 2, of: [{names}]}}" if kind == "at_least" else f"{kind}: [{names}]"
    return frame_of(library(f"causes:\n{causes}\nevents:\n  top: {{title: Top, {gate}}}\n"))


@pytest.mark.parametrize(("kind", "values"), [("any", 2), ("one_of", 3), ("at_least", 3)])
def test_a_wide_gate_is_split_into_relations_of_three(kind: str, values: int) -> None:
    """Its cost grows with its inputs and not with their combinations: counts are kept only as far as they matter."""
    sizes = []
    for count in (8, 16, 32):
        frame = wide(kind, count)
        network = made(frame, [World(())], [Target(frame.graph.literals["s/top"], 0)])
        assert len(network.relations) == count - 1
        assert max(network.sizes) <= values
        sizes.append(sum(network.sizes))
    assert all(larger <= 2 * smaller + 4 for smaller, larger in pairwise(sizes))


def test_equal_pairs_are_shared() -> None:
    """Two gates over the same two inputs, written apart, are joined by one relation and not by two."""
    text = """
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.1}
  c: {title: C, probability: 0.1}
  d: {title: D, probability: 0.1}
events:
  first: {title: First, any: [a, b, c]}
  second: {title: Second, any: [a, b, d]}
"""
    frame = frame_of(library(text))
    literals = [frame.graph.literals[name] for name in ("s/first", "s/second")]
    network = made(frame, [World(())], [Target(one, 0) for one in literals])
    assert len(network.relations) == 3


@pytest.mark.parametrize("seed", range(8))
def test_reached_roots_are_those_of_the_network(seed: int) -> None:
    """For every node by itself, in situations and after repairs."""
    rng = random.Random(seed)
    frame = frame_of(random_library(rng, SMALL).library)
    for world in random_worlds(rng, frame):
        reached = reached_roots(frame.graph, frame.prior, world)
        for index in range(len(frame.graph.nodes)):
            roots = made(frame, [world], [Target(2 * index, 0)]).roots
            assert reached[index] == sum(1 << root for root in roots)
