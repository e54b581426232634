"""Two example trees of the Open-PSA Model Exchange Format specification, and the handbook's substitution example.

Sources: Open-PSA MEF specification, house-event example and components example (both read; the
probability of the second is computed exactly from its data); NUREG-0492, Fault Tree Handbook, 1981,
chapter VII (from memory; exact value computed).
"""

from __future__ import annotations

import pytest

from faultree.belief.importance import importance
from faultree.logic.derive import fault_tree
from tests.published.small import answers, explained, library_of, listed, opened

HOUSE = """
conditions:
  h1: {title: The house event}
situations:
  on: {title: House event on, sets: {h1: yes}}
  off: {title: House event off, sets: {h1: no}}
causes:
  e1: {title: Event 1, probability: 0.01}
  e2: {title: Event 2, probability: 0.02}
  e3: {title: Event 3, probability: 0.03}
  e4: {title: Event 4, probability: 0.04}
events:
  top: {title: Top, any: [g1, g2]}
  g1: {title: Gate 1, all: [h1, g3, g4]}
  g2: {title: Gate 2, all: [{not: h1}, e2, g4]}
  g3: {title: Gate 3, any: [e1, e3]}
  g4: {title: Gate 4, any: [e3, e4]}
symptoms:
  with-h1: {title: Top with the house event on, situation: on, event: top}
  without-h1: {title: Top with the house event off, situation: off, event: top}
"""

COMPONENTS = """
conditions:
  asked: {title: Somebody asked, usually: yes}
causes:
  be1: {title: Basic event 1, probability: 1.2e-3}
  be2: {title: Basic event 2, probability: 2.4e-3}
  be3: {title: Basic event 3, probability: 5.2e-3}
  be4: {title: Basic event 4, probability: 1.6e-3}
events:
  top: {title: Top, all: [be1, {any: [be2, be3, be4]}]}
checks:
  look: {title: Look, ask: Is it so?, reads: top}
symptoms:
  reported: {title: Top, event: top}
  nothing: {title: Somebody asked, event: asked}
"""

SUBSTITUTION = """
conditions:
  asked: {title: Somebody asked, usually: yes}
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.1}
  c: {title: C, probability: 0.1}
events:
  t: {title: T, all: [e1, e2]}
  e1: {title: E1, any: [a, e3]}
  e2: {title: E2, any: [c, e4]}
  e3: {title: E3, any: [b, c]}
  e4: {title: E4, all: [a, b]}
checks:
  look: {title: Look, ask: Is it so?, reads: t}
symptoms:
  reported: {title: T, event: t}
  nothing: {title: Somebody asked, event: asked}
"""


@pytest.mark.parametrize(
    ("library", "symptom", "cut_sets"),
    [
        (HOUSE, "with-h1", [{"e3"}, {"e1", "e4"}]),
        (HOUSE, "without-h1", [{"e2", "e3"}, {"e2", "e4"}]),
        (COMPONENTS, "reported", [{"be1", "be2"}, {"be1", "be3"}, {"be1", "be4"}]),
        (SUBSTITUTION, "reported", [{"c"}, {"a", "b"}]),
    ],
)
def test_explanations_are_the_minimal_cut_sets(library: str, symptom: str, cut_sets: list[set[str]]) -> None:
    """Both as the explanations of a case, and by the diagram that lists cut sets."""
    assert explained(opened(library, symptom)) == set(map(frozenset, cut_sets))
    assert listed(library, symptom) == set(map(frozenset, cut_sets))


@pytest.mark.parametrize(("library", "top"), [(COMPONENTS, 1.10104559616e-5), (SUBSTITUTION, 0.109)])
def test_probability_of_the_top_event_with_nothing_known(library: str, top: float) -> None:
    assert answers(opened(library, "nothing"), "look")["yes"] == pytest.approx(top, rel=1e-11, abs=0.0)


@pytest.mark.parametrize(("library", "top"), [(COMPONENTS, 1.10104559616e-5), (SUBSTITUTION, 0.109)])
def test_exact_probability_by_the_diagram(library: str, top: float) -> None:
    found = importance(library_of(library), "reported")
    assert found.exact
    assert found.lower == pytest.approx(top, rel=1e-11, abs=0.0)


def test_the_house_event_is_folded_into_the_derived_tree() -> None:
    """On, the first branch alone is left, with the house event that keeps it; off, the second alone."""
    library = library_of(HOUSE)
    on, off = fault_tree(library, "with-h1"), fault_tree(library, "without-h1")
    assert {node.key for node in on} == {"top", "s/h1", "s/g3=yes", "s/g4=yes", "s/e1", "s/e3", "s/e4"}
    assert on.nodes["s/h1"].state is True
    assert {node.key for node in off} == {"top", "s/h1=no", "s/h1", "s/e2", "s/g4=yes", "s/e3", "s/e4"}
    assert off.nodes["s/h1"].state is False
