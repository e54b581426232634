"""Probabilities from a diagram: equal to enumeration, and no digit lost where they are tiny."""

from __future__ import annotations

import random
from math import fsum

import pytest

from faultree.belief.weigh import weigh
from faultree.logic.decisions import Question, decide, question_of
from faultree.logic.graph import Graph
from tests.logic.minimal import producing
from tests.oracles.brute import fault_sets
from tests.oracles.random_libraries import random_library


@pytest.mark.parametrize("seed", range(50))
def test_probabilities_are_those_of_enumeration(seed: int) -> None:
    """P(top), and P(top) with each cause present and absent; the other states of its item keep their shares."""
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        question = question_of(library, symptom)
        shown = weigh(decide(question, 10_000), [library.causes[name].probability for name in question.names])
        sets = producing(library, symptom)
        assert shown.top == pytest.approx(fsum(sets.values()), rel=1e-12, abs=1e-300)
        for name, (present, absent, difference) in zip(question.names, shown.causes, strict=True):
            p = library.causes[name].probability
            with_it = fsum(share for one, share in sets.items() if name in one) / p
            without = fsum(share for one, share in sets.items() if name not in one) / (1.0 - p)
            assert present == pytest.approx(with_it, rel=1e-11, abs=0.0)
            assert absent == pytest.approx(without, rel=1e-11, abs=0.0)
            assert difference == pytest.approx(with_it - without, rel=1e-9, abs=1e-14)
            assert (present == 0.0) == (with_it == 0.0), "a zero is a zero"
            assert (absent == 0.0) == (without == 0.0)


def test_enumeration_covers_all() -> None:
    """The reference adds up to one, so that what is compared is a probability."""
    library = random_library(random.Random(3)).library
    assert fsum(share for _, share in fault_sets(library)) == pytest.approx(1.0, abs=1e-12)


def test_no_digit_is_lost_where_one_cause_is_tiny_beside_another() -> None:
    """1 - (1 - 1e-6)(1 - 1e-12) is 1.000000999999e-6; P(top / a absent) is 1e-12 exactly."""
    graph = Graph()
    a, b = graph.name("cause", "a"), graph.name("cause", "b")
    question = Question(graph, graph.gate("any", [a, b]), (("a",), ("b",)))
    shown = weigh(decide(question, 100), [1e-6, 1e-12])
    assert shown.top == 1.000000999999e-6
    assert shown.causes[0].absent == 1e-12
    assert shown.causes[1].absent == 1e-6


def test_a_top_that_is_settled() -> None:
    graph = Graph()
    a = graph.name("cause", "a")
    for literal, value in ((0, 1.0), (1, 0.0)):
        shown = weigh(decide(Question(graph, literal, (("a",),)), 10), [0.5])
        assert (shown.top, shown.causes) == (value, ((value, value, 0.0),))
    assert weigh(decide(Question(graph, a, (("a",),)), 10), [0.5]).causes == ((1.0, 0.0, 1.0),)
