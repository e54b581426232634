"""Hidden faults are drawn from the posterior: every fault set as often as it is likely."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from faultree.base.errors import CaseError
from faultree.practice.draw import Draw, draw_of
from faultree.strategy.case import Case
from tests.oracles.brute import World as Brute
from tests.oracles.brute import fault_sets
from tests.practice.chances import chi_square, critical
from tests.practice.small import gate

INSIDE = {"g/pump-worn", "g/pump-dry", "g/valve-shut", "g/motor-dead", "g/leak"}


@pytest.fixture
def draw() -> Draw:
    return draw_of(gate(), "g/still")


def expected(size: int | None = None, *, shown: bool = True) -> dict[frozenset[str], float]:
    """P(F / report) by enumeration, the causes that the report has nothing to do with left out of F."""
    library, weights = gate(), dict[frozenset[str], float]()
    for faults, prior in fault_sets(library):
        inside = faults & INSIDE
        there = not Brute(library, faults, None).node("g/moves")
        if there == shown and size in (None, len(inside)):
            weights[inside] = weights.get(inside, 0.0) + prior
    total = sum(weights.values())
    return {faults: weight / total for faults, weight in weights.items()}


def agrees(drawn: list[frozenset[str]], chances: dict[frozenset[str], float]) -> None:
    counts = Counter(drawn)
    assert set(counts) <= set(chances)
    statistic, freedom = chi_square([counts[one] for one in chances], list(chances.values()))
    assert statistic < critical(freedom), (statistic, freedom)


def test_sets_come_as_often_as_they_are_likely(draw: Draw) -> None:
    random = Random(1)
    agrees([draw.any(random) for _ in range(5000)], expected())


@pytest.mark.parametrize("size", [1, 2])
def test_sets_of_a_size_come_as_often_as_they_are_likely(draw: Draw, size: int) -> None:
    random = Random(2)
    agrees([draw.of_size(size, random) for _ in range(5000)], expected(size))


def test_shares_of_a_size_are_exact(draw: Draw) -> None:
    """The shares themselves, not only what was drawn, are those of the enumeration."""
    for size in (1, 2):
        sets, shares = draw.sized(size)
        assert dict(zip(sets, shares.tolist(), strict=True)) == pytest.approx(expected(size))


def test_every_cause_comes_as_often_as_the_ranking_says(draw: Draw) -> None:
    """The two ways of the engine, drawing and ranking, are one."""
    random = Random(3)
    counts = Counter(cause for _ in range(5000) for cause in draw.any(random))
    for suspect in Case.open(gate(), ["still"]).ranking():
        if suspect.implicated:
            error = (suspect.probability * (1.0 - suspect.probability) / 5000) ** 0.5
            assert counts[suspect.cause] / 5000 == pytest.approx(suspect.probability, abs=4 * error)


def test_what_the_report_has_nothing_to_do_with_is_good(draw: Draw) -> None:
    assert not any("g/mat-torn" in draw.any(Random(seed)) for seed in range(200))


def test_a_set_that_cannot_be_is_refused(draw: Draw) -> None:
    """Every fault in reach shows this report, so none of them can be hidden behind a wrong one."""
    with pytest.raises(CaseError, match="no single fault hides this report: "):
        draw.of_size(1, Random(1), shown=False)
