"""The engine agrees with plain enumeration on random libraries that use every construct."""

from __future__ import annotations

import random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from faultree.library.load import load_texts
from tests.oracles.brute import Answered, Brute, count_fault_sets
from tests.oracles.held_against import CLOSE, hold, saved_and_loaded
from tests.oracles.random_cases import random_case
from tests.oracles.random_libraries import RandomLibrary, Size, libraries, random_library

BLOCK = 20
"""Random libraries in one test; each is used for three cases."""

LARGE = Size(nodes=18, checks=8, fault_sets=2048)


def holds_on(seed: int, size: Size, cases: int) -> None:
    """Some cases on the library of a seed; a failure shows the texts and the case."""
    rng = random.Random(seed)
    drawn = random_library(rng, size)
    for _ in range(cases):
        brute = random_case(rng, drawn.library)
        try:
            hold(brute)
        except Exception as error:
            error.add_note(f"seed {seed}: {brute.symptoms} {brute.steps}\n{drawn!r}")
            raise


@pytest.mark.parametrize("block", range(10))
def test_every_figure_on_random_libraries(block: int) -> None:
    """Posteriors, explanations, answer probabilities, bits and contradictions, to 1e-9."""
    for seed in range(block * BLOCK, (block + 1) * BLOCK):
        holds_on(seed, Size(), cases=3)


@pytest.mark.parametrize("seed", range(1000, 1004))
def test_every_figure_on_larger_random_libraries(seed: int) -> None:
    """The same with up to 2^11 fault sets."""
    holds_on(seed, LARGE, cases=1)


@settings(max_examples=40, derandomize=True, deadline=None, suppress_health_check=list(HealthCheck))
@given(drawn=libraries(), rng=st.randoms(use_true_random=False))
def test_every_figure_on_libraries_that_shrink(drawn: RandomLibrary, rng: random.Random) -> None:
    """The same rule, drawn so that a failure is reduced to a small library."""
    hold(random_case(rng, drawn.library, steps=2))


@pytest.mark.parametrize("seed", range(2000, 2030))
def test_saving_and_loading_is_exact(seed: int) -> None:
    """A case that went through JSON text is the same case, and ranks the same causes in the same order.

    Which engine was compiled before may move a last digit; from the same start every digit is the same.
    """
    rng = random.Random(seed)
    drawn = random_library(rng)
    case = hold(random_case(rng, drawn.library))
    if case is not None:
        again = saved_and_loaded(case, drawn.library)
        assert again == case
        assert [one.cause for one in again.ranking()] == [one.cause for one in case.ranking()]
        probabilities = [one.probability for one in case.ranking()]
        assert [one.probability for one in again.ranking()] == pytest.approx(probabilities, abs=1e-14)
        fresh = [saved_and_loaded(case, load_texts(drawn.texts)).ranking() for _ in range(2)]
        assert fresh[0] == fresh[1]


@pytest.mark.parametrize("seed", range(3000, 3030))
def test_outlook_is_what_the_answer_then_leaves(seed: int) -> None:
    """What a check would leave, answer by answer, is the enumeration with that answer added."""
    rng = random.Random(seed)
    brute = random_case(rng, random_library(rng).library, steps=2, nonsense=0.0)
    case = hold(brute)
    if case is None:
        return
    for worth in case.checks()[:2]:
        for answer, outlook in case.outlook(worth.check).items():
            assert outlook.probability == pytest.approx(brute.answers(worth.check)[answer], abs=CLOSE)
            then = Brute(brute.library, brute.symptoms, (*brute.steps, Answered(worth.check, answer)))
            left = {suspect.cause: suspect.probability for suspect in outlook.ranking}
            if then.evidence() > 0.0:
                assert left == pytest.approx(then.ranking(), abs=CLOSE)
            else:
                assert (outlook.probability, outlook.ranking) == (0.0, ()), answer


@pytest.mark.parametrize("seed", range(4000, 4030))
def test_a_cause_that_is_not_implicated_keeps_its_prior(seed: int) -> None:
    """`implicated` may be wide, but what it leaves out is really untouched by the evidence."""
    rng = random.Random(seed)
    case = hold(random_case(rng, random_library(rng).library))
    if case is not None:
        for suspect in case.ranking():
            if not suspect.implicated:
                assert suspect.probability == pytest.approx(suspect.prior, abs=CLOSE)


def test_the_random_libraries_use_every_construct() -> None:
    """A generator that no longer writes a construct would test nothing of it."""
    texts = "\n".join(repr(random_library(random.Random(seed))) for seed in range(60))
    for word in (
        "usually: yes", "sets:", "extends:", "probability:", "rate:", "hours:", "likelihood:", "item:",
        "follows:", "lost_if:", "forced_if:", "undeveloped:", "all:", "any:", "not:", "none:", "at_least:",
        "one_of:", "situation:", "reads:", "false_yes:", "false_no:", "answers:", "when: otherwise", "error:",
        "access:", "by: crew", "cautions:", "event:", "sees:", ": no", "false_report:", "retest:", "gamma/fact",
    ):  # fmt: skip
        assert word in texts, f"never written: {word}"
    counts = [count_fault_sets(random_library(random.Random(seed)).library) for seed in range(60)]
    assert max(counts) <= Size().fault_sets


def test_the_random_cases_reach_both_outcomes() -> None:
    """Cases that something explains, contradictions at a step, and symptoms that contradict each other."""
    outcomes = []
    for seed in range(120):
        rng = random.Random(seed)
        brute = random_case(rng, random_library(rng).library)
        outcomes.append(brute.explained_steps() if brute.explained_steps() != len(brute.steps) else "explained")
    assert outcomes.count("explained") > 60
    assert sum(isinstance(one, int) for one in outcomes) >= 5
    assert outcomes.count(None) >= 3
