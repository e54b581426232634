"""The pressure tank of the Fault Tree Handbook.

Source: NUREG-0492, Fault Tree Handbook, 1981, chapter VIII. Structure from memory (it agrees with a
transcription of the 2002 NASA version that was read), probabilities from memory; top probability and
the importances are computed exactly from those data.
"""

from __future__ import annotations

import pytest

from tests.published.small import answers, explained, opened, probability

LIBRARY = """
conditions:
  asked: {title: Somebody asked, usually: yes}
causes:
  tank: {title: The tank fails, probability: 5.0e-6}
  k2: {title: Relay K2 stays closed, probability: 3.0e-5}
  s: {title: The pressure switch stays closed, probability: 1.0e-4}
  s1: {title: Switch S1 stays closed, probability: 3.0e-5}
  k1: {title: Relay K1 stays closed, probability: 3.0e-5}
  r: {title: The timer relay stays closed, probability: 1.0e-4}
events:
  e1: {title: The tank ruptures, any: [tank, e2]}
  e2: {title: Current to the pump lasts too long, any: [k2, e3]}
  e3: {title: Current through the switch, all: [s, e4]}
  e4: {title: Current in the control circuit, any: [s1, e5]}
  e5: {title: Relay K1 is closed, any: [k1, r]}
checks:
  look: {title: Look at the tank, ask: Has it ruptured?, reads: e1}
  look-tank: {title: Look at the weld, ask: Has it failed?, reads: tank}
  look-k2: {title: Measure K2, ask: Is it closed?, reads: k2}
  look-s: {title: Measure the pressure switch, ask: Is it closed?, reads: s}
  look-r: {title: Measure the timer relay, ask: Is it closed?, reads: r}
symptoms:
  reported: {title: The tank has ruptured, event: e1}
  nothing: {title: Somebody asked, event: asked}
"""


@pytest.mark.parametrize(
    ("cause", "expected", "digits"),
    [
        ("tank", 0.14279248, 5e-9),
        ("k2", 0.8567549, 5e-8),
        ("s", 5.56855e-4, 5e-10),
        ("s1", 1.15659e-4, 5e-10),
        ("k1", 1.15659e-4, 5e-10),
        ("r", 3.85529e-4, 5e-10),
    ],
)
def test_probability_of_each_event_given_the_top(cause: str, expected: float, digits: float) -> None:
    assert probability(opened(LIBRARY), cause) == pytest.approx(expected, abs=digits)


def test_explanations_are_the_minimal_cut_sets() -> None:
    cut_sets = [{"tank"}, {"k2"}, {"s", "s1"}, {"s", "k1"}, {"s", "r"}]
    assert explained(opened(LIBRARY)) == set(map(frozenset, cut_sets))


def test_probability_of_the_top_event_with_nothing_known() -> None:
    assert answers(opened(LIBRARY, "nothing"), "look")["yes"] == pytest.approx(3.50158487500355e-5, rel=1e-12)


@pytest.mark.parametrize(
    ("cause", "birnbaum", "digits"),
    [("tank", 0.99997, 5e-6), ("k2", 0.999995, 5e-7), ("s", 1.59988e-4, 5e-10), ("r", 9.99905e-5, 5e-11)],
)
def test_birnbaum_importance_from_what_a_check_would_leave(cause: str, birnbaum: float, digits: float) -> None:
    """P(top / event) - P(top / not event)."""
    case = opened(LIBRARY, "nothing")
    with_it = answers(case.answer(f"look-{cause}", "yes"), "look")["yes"]
    without = answers(case.answer(f"look-{cause}", "no"), "look")["yes"]
    assert with_it - without == pytest.approx(birnbaum, abs=digits)
