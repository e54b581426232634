"""Importance of causes: definitions by enumeration, identities, and what is said where nothing is exact."""

from __future__ import annotations

import random
from math import fsum, inf, prod

import pytest

from faultree.base.errors import UnknownName
from faultree.belief.engine import Limits
from faultree.belief.importance import Importances, importance, importance_of
from faultree.library.load import load
from faultree.library.model import Library
from faultree.logic.cut_sets import Limits as Steps
from faultree.logic.cut_sets import minimal_sets
from tests.logic.minimal import minimal, producing, small
from tests.oracles.random_libraries import random_library

TREES = load("trees")
CLOSE = 1e-10


def by_name(found: Importances) -> dict[str, tuple[float, ...]]:
    return {row.cause: row[2:] for row in found}


@pytest.mark.parametrize("seed", range(40))
def test_every_figure_is_its_definition(seed: int) -> None:
    """By enumeration of all fault sets, for every gate, situations, and items with several causes."""
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        found = importance(library, symptom)
        sets, cut_sets = producing(library, symptom), minimal(library, symptom)
        top = fsum(sets.values())
        assert found.exact
        assert found.lower == pytest.approx(top, rel=CLOSE, abs=0.0)
        weight = {one: prod(library.causes[name].probability for name in one) for one in cut_sets}
        for row in found:
            p = library.causes[row.cause].probability
            joint = fsum(share for one, share in sets.items() if row.cause in one)
            with_it, without = joint / p, (fsum(sets.values()) - joint) / (1.0 - p)
            mine = [one for one in cut_sets if row.cause in one]
            assert row.probability == p
            assert row.item == library.causes[row.cause].item
            assert row.birnbaum == pytest.approx(with_it - without, rel=1e-7, abs=1e-12)
            assert (row.sets, row.order) == (len(mine), min(map(len, mine), default=0))
            if top:
                assert row.given == pytest.approx(joint / top, rel=CLOSE, abs=1e-15)
                assert row.achievement == pytest.approx(with_it / top, rel=CLOSE, abs=1e-15)
                assert row.criticality == pytest.approx(1.0 - without / top, rel=1e-6, abs=1e-10)
                shares = fsum(weight[one] for one in mine) / fsum(weight.values())
                assert row.fussell_vesely == pytest.approx(shares, rel=CLOSE, abs=0.0)


@pytest.mark.parametrize("symptom", TREES.symptoms)
def test_identities(symptom: str) -> None:
    """P = P0 + p B; 1 - 1/RRW = criticality; P(x / top) = p RAW; P = p P1 + (1 - p) P0. They hold for every logic."""
    found = importance(TREES, symptom)
    top = found.lower
    for row in found:
        without = 0.0 if row.reduction == inf else top / row.reduction
        assert without + row.probability * row.birnbaum == pytest.approx(top, rel=CLOSE, abs=0.0)
        assert 1.0 - 1.0 / row.reduction == pytest.approx(row.criticality, rel=1e-7, abs=1e-12)
        assert row.given == pytest.approx(row.probability * row.achievement, rel=CLOSE, abs=0.0)
        mixed = row.probability * row.achievement * top + (1.0 - row.probability) * without
        assert mixed == pytest.approx(top, rel=CLOSE, abs=0.0)
        assert 0.0 <= row.given <= 1.0
        assert 0.0 <= row.fussell_vesely <= 1.0


@pytest.mark.parametrize("symptom", ["electrical/generator-1-off", "flaps/lever-leaves-gate"])
def test_single_faults_share_the_fussell_vesely_importance_between_them(symptom: str) -> None:
    """Where every cut set is a single fault, each counts once."""
    assert sum(row.fussell_vesely for row in importance(TREES, symptom)) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("symptom", TREES.symptoms)
def test_likeliest_first_and_by_structure(symptom: str) -> None:
    found = importance(TREES, symptom)
    given = [float(f"{row.given:.12e}") for row in found]
    assert given == sorted(given, reverse=True)
    structural = [row.structural for row in found.by_structure]
    assert structural == sorted(structural, reverse=True)
    assert set(found.by_structure) == set(found.rows)


EVEN = """
items: {relay: {title: relay}}
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.2}
  open: {title: relay open, item: relay, likelihood: remote}
  welded: {title: relay welded, item: relay, likelihood: remote}
events:
  series: {title: series, any: [a, b]}
  needed: {title: needed, all: [a, {not: b}]}
  relay: {title: relay either way, any: [open, {all: [welded, a]}]}
symptoms:
  series: {title: series, event: series}
  needed: {title: needed, event: needed}
  relay: {title: relay, event: relay}
  doubtful: {title: doubtful, event: series, false_report: 0.3}
  never: {title: never, sees: {series: no, a: yes}}
  always: {title: always, sees: {never: no}}
"""


def even(symptom: str) -> Importances:
    return importance(library(), symptom)


def library() -> Library:
    return small(
        EVEN.replace(
            "  series: {title: series, any",
            "  never: {title: never, all: [a, {not: a}]}\n  series: {title: series, any",
        )
    )


def test_structural_importance_counts_states_as_equally_likely() -> None:
    """A of `A or B` matters in one of B's two states; of an item with two causes each state has a third.

    By hand: the relay open is enough, otherwise it is good (nothing) or welded (with A, 1/2): 1 - 1/4. Welded it
    takes A, 1/2; otherwise it is good (nothing) or open (enough): 1/2 as well. A matters where it is welded, 1/3.
    """
    assert {row.cause: row.structural for row in even("series")} == pytest.approx({"s/a": 0.5, "s/b": 0.5})
    found = {row.cause: row.structural for row in even("relay")}
    assert found == pytest.approx({"s/a": 1 / 3, "s/open": 3 / 4, "s/welded": 1 / 2 - 1 / 2})


def test_a_cause_that_hinders_has_a_negative_importance() -> None:
    rows = {row.cause: row for row in even("needed")}
    assert rows["s/b"].birnbaum == pytest.approx(-0.1)
    assert rows["s/b"].achievement == 0.0
    assert (rows["s/b"].sets, rows["s/b"].order, rows["s/b"].fussell_vesely) == (0, 0, 0.0)


def test_a_cause_without_which_nothing_happens_has_a_reduction_worth_without_end() -> None:
    rows = {row.cause: row for row in even("needed")}
    assert rows["s/a"].reduction == inf
    assert rows["s/a"].criticality == pytest.approx(1.0)


def test_a_false_report_is_no_part_of_the_top() -> None:
    assert by_name(even("doubtful")) == by_name(even("series"))
    assert even("doubtful").lower == even("series").lower == pytest.approx(0.28)


def test_a_symptom_that_cannot_be_or_always_is() -> None:
    never, always = even("never"), even("always")
    assert (never.lower, never.upper) == (0.0, 0.0)
    assert {(row.given, row.birnbaum, row.achievement, row.reduction) for row in never} == {(0.0, 0.0, 1.0, 1.0)}
    assert (always.lower, always.rows) == (1.0, ())


def test_bands_alone_are_said() -> None:
    """A figure beside them is enough to be no longer bands alone."""
    assert not even("relay").only_bands
    assert importance(TREES, "flaps/lever-leaves-gate").only_bands
    assert not importance(TREES, "spoilers/stay-down").only_bands


@pytest.mark.parametrize("seed", range(60, 80))
def test_without_a_diagram_the_engine_gives_the_same(seed: int) -> None:
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        one = importance(library, symptom)
        two = importance_of(library, minimal_sets(library, symptom, Steps(0, 600_000)))
        assert two.lower == pytest.approx(one.lower, rel=1e-9, abs=1e-15)
        rows = {row.cause: row for row in two}
        for row in one:
            assert rows[row.cause].given == pytest.approx(row.given, rel=1e-9, abs=1e-12)
            assert rows[row.cause].birnbaum == pytest.approx(row.birnbaum, rel=1e-7, abs=1e-9)
            assert rows[row.cause].structural == pytest.approx(row.structural, rel=1e-7, abs=1e-9)


@pytest.mark.parametrize("seed", range(90, 110))
def test_where_nothing_is_exact_the_bounds_enclose_the_truth(seed: int) -> None:
    """No diagram, and a table of so few fault sets that the engine is not exact."""
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        exact = importance(library, symptom)
        rough = importance_of(library, minimal_sets(library, symptom, Steps(0, 0)), Limits(cells=1, size=1, sets=4))
        assert rough.lower <= exact.lower * (1.0 + 1e-12)
        assert exact.lower <= rough.upper * (1.0 + 1e-12) + 1e-15
        assert 0.0 <= rough.lower <= rough.upper <= 1.0
        assert rough.probability == pytest.approx((rough.lower + rough.upper) / 2.0)
        rows = {row.cause: row for row in rough}
        for row in exact:
            assert abs(rows[row.cause].given - row.given) <= rough.bound + 1e-9


def test_an_unknown_symptom_is_an_unknown_name() -> None:
    with pytest.raises(UnknownName):
        importance(TREES, "stay-dow")
