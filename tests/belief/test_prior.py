"""The prior: causes of one item exclude each other, everything else is independent."""

from __future__ import annotations

import math
import random
from itertools import product

import pytest

from faultree.belief.prior import Prior, Root, prior_of
from tests.belief.small import library, pump
from tests.oracles.brute import fault_sets
from tests.oracles.random_libraries import random_library


def joint(prior: Prior) -> dict[frozenset[str], float]:
    """Every combination of root values as a fault set, with the product of its probabilities."""
    found: dict[frozenset[str], float] = {}
    for values in product(*(range(len(root.probabilities)) for root in prior.roots)):
        seats = list(zip(prior.roots, values, strict=True))
        faults = frozenset(root.causes[value - 1] for root, value in seats if value)
        found[faults] = math.prod(root.probabilities[value] for root, value in seats)
    return found


def test_causes_of_an_item_share_a_root_and_others_have_their_own() -> None:
    """Roots come in the order in which their first cause stands in the file."""
    roots = {root.unit: root.causes for root in prior_of(pump()).roots}
    assert list(roots.items()) == [
        ("s/pump", ("s/worn", "s/seized")),
        ("s/leak", ("s/leak",)),
        ("s/gauge", ("s/low", "s/high")),
        ("s/valve", ("s/valve",)),
    ]


def test_what_is_left_of_an_item_is_good() -> None:
    """P(item good) = 1 - sum of the probabilities of its causes."""
    first = prior_of(pump()).roots[0]
    assert first.probabilities == pytest.approx((0.85, 0.10, 0.05), abs=1e-15)
    for root in prior_of(pump()).roots:
        assert math.fsum(root.probabilities) == pytest.approx(1.0, abs=1e-15)
        assert len(root.probabilities) == len(root.causes) + 1


def test_the_roots_are_those_of_items_and_of_causes_without_one() -> None:
    assert [root.is_item for root in prior_of(pump()).roots] == [True, False, True, False]


def test_an_item_without_causes_has_no_root() -> None:
    assert "s/spare" not in prior_of(pump()).index


def test_every_cause_is_found_where_it_sits() -> None:
    prior = prior_of(pump())
    assert set(prior.seat) == set(pump().causes)
    for cause, (root, value) in prior.seat.items():
        assert prior.roots[root].causes[value - 1] == cause
        assert prior.of(cause) == pump().causes[cause].probability


def test_every_unit_is_found_where_it_stands() -> None:
    prior = prior_of(pump())
    assert {unit: prior.roots[index].unit for unit, index in prior.index.items()} == {
        unit: unit for unit in ("s/pump", "s/leak", "s/gauge", "s/valve")
    }


def test_a_cause_with_the_name_of_an_item_is_not_that_item() -> None:
    """Ids are unique among nodes, and items are none: both may be called `pump`; as a unit the item goes first."""
    prior = prior_of(
        library(
            """
items:
  pump: {title: pump}
causes:
  pump: {title: pump of another kind, probability: 0.3}
  worn: {title: pump worn, item: pump, probability: 0.2}
"""
        )
    )
    assert prior.roots == (
        Root("s/pump", ("s/pump",), (0.7, 0.3), is_item=False),
        Root("s/pump", ("s/worn",), (0.8, 0.2), is_item=True),
    )
    assert prior.index == {"s/pump": 1}
    assert prior.of("s/pump") == 0.3


@pytest.mark.parametrize("seed", range(20))
def test_the_joint_prior_is_that_of_every_fault_set(seed: int) -> None:
    """The product over roots is the prior by definition, set by set, and it sums to one."""
    drawn = random_library(random.Random(seed)).library
    expected = dict(fault_sets(drawn))
    assert joint(prior_of(drawn)) == pytest.approx(expected, rel=1e-12)
    assert math.fsum(expected.values()) == pytest.approx(1.0, abs=1e-12)


def test_listed_causes_lie_together_by_unit() -> None:
    """Columns of the same causes, and where those of each root lie."""
    prior = prior_of(library(TWO_MODES))
    listed = prior.listed
    assert listed.causes == ("s/a", "s/b", "s/lone")
    assert listed.items == ("s/x", "s/x", None)
    assert listed.priors == (0.1, 0.2, 0.3)
    assert listed.roots == (0, 0, 1)
    assert listed.spans == ((0, 2), (2, 3))


TWO_MODES = """
items:
  x: {title: X}
causes:
  a: {title: A, item: x, probability: 0.1}
  lone: {title: Alone, probability: 0.3}
  b: {title: B, item: x, probability: 0.2}
"""


def test_a_library_without_causes_lists_none() -> None:
    listed = prior_of(library("conditions:\n  on: {title: On}\n")).listed
    assert (listed.causes, listed.spans) == ((), ())
