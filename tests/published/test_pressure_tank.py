"""The pressure tank of the Fault Tree Handbook.

Source: NUREG-0492, Fault Tree Handbook, 1981, chapter VIII. Structure from memory (it agrees with a
transcription of the 2002 NASA version that was read), probabilities from memory; top probability and
the importances are computed exactly from those data.
"""

from __future__ import annotations

from math import prod

import pytest

from faultree.belief.importance import Importances, importance
from faultree.logic.cut_sets import cut_sets
from tests.published.small import answers, explained, library_of, opened, probability

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
    assert answers(opened(LIBRARY, "nothing"), "look")["yes"] == pytest.approx(3.50158487500355e-5, rel=1e-12, abs=0.0)


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


CUT_SETS = [{"k2"}, {"tank"}, {"s", "r"}, {"s", "k1"}, {"s", "s1"}]
"""Likeliest first: 3e-5, 5e-6, 1e-8, and two of 3e-9."""


def test_minimal_cut_sets_likeliest_first() -> None:
    found = cut_sets(library_of(LIBRARY), "reported")
    assert [{name.removeprefix("s/") for name in one} for one in found[:3]] == CUT_SETS[:3]
    assert {frozenset(name.removeprefix("s/") for name in one) for one in found} == set(map(frozenset, CUT_SETS))
    assert found.complete


def test_the_approximations_of_the_handbook_enclose_the_exact_probability() -> None:
    """Rare-event sum 3.5016e-5, min-cut upper bound 3.50158494399334e-5, exact 3.50158487500355e-5 (computed)."""
    found = cut_sets(library_of(LIBRARY), "reported")
    rare_event = sum(found.probabilities)
    upper = 1.0 - prod(1.0 - one for one in found.probabilities)
    exact = measured().lower
    assert rare_event == pytest.approx(3.5016e-5, rel=1e-12, abs=0.0)
    assert upper == pytest.approx(3.50158494399334e-5, rel=1e-11, abs=0.0)  # by subtraction from 1, so fewer digits
    assert exact == pytest.approx(3.50158487500355e-5, rel=1e-14, abs=0.0)
    assert exact < upper < rare_event


def measured() -> Importances:
    return importance(library_of(LIBRARY), "reported")


TABLE = {
    # event: Birnbaum, Fussell-Vesely (its cut sets / all), criticality, RAW, RRW, P(event / top)
    "tank": ("0.99997", "0.14279187", "0.1427882", "28558.5", "1.16657", "0.14279248"),
    "k2": ("0.999995", "0.8567512", "0.8567506", "28558.5", "6.98083", "0.8567549"),
    "s": ("1.59988e-4", "4.5693e-4", "4.5690e-4", "5.56855", "1.00046", "5.56855e-4"),
    "s1": ("9.99835e-5", "8.5675e-5", "8.5661e-5", "3.85529", "1.00009", "1.15659e-4"),
    "k1": ("9.99835e-5", "8.5675e-5", "8.5661e-5", "3.85529", "1.00009", "1.15659e-4"),
    "r": ("9.99905e-5", "2.85584e-4", "2.85558e-4", "3.85529", "1.00029", "3.85529e-4"),
}
"""Computed exactly from the handbook's data; the definitions are those of its chapter on importance, with
criticality 1 - P0/P, achievement worth P1/P and reduction worth P/P0."""


@pytest.mark.parametrize("event", TABLE)
def test_every_importance_figure_to_its_last_digit(event: str) -> None:
    (row,) = [row for row in measured() if row.cause == f"s/{event}"]
    found = (row.birnbaum, row.fussell_vesely, row.criticality, row.achievement, row.reduction, row.given)
    for value, text in zip(found, TABLE[event], strict=True):
        assert value == pytest.approx(float(text), abs=half_a_digit(text)), text


def half_a_digit(text: str) -> float:
    """Half a unit in the last digit written, and a little for rounding at exactly half."""
    digits, _, exponent = text.partition("e")
    places = len(digits.partition(".")[2])
    return 0.5001 * 10.0 ** (int(exponent or 0) - places)


def test_structural_importance_needs_no_figures() -> None:
    """Of the 64 states of six events, x is critical in: tank and K2 9 of 32, S 7 of 32, each other 1 of 32.

    By hand: the tank matters where K2 is good and not (S and one of three), 1 * (16 - 7) = 9 of 32 states.
    """
    found = {row.cause.removeprefix("s/"): row.structural for row in measured()}
    assert found == pytest.approx({"tank": 9 / 32, "k2": 9 / 32, "s": 7 / 32, "s1": 1 / 32, "k1": 1 / 32, "r": 1 / 32})
