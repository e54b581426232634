"""Cut sets and probabilities of middling trees against general-purpose libraries.

For the cut sets a library of decision diagrams (dd) proves the list: every set on it produces the symptom, no
part of one does, and whatever produces the symptom includes a set on it. The exact probability is held against
dd, against a Bayesian-network library (pyagrum), and against faultree's own engine, which shares no code with
the diagrams.
"""

from __future__ import annotations

from itertools import combinations

import pytest

from faultree.belief.importance import importance, importance_of
from faultree.library.load import load
from faultree.library.model import Library
from faultree.logic.cut_sets import Limits, cut_sets, minimal_sets
from tests.oracles.diagrams import Functions
from tests.oracles.network import Network
from tests.oracles.synthetic_graphs import TOP, Sharing, synthetic_library

TREES = load("trees")
MIDDLING: list[tuple[int, int, Sharing]] = [(1, 60, "local"), (2, 120, "local"), (3, 60, "hubs"), (4, 80, "global")]


def proven(library: Library, symptom: str) -> None:
    """The list of cut sets is right and complete; sets with two causes of one item count as impossible."""
    functions = Functions(library, library.symptoms[symptom].situation)
    top = functions.symptom(symptom)
    found = cut_sets(library, symptom)
    assert found.complete
    for one in found:
        assert functions.holds(top, one)
        for size in range(len(one)):
            assert not any(functions.holds(top, part) for part in combinations(sorted(one), size))
    left = top & ~functions.sets(found)
    items: dict[str, list[str]] = {}
    for name, cause in library.causes.items():
        items.setdefault(cause.item or name, []).append(name)
    for names in items.values():
        left &= ~functions.just(2, [functions.bdd.var(name) for name in names])
    assert left == functions.bdd.false


@pytest.mark.parametrize(("seed", "causes", "sharing"), MIDDLING)
def test_cut_sets_of_synthetic_trees(seed: int, causes: int, sharing: Sharing) -> None:
    """With shared parts, and a tenth of the gates with an inverted input."""
    proven(synthetic_library(seed, causes, sharing, checks=1), TOP)


@pytest.mark.parametrize(
    "symptom",
    [
        "flaps/needles-apart",
        "flaps/flaps-slow",
        "leading-edge/in-on-reserve",
        "spoilers/rise-late",
        "spoilers/arm-lamp-lies",
    ],
)
def test_cut_sets_of_the_demonstration_library(symptom: str) -> None:
    proven(TREES, symptom)


@pytest.mark.parametrize(("seed", "causes", "sharing"), MIDDLING)
def test_the_probability_of_the_top(seed: int, causes: int, sharing: Sharing) -> None:
    library = synthetic_library(seed, causes, sharing, checks=1)
    functions = Functions(library, None)
    found = importance(library, TOP)
    assert found.exact
    assert found.lower == pytest.approx(functions.probability(functions.symptom(TOP)), rel=1e-12, abs=0.0)


@pytest.mark.parametrize(
    "symptom", ["flaps/flaps-stay-up", "spoilers/rise-on-approach", "leading-edge/transit-light-stays-on"]
)
def test_probability_and_posteriors_against_a_bayesian_network(symptom: str) -> None:
    """P(symptom) and P(cause / symptom), with items of several causes."""
    network = Network(TREES, [symptom], ())
    found = importance(TREES, symptom)
    report = network.engine.posterior(network.reports[0])
    assert TREES.symptoms[symptom].false_report == 0.0
    assert found.lower == pytest.approx(float(report[1]), rel=1e-10, abs=0.0)
    network.observe(())
    posterior = network.posterior()
    for row in found:
        assert row.given == pytest.approx(posterior[row.cause], rel=1e-9, abs=1e-15)


@pytest.mark.parametrize("symptom", TREES.symptoms)
def test_the_diagram_and_the_engine_agree(symptom: str) -> None:
    """Every figure of every symptom in two ways: a decision diagram, and the response network by Bayes' rule."""
    one = importance(TREES, symptom)
    two = importance_of(TREES, minimal_sets(TREES, symptom, Limits(0, 600_000)))
    assert one.exact
    assert one.bound == two.bound == 0.0
    assert two.lower == pytest.approx(one.lower, rel=1e-11, abs=0.0)
    engine = {row.cause: row for row in two}
    for row in one:
        other = engine[row.cause]
        for name in ("given", "birnbaum", "criticality", "achievement", "structural"):
            assert getattr(other, name) == pytest.approx(getattr(row, name), rel=1e-8, abs=1e-12), (row.cause, name)
