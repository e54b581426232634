"""A decision is judged by what was knowable: bits, exclusions and expected minutes, each held against enumeration."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from faultree.belief.evidence import Repair
from faultree.practice.events import Ask, HandOver, PutRight, Read
from faultree.practice.exercise import Exercise, Taken, begin, step
from faultree.practice.feedback import feedback
from faultree.practice.judge import RESOLVES, TELLS, outlook, regret
from faultree.practice.mark import mark
from faultree.practice.reference import reference
from faultree.practice.scenario import scenario
from faultree.practice.telling import narrows
from faultree.strategy.case import Case
from tests.oracles.brute import Answered, Brute, Repaired, Step
from tests.practice.small import gate
from tests.practice.trainees import at_random, run, swapper

RUNS = 200


def steps_of(case: Case) -> list[Step]:
    """The steps of a case as the enumeration takes them."""
    found: list[Step] = []
    for one in case.steps:
        if isinstance(one, Repair):
            found.append(Repaired(one.unit, bool(one.gone)))
        elif one.answer is not None:
            found.append(Answered(one.check, one.answer))
    return found


def brute(case: Case, *further: Step) -> Brute:
    """The case by enumeration of all fault sets."""
    return Brute(gate(), case.symptoms, [*steps_of(case), *further])


def random_runs() -> list[Exercise]:
    made = []
    for seed in range(RUNS):
        habit = at_random if seed % 4 else swapper
        made.append(run(gate(), scenario(gate(), "still", 2, seed), habit, seed))
    return made


@pytest.fixture(scope="module")
def runs() -> list[Exercise]:
    return random_runs()


def test_bits_and_exclusions_are_those_of_the_enumeration(runs: list[Exercise]) -> None:
    """Every step of 200 runs: what a check could tell, and whom its answer ruled out."""
    seen = 0
    for exercise in runs:
        for taken, comment in zip(exercise.steps, feedback(exercise, mark(exercise)).comments, strict=True):
            if taken.action != "check":
                continue
            before = brute(taken.before)
            # the mat has bits about itself alone: nothing that is suspected moves with it
            bits = 0.0 if taken.target == "g/mat" else before.bits(taken.target)
            assert comment.bits == pytest.approx(bits, abs=1e-9)
            was = before.ranking()
            now = brute(taken.before, Answered(taken.target, taken.outcome)).ranking()
            open_then = {name for name, cause in gate().causes.items() if was[name] - cause.probability > 0.005}
            gone = {name for name in open_then if now[name] < 1e-9}
            assert set(comment.excluded) == gone
            seen += 1
    assert seen > RUNS


def test_no_regret_is_negative_and_no_check_costs_more_than_its_minutes(runs: list[Exercise]) -> None:
    for exercise in runs:
        for one in mark(exercise).decisions:
            assert 0.0 <= one.regret <= one.taken.minutes + 1e-9


def test_a_check_that_tells_nothing_costs_its_minutes() -> None:
    """The mat has nothing to do with the gate: what is known stays, and a minute is gone."""
    case = Case.open(gate(), ["still"])
    made = scenario(gate(), "still", 2, 1)
    taken = Taken("check", "g/mat", "no", 1.0, case, looked=True)
    assert regret(outlook(case, made, looked=True), taken) == pytest.approx(1.0)


def test_the_value_of_a_last_repair_is_its_minutes() -> None:
    """One suspect is left: V is its repair and the operational check (worked by hand: 30 + 3)."""
    case = Case.open(gate(), ["still"]).answer("listen", "no").answer("look-in", "no")
    made = scenario(gate(), "still", 2, 1)
    seen = outlook(case, made, looked=True)
    assert seen.best == ("replace", "g/motor")
    # the other units may be bad besides, but that hardly matters: the motor alone explains the report
    assert seen.least == pytest.approx(33.0, rel=0.05)


def test_what_the_estimate_cannot_tell_apart_is_no_mistake() -> None:
    """A check that tells something and is within a tenth of V is as good as the best; one that tells nothing never is.

    So it is for every check at every step of many runs.
    """
    seen_both = set()
    for exercise in random_runs()[:60]:
        for taken in exercise.steps:
            if taken.action != "check" or taken.looked is not True:
                continue
            seen = outlook(taken.before, exercise.scenario, taken.looked)
            beyond = min(seen.values.get(("check", taken.target), 1e9) - seen.least, taken.minutes)
            telling = narrows(taken.before, taken.target) >= TELLS
            near = 0.0 < beyond < RESOLVES * seen.least
            assert regret(seen, taken) == pytest.approx(0.0 if near and telling else max(beyond, 0.0), abs=1e-6)
            seen_both.add((near, telling))
    assert {(True, True), (True, False), (False, True)} <= seen_both


def test_a_check_goes_before_a_replacement_that_is_hardly_better() -> None:
    """A part that was looked at can still be replaced; until it is nearly certain, the look is the best step."""
    for exercise in random_runs()[:60]:
        for taken in exercise.steps:
            seen = outlook(taken.before, exercise.scenario, taken.looked)
            if seen.best[0] != "replace":
                continue
            likely = next(one.probability for one in taken.before.units() if one.unit == seen.best[1])
            cheap = [
                one.check
                for one in taken.before.checks()
                if seen.values.get(("check", one.check), 1e9) <= (1.0 + RESOLVES) * seen.least
                and one.minutes < seen.values[seen.best]
                and narrows(taken.before, one.check) >= TELLS
            ]
            assert likely >= 0.9 or not [one for one in cheap if _shorter(exercise, taken.before, one, seen.best[1])]


def _shorter(exercise: Exercise, case: Case, check: str, unit: str) -> bool:
    from faultree.walk import effort

    library = exercise.library
    repair = effort.of_repair(library, unit, case.symptoms, case.opened).total
    return effort.of_check(library, check, case.opened).total < repair


def test_where_the_report_may_be_wrong_one_looks_first() -> None:
    """By hand: with d = 0.3 and r = 3, V' = 3 + 0.7 V; a check before costs its minutes with d, its regret else."""
    case = Case.open(gate(), ["still"])
    made = replace(scenario(gate(), "still", 2, 1), doubt=0.3)
    sure, unsure = outlook(case, made, looked=True), outlook(case, made, looked=None)
    assert unsure.best == ("look", "")
    assert unsure.least == pytest.approx(3.0 + 0.7 * sure.least)
    taken = Taken("check", "g/mat", "no", 1.0, case, looked=None)
    assert regret(unsure, taken) == pytest.approx(0.3 * 1.0 + 0.7 * 1.0)
    assert regret(unsure, replace(taken, action="look", target="")) == 0.0


def test_one_does_not_look_first_where_the_report_is_hardly_doubted() -> None:
    """By hand: 3 minutes against 1 % of V."""
    case = Case.open(gate(), ["still"])
    unsure = outlook(case, replace(scenario(gate(), "still", 2, 1), doubt=0.01), looked=None)
    assert unsure.best == ("check", "g/listen")
    taken = Taken("look", "", "there", 3.0, case, looked=None)
    assert regret(unsure, taken) == pytest.approx(3.0 - 0.01 * unsure.least)


def test_nothing_is_left_once_the_report_is_known_to_be_wrong() -> None:
    case = Case.open(gate(), ["still"])
    seen = outlook(case, scenario(gate(), "still", 4, 1), looked=False)
    assert (seen.least, seen.best) == (0.0, ("hand over", ""))
    taken = Taken("check", "g/mat", "no", 1.0, case, looked=False)
    assert regret(seen, taken) == 1.0


def test_the_best_strategy_gives_nothing_away() -> None:
    """On every level and 40 seeds it has the full mark, whatever was hidden: luck plays no part."""
    for level in (1, 2, 3, 4):
        for seed in range(10):
            done = reference(gate(), scenario(gate(), "still", level, seed))
            assert mark(done).mark == pytest.approx(100.0)


def test_its_minutes_agree_with_what_was_expected() -> None:
    """Over 400 exercises the mean minutes are at most the expected ones: looking again after each answer helps."""
    taken = [reference(gate(), scenario(gate(), "still", 2, seed)).minutes for seed in range(400)]
    mean = sum(taken) / 400
    error = (sum((one - mean) ** 2 for one in taken) / 400 / 399) ** 0.5
    expected = outlook(Case.open(gate(), ["still"]), scenario(gate(), "still", 2, 1), looked=True).least
    assert mean <= expected + 3 * error
    assert mean >= 0.85 * expected


def test_one_more_useless_check_never_raises_a_mark(runs: list[Exercise]) -> None:
    """The mat is looked at first in each of the runs: no mark rises."""
    random = Random(5)
    for exercise in random.sample(runs, 40):
        others = [taken for taken in exercise.steps if taken.target != "g/mat"]
        done = [Ask(taken.target) if taken.action == "check" else PutRight(taken.target) for taken in others]
        events = [Ask("g/mat"), *done]
        again = begin(gate(), exercise.scenario, "exam")
        for event in events:
            again = step(again, event).exercise
            again = step(again, Read()).exercise if again.pending else again
        again = again if again.ending else step(again, HandOver(exercise.suspect)).exercise
        if "g/mat" not in exercise.done:
            assert mark(again).mark <= mark(exercise).mark + 1e-9
