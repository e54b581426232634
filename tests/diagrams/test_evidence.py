"""A drawing shows of a case what its ranking says, and what was observed beside what was to be expected."""

from __future__ import annotations

import pytest

from faultree.diagrams.evidence import NOTHING, evidence_of, usual_answer
from faultree.strategy.case import Case
from tests.diagrams.small import door
from tests.oracles.brute import World
from tests.trees.demonstration import library


def case(**answers: str) -> Case:
    found = Case.open(door(), ["stands"])
    for check, answer in answers.items():
        found = found.answer(check, answer)
    return found


def test_without_a_case_there_is_nothing() -> None:
    assert evidence_of(None) is NOTHING
    assert not NOTHING.given
    assert NOTHING.state("door/fuse") == ""
    assert NOTHING.says("door/fuse") == ""


def test_suspects_keep_their_probability_and_excluded_ones_are_named() -> None:
    found = evidence_of(case(measure="yes"))
    ranked = {one.cause: one.probability for one in case(measure="yes").ranking()}
    assert found.probabilities == ranked
    assert found.says("door/fuse") == "excluded"
    assert found.state("door/fuse") == "cleared"
    assert found.state(found.likeliest) == "path"
    assert found.likeliest == max(ranked, key=lambda name: ranked[name])


def test_what_was_observed_stands_beside_what_is_expected() -> None:
    found = evidence_of(case(listen="no", measure="yes")).observed
    assert found["door/running"].odd
    assert found["door/running"].answered(door(), "door/closing") == "seen: No; expected: Yes"
    assert not found["door/voltage"].odd
    assert found["door/voltage"].answered(door(), "door/closing") == "seen: Yes"


def test_where_a_place_may_say_the_opposite_what_was_seen_is_said_in_full() -> None:
    """Below "motor not running" a bare "seen: Yes" would say that it did not run."""
    found = evidence_of(case(listen="no", measure="yes")).observed
    assert found["door/running"].stated(door(), "door/closing") == "seen: motor not running, not as expected"
    assert found["door/voltage"].stated(door(), "door/closing") == "seen: voltage at the relays, as expected"


def test_a_situation_that_is_not_the_report_s_is_named() -> None:
    found = evidence_of(case(listen="no")).observed["door/running"]
    assert found.answered(door(), None).startswith("seen (button held): No")
    assert found._replace(situation=None).stated(door(), "door/closing").startswith("seen (in the usual situation): ")


@pytest.mark.parametrize("name", sorted(library().checks)[::5])
def test_the_usual_answer_is_that_of_a_sound_aircraft(name: str) -> None:
    """Held against the slow reference: with no fault, the operand of that answer is true."""
    check = library().checks[name]
    world = World(library(), frozenset(), check.situation)
    (right,) = [one.id for one in check.answers if world.holds(one.when)]
    assert usual_answer(library(), check) == right
