"""The aircraft answers as its hidden faults have it, and errs as often as the check does."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.library.model import Library
from faultree.practice.scenario import Scenario, scenario
from faultree.practice.world import World
from tests.oracles.brute import World as Brute
from tests.oracles.brute import fault_sets
from tests.practice.small import gate


def world(*hidden: str, seed: int = 1, library: Library | None = None) -> World:
    library = library or gate()
    made = scenario(library, "g/still", 1, seed)
    return World(library, replace(made, hidden=frozenset(hidden)))


def test_answers_are_those_of_the_enumeration() -> None:
    """The right answer of every check under every fault set, against nodes worked out by recursion."""
    library = gate()
    for faults, _ in fault_sets(library):
        this, brute = world(*faults), Brute(library, faults, None)
        for check in library.checks.values():
            assert check.reads is not None
            assert (this.right_answer(check.id) == "yes") == brute.node(check.reads)
        assert this.shows() == (not brute.node("g/moves"))


@pytest.mark.parametrize(("hidden", "answer", "rate"), [("g/valve-shut", "no", 0.05), ("g/leak", "yes", 0.1)])
def test_a_check_errs_as_often_as_it_says(hidden: str, answer: str, rate: float) -> None:
    """Over 4,000 seeds the share of wrong answers is the check's own, within four standard errors."""
    wrong = sum(world(hidden, seed=seed).answer("g/gauge") == answer for seed in range(4000)) / 4000
    assert wrong == pytest.approx(rate, abs=4 * (rate * (1 - rate) / 4000) ** 0.5)


def test_an_answer_does_not_depend_on_when_it_is_asked() -> None:
    """Asked twice, or after other checks, a check says the same; otherwise asking again would average errors out."""
    for seed in range(50):
        this = world("g/leak", seed=seed)
        first = this.answer("g/gauge")
        this.answer("g/listen")
        assert this.answer("g/gauge") == first


def test_what_was_put_right_is_good() -> None:
    this = world("g/motor-dead", "g/leak")
    assert this.at_fault("g/motor")
    assert this.at_fault("g/leak")
    assert not this.at_fault("g/pump")
    assert this.right_answer("g/listen", ["g/motor"]) == "yes"
    assert this.shows(["g/motor"])
    assert not this.shows(["g/motor", "g/leak"])


def test_a_scenario_is_a_value() -> None:
    assert isinstance(scenario(gate(), "still", 1, 5), Scenario)
    assert scenario(gate(), "still", 1, 5) == scenario(gate(), "g/still", 1, 5)
