"""Explanations: every minimal fault set of whatever size, the heaviest first, and nothing that is not minimal."""

from __future__ import annotations

import random
from math import exp, inf, prod

import pytest

from faultree.base.errors import Contradiction
from faultree.belief.engine import Limits
from faultree.belief.evidence import Reply, readings_of
from faultree.belief.explain import Explanation, log_likelihood, log_prior, shown_by, smallest_part
from faultree.belief.frame import frame_of
from faultree.strategy.case import Case
from tests.belief.small import library, pump, pump_frame
from tests.oracles.brute import Brute, Faults
from tests.oracles.random_libraries import SMALL, random_library

Short = dict[frozenset[str], float]


def short(found: tuple[Explanation, ...]) -> Short:
    """Explanations by short cause ids."""
    return {frozenset(cause.partition("/")[2] for cause in one.causes): one.probability for one in found}


def case(text: str, *answers: tuple[str, str], limits: Limits = Limits()) -> Case:
    """A case of the symptom `reported` of a small library."""
    opened = Case.open(library(text), ["reported"], limits)
    for check, answer in answers:
        opened = opened.answer(check, answer)
    return opened


def causes(**chances: float) -> str:
    return "causes:\n" + "".join(f"  {n}: {{title: {n}, probability: {p}}}\n" for n, p in chances.items())


def reported(gate: str) -> str:
    return f"events:\n  top: {{title: Top, {gate}}}\nsymptoms:\n  reported: {{title: Reported, event: top}}\n"


def test_single_faults_and_pairs_come_by_their_weight() -> None:
    """P(exactly this set / report), everything else good."""
    found = case(causes(a=0.1, b=0.2, c=0.3, d=0.4) + reported("any: [a, {all: [b, c]}, {all: [c, d]}]")).explanations()
    evidence = 1.0 - 0.9 * (1.0 - 0.3 * (1.0 - 0.8 * 0.6))
    assert short(found) == pytest.approx(
        {
            frozenset("cd"): 0.9 * 0.8 * 0.3 * 0.4 / evidence,
            frozenset("bc"): 0.9 * 0.2 * 0.3 * 0.6 / evidence,
            frozenset("a"): 0.1 * 0.8 * 0.7 * 0.6 / evidence,
        },
        abs=1e-12,
    )
    assert [set(one) for one in short(found)] == [{"c", "d"}, {"a"}, {"b", "c"}]


def test_three_faults_that_are_needed_together_are_found() -> None:
    """However unlikely: a list of singles and pairs would hold nothing that fits."""
    text = causes(a=1e-4, b=1e-4, c=1e-4, d=0.3) + reported("all: [a, b, c, {any: [d, {not: d}]}]")
    found = case(text).explanations()
    assert short(found) == pytest.approx({frozenset("abc"): 0.7}, abs=1e-9)


@pytest.mark.parametrize("count", [4, 10, 20])
def test_many_faults_that_are_needed_together_are_found(count: int) -> None:
    """Also where a set has too many parts to try them all."""
    names = {f"c{number}": 0.01 for number in range(count)}
    found = case(causes(**names, other=0.5) + reported(f"all: [{', '.join(names)}]")).explanations()
    assert short(found) == pytest.approx({frozenset(names): 0.5}, abs=1e-9)


def test_what_is_not_needed_is_in_no_explanation() -> None:
    """Likely causes that do not matter are left out, although the likeliest set holds them."""
    found = case(causes(a=0.01, b=0.01, idle=0.9) + reported("any: [a, b, {all: [a, idle]}]")).explanations()
    assert set(short(found)) == {frozenset("a"), frozenset("b")}


def test_modes_of_one_item_explain_apart() -> None:
    """Two causes of one item cannot be present together, so no set holds both."""
    text = (
        "items:\n  part: {title: Part}\ncauses:\n"
        "  one: {title: One, item: part, probability: 0.1}\n  other: {title: Other, item: part, probability: 0.2}\n"
        "  third: {title: Third, probability: 0.3}\n"
    )
    found = case(text + reported("at_least: {count: 2, of: [one, other, third]}")).explanations()
    assert set(short(found)) == {frozenset({"one", "third"}), frozenset({"other", "third"})}


def test_nothing_wrong_explains_what_may_be_a_false_report() -> None:
    """The empty set is smaller than every other, so it is the only minimal one."""
    found = Case.open(pump(), ["no-reading"]).explanations()
    assert [one.causes for one in found] == [()]


def test_where_a_fault_hides_another_both_ways_are_found() -> None:
    """Non-coherent logic: exactly one of a and b, seen with c only if a is good."""
    found = case(causes(a=0.1, b=0.2, c=0.3) + reported("any: [{one_of: [a, b]}, {all: [c, {not: a}]}]")).explanations()
    assert set(short(found)) == {frozenset("a"), frozenset("b"), frozenset("c")}


def test_an_answer_rules_explanations_out() -> None:
    text = (
        causes(a=0.1, b=0.2, c=0.3)
        + reported("any: [a, {all: [b, c]}]")
        + "checks:\n  look: {title: Look, ask: Is it so?, reads: a}\n"
    )
    assert set(short(case(text, ("look", "no")).explanations())) == {frozenset("bc")}
    assert set(short(case(text, ("look", "yes")).explanations())) == {frozenset("a")}


TEN = causes(**{f"c{number}": 0.02 * (number + 1) for number in range(10)})
ANY_OF_TEN = TEN + reported(f"any: [{', '.join(f'c{number}' for number in range(10))}]")


@pytest.mark.parametrize("limit", [0, 1, 3, 10, 50])
def test_no_more_are_given_than_asked_for(limit: int) -> None:
    """The first ones of the whole list."""
    opened = case(ANY_OF_TEN)
    assert opened.explanations(limit=limit) == opened.explanations(limit=1000)[:limit]
    assert len(opened.explanations(limit=1000)) == 10


def test_the_search_stops_at_the_least_probability() -> None:
    opened = case(ANY_OF_TEN)
    every = opened.explanations(limit=1000)
    for least in (every[0].probability * 1.001, every[3].probability, every[3].probability * 1.001, 0.0):
        assert opened.explanations(limit=1000, least=least) == tuple(one for one in every if one.probability >= least)


def test_causes_of_an_explanation_are_sorted() -> None:
    (found,) = case(causes(b=0.1, a=0.1, c=0.1) + reported("all: [c, a, b]")).explanations()
    assert found.causes == ("s/a", "s/b", "s/c")


@pytest.mark.parametrize("seed", range(12))
def test_all_minimal_sets_come_heaviest_first(seed: int) -> None:
    """The same sets and weights as by enumeration, each once, in falling order."""
    rng = random.Random(seed)
    drawn = random_library(rng, SMALL).library
    symptom = rng.choice(list(drawn.symptoms))
    brute = Brute(drawn, [symptom])
    try:
        found = Case.open(drawn, [symptom]).explanations(limit=1000)
    except Contradiction:
        assert brute.evidence() == 0.0
        return
    weights = [one.probability for one in found]
    assert weights == sorted(weights, reverse=True)
    named: dict[Faults, float] = {frozenset(one.causes): one.probability for one in found}
    assert len(named) == len(found)
    assert named == pytest.approx(brute.explanations(), abs=1e-9)


FRAME = pump_frame()


def test_the_prior_of_a_fault_set_holds_everything_else_good() -> None:
    assert exp(log_prior(FRAME, frozenset())) == pytest.approx(0.85 * 0.8 * 0.94 * 0.7)
    assert exp(log_prior(FRAME, frozenset({"s/seized", "s/high"}))) == pytest.approx(0.05 * 0.8 * 0.02 * 0.7)


def test_the_likelihood_of_a_fault_set_is_the_product_over_what_was_seen() -> None:
    """It does not move (certain), the gauge was read (noisy), and in the dark it shows nothing."""
    steps = [Reply("s/read", "no"), Reply("s/read-dark", "no"), Reply("s/listen", "nothing")]
    readings = readings_of(FRAME, ("s/still",), steps)

    def likelihood(*names: str) -> float:
        return exp(log_likelihood(FRAME, readings, frozenset(f"s/{name}" for name in names)))

    assert likelihood("seized") == pytest.approx(prod([1.0, 0.95, 1.0, 0.8]))
    assert likelihood("leak") == pytest.approx(prod([1.0, 0.95, 1.0, 0.1]))
    assert likelihood("valve") == pytest.approx(prod([1.0, 0.10, 1.0, 0.1]))
    assert likelihood("leak", "high") == 0.0
    assert likelihood() == 0.0


def test_readings_are_simulated_set_by_set() -> None:
    """Each in its own world: a repaired unit is good there."""
    readings = readings_of(FRAME, ("s/still", "s/no-reading"), [])
    sets = [frozenset[str](), frozenset({"s/leak"}), frozenset({"s/low"}), frozenset({"s/leak", "s/high"})]
    still, unread = shown_by(FRAME, readings, sets)
    assert still.tolist() == [False, True, False, True]
    assert unread.tolist() == [False, True, True, False]


def test_the_smallest_part_is_the_first_that_fits() -> None:
    """All parts are tried, smallest first: leaving out one cause may need another left out as well."""
    readings = readings_of(FRAME, ("s/still",), [])
    assert smallest_part(FRAME, readings, frozenset({"s/leak", "s/low", "s/valve"})) == {"s/leak"}
    frame = frame_of(library(causes(a=0.1, b=0.1) + reported("any: [{all: [a, b]}, {none: [a, b]}]")))
    report = readings_of(frame, ("s/reported",), [])
    assert log_likelihood(frame, report, frozenset({"s/a"})) == -inf
    assert smallest_part(frame, report, frozenset({"s/a", "s/b"})) == frozenset()
