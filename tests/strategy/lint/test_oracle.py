"""The oracle finds a smallest fault set with a property, or proves that there is none."""

from __future__ import annotations

import pytest

from faultree.belief.engine import Limits, TooWide
from faultree.library.load import load_texts
from faultree.logic.graph import FALSE, TRUE
from faultree.strategy.lint.oracle import DEAR, MOST_IN_ONE, MOST_NODES, MOST_VIEWS, Effort, Oracle
from tests.strategy.lint.enumerated import Enumerated, library

SEEDS = range(40)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_witness_is_a_smallest_set_with_the_property(seed: int) -> None:
    """Of every symptom and every answer, and of what is not so."""
    brute = Enumerated(library(seed))
    oracle = Oracle(brute.library)
    for name, symptom in brute.library.symptoms.items():
        literal = oracle.view(symptom.situation).literal(oracle.frame.seen[name])
        for turned in (0, 1):
            sets = [faults for faults, shown in brute.shows[name].items() if shown != bool(turned)]
            found = oracle.witness(literal ^ turned)
            assert (found is None) == (not sets)
            assert found is None or (found in sets and len(found) == min(map(len, sets)))


MODES = """
faultree: 1
title: Two modes of one item
conditions: {on: {title: it is on}}
situations: {running: {title: running, sets: {on: yes}}}
items: {valve: {title: valve}}
causes:
  shut: {title: stuck shut, item: valve, probability: 1e-300}
  open: {title: stuck open, item: valve, probability: 0.1}
  leak: {title: leak, probability: 1e-300}
events:
  both: {title: both, all: [shut, open]}
  rare: {title: rare, all: [shut, leak]}
  running-shut: {title: shut while on, all: [shut, on]}
"""


def test_causes_of_one_item_are_never_together() -> None:
    oracle = Oracle(load_texts({"s.yaml": MODES}))
    view = oracle.view(None)
    literals = oracle.frame.graph.literals
    assert oracle.witness(view.literal(literals["s/both"])) is None


def test_likelihoods_play_no_part() -> None:
    """What has a probability of 1e-600 can be; no number is too small to be seen."""
    oracle = Oracle(load_texts({"s.yaml": MODES}))
    found = oracle.witness(oracle.view(None).literal(oracle.frame.graph.literals["s/rare"]))
    assert found == frozenset({"s/shut", "s/leak"})


def test_the_situation_and_fixed_causes_are_part_of_the_question() -> None:
    oracle = Oracle(load_texts({"s.yaml": MODES}))
    node = oracle.frame.graph.literals["s/running-shut"]
    assert oracle.view(None).literal(node) == FALSE
    assert oracle.witness(oracle.view("s/running").literal(node)) == frozenset({"s/shut"})
    assert oracle.view("s/running", oracle.only("s/shut")).literal(node) == TRUE
    assert oracle.view("s/running", oracle.without("s/open")).literal(node) == FALSE
    assert oracle.only("s/shut", "s/leak") == {"s/shut": True, "s/open": False, "s/leak": False}


def test_a_question_that_is_too_wide_is_not_answered() -> None:
    oracle = Oracle(load_texts({"s.yaml": MODES}), Limits(cells=1))
    with pytest.raises(TooWide):
        oracle.witness(oracle.view(None).literal(oracle.frame.graph.literals["s/rare"]))


def test_the_effort_has_an_end_for_one_question_and_for_all() -> None:
    """So a lint of any library ends, and with the same findings on any machine."""
    effort = Effort(left=100, left_in_one=60)
    effort.spend(60)
    with pytest.raises(TooWide):
        effort.spend(1)
    effort.renew()
    assert effort.left_in_one == MOST_IN_ONE
    with pytest.raises(TooWide):
        effort.spend(40)


def test_what_was_found_before_costs_nothing() -> None:
    """Neither an answer nor that there is none."""
    oracle = Oracle(load_texts({"s.yaml": MODES}))
    rare = oracle.view(None).literal(oracle.frame.graph.literals["s/rare"])
    first = oracle.witness(rare)
    spent = MOST_NODES - oracle.effort.left
    assert 0 < spent < 10
    assert oracle.witness(rare) == first
    assert MOST_NODES - oracle.effort.left == spent
    narrow = Oracle(load_texts({"s.yaml": MODES}), Limits(cells=1))
    rare = narrow.view(None).literal(narrow.frame.graph.literals["s/rare"])
    for _ in range(3):
        with pytest.raises(TooWide):
            narrow.witness(rare)
    assert MOST_NODES - narrow.effort.left == (1 + DEAR) * spent


def test_views_are_kept_up_to_a_number() -> None:
    oracle = Oracle(library(3))
    view = oracle.view(None, {"s/0": True})
    assert oracle.view(None, {"s/0": True}) is view
    for number in range(MOST_VIEWS):
        oracle.view(None, {f"s/{number + 1}": True})
    assert oracle.view(None, {"s/0": True}) is not view
