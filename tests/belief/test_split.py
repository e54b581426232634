"""The conditioned engine: cutting at held variables is exact for each setting, and the rest is in the bound."""

from __future__ import annotations

import random
from math import inf

import numpy as np
import pytest

from faultree.belief.engine import Limits, On, TooWide, compile_exact, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame, frame_of
from faultree.belief.order import Clique, eliminate
from faultree.belief.response import Network
from faultree.belief.split import Split, cut, split_of
from faultree.belief.tables import dense_cells
from tests.belief.listed import Listed
from tests.belief.networks import Net, random_net
from tests.belief.small import MESH, library, node, pump_frame

FRAME = frame_of(library(MESH))
EVENTS = ("ab", "bc", "cd", "de", "ea", "ac", "bd", "top")


def points(frame: Frame = FRAME) -> list[Point]:
    return [node(frame, event) for event in EVENTS]


def narrowest() -> int:
    """The smallest power of two to which the tables of the mesh can be cut."""
    for power in range(1, 20):
        try:
            split_of(wire(FRAME, points()), Limits(held_cells=1 << power))
        except TooWide:
            continue
        return 1 << power
    raise AssertionError("it can be cut")


NARROWEST = narrowest()


def split(settings: int = 4096, cells: int = NARROWEST) -> Split:
    return split_of(wire(FRAME, points()), Limits(held_cells=cells, settings=settings))


@pytest.mark.parametrize("seed", range(20))
def test_a_cut_network_with_its_copies_held_is_the_network_at_those_values(seed: int) -> None:
    """For each setting of the chosen variables: the states that agree with it, and no others."""
    rng = random.Random(seed)
    net = random_net(rng, roots=4, gates=6)
    count = len(net.network.sizes)
    chosen = rng.sample(range(count), min(2, count))
    smaller, copies = cut(net.network, chosen)
    assert set(copies) == set(chosen)
    assert smaller.sizes[:count] == net.network.sizes
    found = {tuple(state[:count]) for state in held_states(smaller, copies, net)}
    assert found == {tuple(state) for state in net.states().tolist()}


def held_states(smaller: Network, copies: dict[int, list[int]], net: Net) -> list[list[int]]:
    """States of the cut network, copies free, in which every copy has the value of its variable."""
    copied = {copy: (1.0,) * smaller.sizes[copy] for some in copies.values() for copy in some}
    states = Net(smaller, net.priors | copied).states().tolist()
    return [one for one in states if all(one[copy] == one[v] for v, some in copies.items() for copy in some)]


def test_tables_are_cut_to_the_cells_allowed() -> None:
    """Where the whole network would need larger ones."""
    wiring = wire(FRAME, points())
    cells = [dense_cells(wiring.network.sizes, clique) for clique in eliminate_network(wiring.network)]
    assert max(cells) > NARROWEST
    assert len(split().held) > 1


def eliminate_network(network: Network) -> list[Clique]:
    return eliminate(network.sizes, [relation[:3] for relation in network.relations])


def test_what_needs_no_cut_has_one_setting() -> None:
    """A network that is narrow already is run once, and nothing is left out."""
    whole = split(cells=1 << 20)
    assert len(whole.held) == 1
    assert whole.left_out == pytest.approx(0.0, abs=1e-12)


def test_with_every_setting_nothing_is_left_out() -> None:
    full = split()
    exact = compile_exact(FRAME, points())
    assert full.left_out == pytest.approx(0.0, abs=1e-12)
    for findings in ([], [On(points()[7], 0.0, 1.0)], [On(points()[7], 0.0, 1.0), On(points()[4], 0.9, 0.2)]):
        one, other = full.run(findings), exact.run(findings)
        assert float(one.bound) == pytest.approx(0.0, abs=1e-12)
        assert one.causes.tolist() == pytest.approx(other.causes.tolist(), abs=1e-12)
        assert one.points.tolist() == pytest.approx(other.points.tolist(), abs=1e-12)
        assert float(one.log_z) == pytest.approx(float(other.log_z), abs=1e-12)


def test_settings_have_their_prior_and_the_likelier_ones_are_tried() -> None:
    """More settings leave less out, and the first few cover most."""
    left = [split(settings).left_out for settings in (1, 2, 4, 8, 4096)]
    assert left == sorted(left, reverse=True)
    assert left[0] < 0.9
    assert all(one.left_out == pytest.approx(1.0 - float(one.mass.sum())) for one in (split(1), split(4)))


@pytest.mark.parametrize("settings", [1, 2, 4, 8])
def test_the_bound_is_honoured_and_is_what_is_left_out(settings: int) -> None:
    """With e left out, S the tried mass times likelihood and L the largest likelihood: e L / (S + e L)."""
    some = split(settings)
    for off, on in [(0.1, 0.9), (0.3, 0.05), (0.0, 1.0)]:
        findings = [On(points()[7], off, on)]
        found = some.run(findings)
        missed = some.left_out * max(off, on)
        if float(found.log_z) == -inf:
            assert float(found.bound) == 1.0
            continue
        assert float(found.bound) == pytest.approx(missed / (np.exp(float(found.log_z)) + missed), rel=1e-9)
        causes, seen = Listed(FRAME).probabilities(findings, some.points)
        assert np.abs(found.causes - causes).max() <= float(found.bound) + 1e-12
        assert np.abs(found.points - seen).max() <= float(found.bound) + 1e-12


def test_a_variable_that_is_held_can_still_be_asked_and_told() -> None:
    """Evidence on the very nodes at which the network is cut."""
    full = split()
    for point in points():
        findings = [On(point, 0.25, 1.0)]
        causes, seen = Listed(FRAME).probabilities(findings, full.points)
        found = full.run(findings)
        assert found.causes.tolist() == pytest.approx(causes.tolist(), abs=1e-12)
        assert found.points.tolist() == pytest.approx(seen.tolist(), abs=1e-12)


def test_what_cannot_be_cut_small_enough_is_refused() -> None:
    """A single gate needs its own table."""
    with pytest.raises(TooWide):
        split_of(wire(FRAME, points()), Limits(held_cells=1))


def test_a_network_of_nothing_has_one_setting() -> None:
    frame = pump_frame()
    settled = split_of(wire(frame, [node(frame, "pressure", "dark")]), Limits())
    assert len(settled.held) == 1
    assert settled.run([]).points.tolist() == [0.0]


def test_evidence_on_a_settled_point_leaves_the_bound() -> None:
    """It multiplies the weight of every fault set alike, tried or not, however small its factors are."""
    frame = frame_of(library("conditions:\n  armed: {title: Armed}\n" + MESH))
    settled = node(frame, "armed")
    some = split_of(wire(frame, [*points(frame), settled]), Limits(held_cells=NARROWEST, settings=3))
    report = On(points(frame)[7], 0.1, 0.9)
    plain = some.run([report])
    doubted = some.run([report, On(settled, 0.2, 0.5)])
    assert float(plain.bound) > 0.0
    assert float(doubted.bound) == pytest.approx(float(plain.bound), abs=1e-12)
    assert doubted.causes.tolist() == pytest.approx(plain.causes.tolist(), abs=1e-12)
