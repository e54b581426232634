"""How likely it is that the report is wrong: what was told, then Bayes' rule over the answers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.library.load import load_texts
from faultree.practice.doubt import doubt
from faultree.practice.scenario import Scenario, scenario
from faultree.practice.world import World
from faultree.strategy.case import Case
from tests.practice.chances import chi_square, critical
from tests.practice.small import GATE, gate


def doubtful() -> Scenario:
    return scenario(gate(), "still", 4, 1)


def test_before_any_answer_it_is_what_was_told_and_after_a_look_it_is_known() -> None:
    case = Case.open(gate(), ["still"])
    assert doubt(case, doubtful(), looked=None) == 0.3
    assert doubt(case, doubtful(), looked=True) == 0.0
    assert doubt(case, replace(doubtful(), doubt=0.0), looked=None) == 0.0


def test_by_hand() -> None:
    """The motor is silent: behind a wrong report it never is, for a dead motor shows the report."""
    case = Case.open(gate(), ["still"])
    assert doubt(case.answer("listen", "no"), doubtful(), looked=None) == 0.0
    yes = next(one.answers["yes"] for one in case.checks() if one.check == "g/listen")
    assert doubt(case.answer("listen", "yes"), doubtful(), looked=None) == pytest.approx(0.3 / (0.3 + 0.7 * yes))


def test_scenarios_are_wrong_as_often_as_it_says() -> None:
    """2,000 exercises, by what the gauge, which errs, answers in each (chi-square)."""
    made = [scenario(gate(), "still", 4, seed) for seed in range(2000)]
    case = Case.open(gate(), ["still"])
    for answer in ("yes", "no"):
        some = [one for one in made if World(gate(), one).answer("g/gauge") == answer]
        wrong = sum(not one.there for one in some)
        chance = doubt(case.answer("gauge", answer), doubtful(), looked=None)
        statistic, freedom = chi_square([wrong, len(some) - wrong], [chance, 1.0 - chance])
        assert statistic < critical(freedom)


def test_a_fault_that_hides_the_report_is_none_that_a_wrong_report_has_behind_it() -> None:
    """Where a lamp was reported lit, a burnt-out lamp would keep the next look from seeing what is there."""
    lit = (
        GATE.replace("sees: {moves: no}", "sees: {lit: yes}")
        .replace(
            "signals:\n", "signals:\n  lit: {title: The lamp is lit, follows: {not: moves}, lost_if: [burnt-out]}\n"
        )
        .replace("causes:\n", "causes:\n  burnt-out: {title: Lamp burnt out, probability: 0.5, minutes: 5}\n")
    )
    library = load_texts({"g.yaml": lit})
    hidden = {frozenset(scenario(library, "still", 4, seed).hidden) for seed in range(300)
              if not scenario(library, "still", 4, seed).there}  # fmt: skip
    assert hidden
    assert frozenset({"g/burnt-out"}) not in hidden
