"""Minimal cut sets: the minimal fault sets and no others, likeliest first, and what is cut off is said and bounded."""

from __future__ import annotations

import random
from itertools import pairwise
from math import prod

import pytest

from faultree.base.errors import UnknownName
from faultree.belief.enclose import enclose
from faultree.belief.importance import importance
from faultree.library.load import load, load_texts
from faultree.library.model import Library
from faultree.logic.cut_sets import CutSets, Limits, cut_sets, minimal_sets
from tests.logic.minimal import minimal, producing, small
from tests.oracles.random_libraries import random_library

TREES = load("trees")


def short(found: CutSets) -> list[str]:
    """Sets as text, in their order."""
    return [" ".join(sorted(name.removeprefix("s/") for name in one)) for one in found]


@pytest.mark.parametrize("seed", range(80))
def test_they_are_the_minimal_fault_sets(seed: int) -> None:
    """By enumeration: with every gate, situations, items with several causes, and logic that is not coherent."""
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        found = cut_sets(library, symptom)
        assert found.complete
        assert found.left_out == 0.0
        assert len(found) == found.count == sum(found.orders.values())
        assert set(found) == minimal(library, symptom)


@pytest.mark.parametrize("seed", range(120, 160))
def test_singles_and_pairs_are_found_without_a_diagram(seed: int) -> None:
    """Where no diagram can be had, each single and each pair is tried; what is said to be missing bounds the rest."""
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        sets = minimal_sets(library, symptom, Limits(0, 0))
        found = sets.listed()
        everything = minimal(library, symptom)
        assert set(found) == {one for one in everything if len(one) <= 2}
        if sets.decisions is None:
            assert found.complete == (found.count is not None) == (len(sets.question.groups) <= 2)
        bounded(found, producing(library, symptom))


@pytest.mark.parametrize("seed", range(180, 215))
def test_what_a_limit_cuts_off_is_bounded(seed: int) -> None:
    """P(symptom, and no set that is listed is present) is never above `left_out`."""
    rng = random.Random(seed)
    library = random_library(rng).library
    for symptom in library.symptoms:
        everything = cut_sets(library, symptom)
        order, least, most = rng.randint(0, 3), 10.0 ** rng.uniform(-4.0, -0.5), rng.randint(0, 4)
        for found in (
            cut_sets(library, symptom, max_order=order),
            cut_sets(library, symptom, least_probability=least),
            cut_sets(library, symptom, order, least, most),
        ):
            assert set(found) <= set(everything)
            assert found.complete == (len(found) == len(everything))
            assert found.count == len(everything)
            bounded(found, producing(library, symptom))
        within = [one for one in everything if len(one) <= order]
        assert list(cut_sets(library, symptom, max_order=order)) == within
        likely = [one for one, share in zip(everything, everything.probabilities, strict=True) if share >= least]
        assert list(cut_sets(library, symptom, least_probability=least)) == likely
        assert list(cut_sets(library, symptom, most=most)) == list(everything[:most])


def bounded(found: CutSets, sets: dict[frozenset[str], float]) -> None:
    missing = sum(share for faults, share in sets.items() if not any(one <= faults for one in found))
    assert missing <= found.left_out + 1e-15
    assert found.left_out <= 1.0


@pytest.mark.parametrize("symptom", TREES.symptoms)
def test_likeliest_first_and_equal_ones_smaller_first(symptom: str) -> None:
    found = cut_sets(TREES, symptom)
    rounded = [float(f"{one:.12e}") for one in found.probabilities]
    for (one, first), (two, second) in pairwise(zip(rounded, found, strict=True)):
        assert (-one, len(first)) <= (-two, len(second))
    for causes, share in zip(found, found.probabilities, strict=True):
        assert share == pytest.approx(prod(TREES.causes[name].probability for name in causes), rel=1e-12, abs=0.0)
        items = [TREES.causes[name].item for name in causes if TREES.causes[name].item]
        assert len(items) == len(set(items)), "causes of one item exclude each other"


EXCLUSIVE = """
items:
  relay: {title: relay}
causes:
  open: {title: relay stuck open, item: relay, probability: 0.1}
  welded: {title: relay welded, item: relay, probability: 0.2}
  wire: {title: wire broken, probability: 0.3}
events:
  both: {title: both ways at once, all: [open, welded]}
  odd: {title: not quite, all: [{any: [open, wire]}, {any: [welded, wire]}]}
  only: {title: wire alone, all: [wire, {not: open}]}
symptoms:
  never: {title: never, event: both}
  odd: {title: odd, event: odd}
  only: {title: only, event: only}
  always: {title: always, sees: {both: no}}
"""


def test_two_causes_of_one_item_are_never_in_a_set() -> None:
    assert short(cut_sets(small(EXCLUSIVE), "odd")) == ["wire"]
    assert short(cut_sets(small(EXCLUSIVE), "never")) == []


def test_a_cause_that_must_be_absent_is_in_no_set() -> None:
    assert short(cut_sets(small(EXCLUSIVE), "only")) == ["wire"]


def test_a_symptom_that_is_there_with_nothing_wrong_has_the_empty_set() -> None:
    found = cut_sets(small(EXCLUSIVE), "always")
    assert list(found) == [frozenset()]
    assert found.probabilities == (1.0,)
    assert minimal_sets(small(EXCLUSIVE), "s/always", Limits(0, 0)).listed()[0] == frozenset()


def wide(count: int) -> str:
    """A chain of `count` pairs in parallel: 2 ** count minimal sets, each with one cause of every pair."""
    names = [f"{side}{number}" for number in range(count) for side in "ab"]
    causes = "".join(
        f"  {name}: {{title: {name}, probability: 0.{1 + number % 3}}}\n" for number, name in enumerate(names)
    )
    pairs = ", ".join(f"{{any: [a{number}, b{number}]}}" for number in range(count))
    return (
        f"causes:\n{causes}events:\n  top: {{title: top, all: [{pairs}]}}\nsymptoms:\n  r: {{title: R, event: top}}\n"
    )


def test_a_number_of_sets_that_nobody_could_list_is_counted_and_begun() -> None:
    found = cut_sets(small(wide(120)), "r", most=5)
    assert found.count == 2**120
    assert found.orders == {120: 2**120}
    assert len(found) == 5
    assert found.probabilities[0] == pytest.approx(max(0.1, 0.2) ** 40 * 0.3**80, rel=1e-9, abs=0.0)
    assert found.cut_off == f"{2**120 - 5:,} sets less likely than those listed"
    assert 0.0 < found.left_out <= 1.0


def test_what_is_cut_off_is_said() -> None:
    library = small(
        "causes: {a: {title: A, probability: 0.1}, b: {title: B, probability: 0.2}, c: {title: C, probability: 0.3},"
        " d: {title: D, probability: 0.3}}\n"
        "events: {e: {title: E, any: [a, {all: [b, c]}, {all: [b, d]}]}}\nsymptoms: {r: {title: R, event: e}}\n"
    )
    assert cut_sets(library, "r").cut_off == ""
    assert cut_sets(library, "r", max_order=1).cut_off == "2 sets of more than 1 cause"
    assert cut_sets(library, "r", least_probability=0.08).cut_off == "2 sets less likely than 0.08"
    assert cut_sets(library, "r", most=2).cut_off == "1 set less likely than those listed"
    coarse = minimal_sets(library, "s/r", Limits(0, 0)).listed(max_order=1)
    assert (
        coarse.cut_off == "2 sets of more than 1 cause and all sets of more than 2 causes, which are too many to find"
    )
    three_of_b_c_d = 0.9 * 0.2 * 0.3 * 0.3  # a is enough alone: no set that is missing holds it, or needs to
    assert coarse.left_out == pytest.approx(three_of_b_c_d + 2 * 0.2 * 0.3, rel=1e-9, abs=0.0)


def mixed() -> Library:
    """Sets of two to ten causes, 208 in all."""
    pairs = ", ".join(f"{{any: [a{number}, b{number}, {{all: [c{number}, d{number}]}}]}}" for number in range(5))
    names = [f"{side}{number}" for side in "abcd" for number in range(5)]
    causes = "".join(f"  {name}: {{title: {name}, probability: 0.1}}\n" for name in names)
    more = "{all: [a0, a1]}, {all: [b2, c3, d4]}, {all: [b0, c1, d2, d3]}"
    return small(
        f"causes:\n{causes}events:\n  top: {{title: top, any: [{{all: [{pairs}]}}, {more}]}}\n"
        "symptoms:\n  r: {title: R, event: top}\n"
    )


def test_sets_of_a_few_causes_where_all_are_too_many() -> None:
    """A family beyond its limit is cut at four causes, then at three, then singles and pairs are tried."""
    library = mixed()
    everything = cut_sets(library, "r")
    reaches = []
    for limit in range(0, 2000, 50):
        sets = minimal_sets(library, "s/r", Limits(100_000, limit))
        reach = sets.known.reach
        reaches.append(reach)
        assert set(sets.listed()) == {one for one in everything if reach is None or len(one) <= reach}
    assert list(dict.fromkeys(reaches)) == [2, 3, 4, None]


def test_where_a_limit_on_the_causes_takes_too_much_singles_and_pairs_are_given() -> None:
    """A family that just fits leaves no room to cut it down; the answer is coarser, and says so."""
    library = mixed()
    full = minimal_sets(library, "s/r")
    assert full.known.family.count == 208
    full.known.family.families.most = 0
    found = full.listed(max_order=6)
    assert [sorted(one) for one in found] == [["s/a0", "s/a1"]]
    assert found.count is None
    assert found.cut_off == "all sets of more than 2 causes, which are too many to find"
    assert importance(library, "r").lower - 0.1 * 0.1 <= found.left_out < 1.0


def test_where_even_pairs_are_too_many_single_causes_are_given(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody who asks for cut sets, bounds or importance meets the limit of a store."""
    causes = "\n".join(f"  a{number}: {{title: a, probability: 0.01}}" for number in range(6))
    several = ", ".join(f"a{number}" for number in range(6))
    library = load_texts(
        {
            "s.yaml": f"faultree: 1\ntitle: S\ncauses:\n{causes}\n  b: {{title: b, probability: 0.02}}\n"
            f"events:\n  e: {{title: e, any: [b, {{at_least: {{count: 2, of: [{several}]}}}}]}}\n"
            "symptoms:\n  r: {title: r, event: e}\n"
        }
    )
    everything = cut_sets(library, "r")
    assert len(everything) == 16
    monkeypatch.setattr("faultree.logic.cut_sets.MOST_PAIRS", 5)
    sets = minimal_sets(library, "s/r", Limits(0, 0))
    assert sets.known.reach == 1
    for order in (None, 1, 2):
        found = sets.listed(order)
        assert [sorted(one) for one in found] == [["s/b"]]
        assert found.cut_off == "all sets of more than 1 cause, which are too many to find"
        assert 0.0 < found.left_out < 0.02
    lower, upper = enclose(sets)
    assert lower <= importance(library, "r").lower <= upper


def test_pairs_that_just_fit_can_be_cut_down_to_single_causes(monkeypatch: pytest.MonkeyPatch) -> None:
    library = mixed()
    pairs = minimal_sets(library, "s/r", Limits(0, 0))
    monkeypatch.setattr("faultree.logic.cut_sets.MOST_PAIRS", len(pairs.known.family.families.var) - 2)
    assert minimal_sets(library, "s/r", Limits(0, 0)).listed(max_order=1) == pairs.listed(max_order=1)


def test_an_unknown_symptom_is_an_unknown_name() -> None:
    with pytest.raises(UnknownName):
        cut_sets(TREES, "stay-dow")
