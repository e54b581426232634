"""Contradictions: a smallest set of steps to blame, the likeliest wrong one first, in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import inf, log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.belief.conflict import LogZ, contradiction, minimal_core, step_words
from faultree.belief.evidence import Repair, Reply, Step
from faultree.belief.posterior import Posterior
from tests.belief.small import pump, pump_frame

STEPS: tuple[Step, ...] = (
    Reply("s/feel", "yes"),
    Reply("s/read", "no"),
    Reply("s/read-dark", "no"),
    Reply("s/try", "no"),
    Reply("s/listen", "hum"),
    Repair("s/leak", gone=False),
)


def forbidding(*sets: Sequence[Step]) -> LogZ:
    """A weight by which only steps that hold none of these sets can all be true."""

    def log_z(steps: Sequence[Step]) -> float:
        return -inf if any(all(one in steps for one in some) for some in sets) else -float(len(steps))

    return log_z


def test_what_is_left_cannot_all_be_true_and_every_part_is_needed() -> None:
    wrong = (STEPS[1], STEPS[3], STEPS[4])
    assert minimal_core(STEPS, forbidding(wrong)) == list(wrong)


sets = st.lists(st.sets(st.sampled_from(STEPS), min_size=1, max_size=4), min_size=1, max_size=4)


@given(sets)
def test_the_core_is_minimal_whatever_contradicts_what(families: list[set[Step]]) -> None:
    """It is impossible, and without any one of its steps it is not."""
    log_z = forbidding(*(tuple(one) for one in families))
    core = minimal_core(STEPS, log_z)
    assert log_z(core) == -inf
    for part in combinations(core, len(core) - 1):
        assert log_z(part) > -inf


def test_cannot_tell_is_never_to_blame() -> None:
    steps: list[Step] = [Reply("s/feel", None), *STEPS]
    assert minimal_core(steps, forbidding(STEPS[:2])) == list(STEPS[:2])


def test_of_two_contradictions_one_is_named() -> None:
    """Steps are dropped oldest first, so the contradiction among the newest is the one that stays."""
    log_z = forbidding((STEPS[0], STEPS[1]), (STEPS[2], STEPS[3]))
    assert minimal_core(STEPS, log_z) == [STEPS[2], STEPS[3]]


def test_the_likeliest_wrong_answer_comes_first() -> None:
    """Its absence leaves the likeliest rest: 0.5 without the third, 0.3 without the first, 0.1 without the second."""
    one, two, three = STEPS[:3]
    weights = {(two, three): 0.3, (one, three): 0.1, (one, two): 0.5, (): 1.0}

    def log_z(steps: Sequence[Step]) -> float:
        return log(weights[tuple(steps)]) if tuple(steps) in weights else (-inf if len(steps) == 3 else log(0.9))

    found = contradiction(pump(), ["s/still"], [one, two, three], log_z)
    assert found.steps == (three, one, two)
    assert found.answers == (("s/read-dark", "no"), ("s/feel", "yes"), ("s/read", "no"))


def test_answers_hold_the_replies_and_steps_the_repairs_as_well() -> None:
    wrong = (STEPS[0], STEPS[5])
    found = contradiction(pump(), ["s/still"], STEPS, forbidding(wrong))
    assert set(found.steps) == set(wrong)
    assert found.answers == (("s/feel", "yes"),)


@pytest.mark.parametrize("symptoms", [["s/still"], ["s/still", "s/odd"]])
def test_reports_that_contradict_themselves_blame_no_answer(symptoms: list[str]) -> None:
    found = contradiction(pump(), symptoms, STEPS, lambda _: -inf)
    assert (found.answers, found.steps) == ((), ())
    for name in symptoms:
        assert f"“{pump().symptoms[name].title}”" in str(found)


def test_the_words_name_the_check_and_the_answer_given() -> None:
    found = contradiction(pump(), ["s/still"], STEPS, forbidding((STEPS[0], STEPS[4])))
    assert "“feel the pipe: Is there pressure?” answered “Yes”" in str(found)
    assert "“listen at the pump: What do you hear?” answered “A hum”" in str(found)
    assert "read the gauge" not in str(found)


def test_a_single_answer_is_to_be_looked_at_again() -> None:
    found = contradiction(pump(), ["s/still"], STEPS, forbidding((STEPS[3],)))
    assert found.answers == (("s/try", "no"),)
    assert "together with “arm it and watch: Does it move?” answered “No”" in str(found)


def test_every_kind_of_step_has_its_words() -> None:
    assert (
        step_words(pump(), Reply("s/listen", "rattle")) == "“listen at the pump: What do you hear?” answered “A rattle”"
    )
    assert step_words(pump(), Reply("s/listen", None)) == "“listen at the pump” answered “cannot tell”"
    assert step_words(pump(), Repair("s/pump", gone=True)) == "the report gone after “pump” was put right"
    assert (
        step_words(pump(), Repair("s/valve", gone=False)) == "the report still there after “valve stuck” was put right"
    )


def test_a_real_contradiction_in_its_likeliest_order() -> None:
    """The valve was put right and nothing moves, so there is no pressure; but pressure is felt.

    A hum may be misheard, so it never contradicts. Without the answer 1 - 0.85 x 0.8 = 0.32 is left,
    without what was seen after the repair 0.85 x 0.8 x 0.3 = 0.204: the answer is the likelier to be wrong.
    """
    steps: tuple[Step, ...] = (Reply("s/listen", "hum"), Repair("s/valve", gone=False), Reply("s/feel", "yes"))
    posterior = Posterior(pump_frame(), ("s/still",), steps)
    assert not posterior.possible
    found = contradiction(pump(), posterior.symptoms, steps, posterior.log_z_of)
    assert found.steps == (Reply("s/feel", "yes"), Repair("s/valve", gone=False))
