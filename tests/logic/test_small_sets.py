"""Singles and pairs by trying them all, 64 at a time."""

from __future__ import annotations

from itertools import combinations

import pytest

from faultree.logic import small_sets
from faultree.logic.decisions import Question, question_of
from faultree.logic.graph import FALSE, TRUE, Graph
from faultree.logic.small_sets import singles_and_pairs
from tests.logic.minimal import small


def votes(count: int) -> Question:
    """Two of so many causes, of which the first is enough alone."""
    graph = Graph()
    names = [f"c{number}" for number in range(count)]
    literals = [graph.name("cause", name) for name in names]
    top = graph.gate("any", [literals[0], graph.gate("at_least", literals, 2)])
    return Question(graph, top, tuple((name,) for name in names))


@pytest.mark.parametrize("words", [1, 4, 1024])
@pytest.mark.parametrize("count", [3, 64, 65, 130])
def test_all_pairs_across_words_and_batches(count: int, words: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever fits into a word or a batch, none is missed and none comes twice."""
    monkeypatch.setattr(small_sets, "WORDS", words)
    found = singles_and_pairs(votes(count))
    others = [f"c{number}" for number in range(1, count)]
    assert len(found) == len(set(found))
    assert set(found) == {frozenset(["c0"]), *map(frozenset, combinations(others, 2))}


def test_settled_questions() -> None:
    assert singles_and_pairs(Question(Graph(), TRUE, ())) == [frozenset()]
    assert singles_and_pairs(Question(Graph(), FALSE, ())) == []


def test_causes_of_one_item_make_no_pair() -> None:
    library = small(
        "items: {i: {title: I}}\n"
        "causes: {a: {title: A, item: i, probability: 0.1}, b: {title: B, item: i, probability: 0.1},"
        " c: {title: C, probability: 0.1}}\n"
        "events: {e: {title: E, at_least: {count: 2, of: [a, b, c]}}}\nsymptoms: {r: {title: R, event: e}}\n"
    )
    assert set(singles_and_pairs(question_of(library, "s/r"))) == {frozenset(["s/a", "s/c"]), frozenset(["s/b", "s/c"])}


def test_a_pair_of_which_neither_part_is_enough_though_nothing_is_coherent() -> None:
    """Exactly two of four: any pair is enough, three are too many."""
    library = small(
        "causes: {a: {title: A, probability: 0.1}, b: {title: B, probability: 0.1}, c: {title: C, probability: 0.1},"
        " d: {title: D, probability: 0.1}}\n"
        "events: {e: {title: E, all: [{at_least: {count: 2, of: [a, b, c, d]}},"
        " {not: {at_least: {count: 3, of: [a, b, c, d]}}}]}}\nsymptoms: {r: {title: R, event: e}}\n"
    )
    found = singles_and_pairs(question_of(library, "s/r"))
    assert set(found) == {frozenset(f"s/{one}" for one in pair) for pair in combinations("abcd", 2)}
