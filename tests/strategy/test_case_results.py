"""What one can ask of a case: units, checks, outlooks, what was spent, and its bound."""

from __future__ import annotations

import random

import pytest

from faultree.base.errors import CaseError, Contradiction
from faultree.belief.engine import Limits
from faultree.strategy.case import Case
from tests.belief.small import pump
from tests.oracles.random_libraries import SMALL, random_library


@pytest.fixture
def case() -> Case:
    """The report that it does not move."""
    return Case.open(pump(), ["still"])


def probabilities(found: Case) -> dict[str, float]:
    return {suspect.cause: suspect.probability for suspect in found.ranking()}


# ---- what follows


def test_what_cannot_be_done_is_not_advised_and_makes_nothing_quicker(case: Case) -> None:
    """Left out are checks and units; the best of what remains takes no less than the best of everything."""
    everything = case.advice()
    assert {"s/feel", "s/valve"} <= {one.check or one.item for one in everything}
    rest = case.advice(leaving_out={"s/feel", "s/valve"})
    assert {one.check or one.item for one in rest} == {one.check or one.item for one in everything} - {
        "s/feel",
        "s/valve",
    }
    assert rest[0].expected_minutes >= everything[0].expected_minutes - 1e-9
    assert {one.check for one in case.checks(leaving_out={"s/feel"})} == {one.check for one in case.checks()} - {
        "s/feel"
    }


def test_a_unit_put_right_without_knowing_whether_it_helped_leaves_the_others_as_likely(case: Case) -> None:
    """Nothing was learnt; it is no suspect any more, and a check made now sees it good."""
    later = case.repair("valve", gone=None)
    before, after = probabilities(case), probabilities(later)
    assert after["s/valve"] == 0.0
    assert {cause: p for cause, p in after.items() if cause != "s/valve"} == pytest.approx(
        {cause: p for cause, p in before.items() if cause != "s/valve"}, abs=1e-12
    )
    moves = {one.check: one for one in later.checks()}["s/try"].answers["yes"]
    assert moves == pytest.approx(0.3 * 0.85 * 0.8 / (1.0 - 0.85 * 0.8 * 0.7), abs=1e-12)
    assert Case.from_dict(pump(), later.to_dict()) == later


def test_the_ranking_holds_every_cause_once(case: Case) -> None:
    ranking = case.ranking()
    assert {suspect.cause for suspect in ranking} == set(pump().causes)
    assert len(ranking) == len(pump().causes)
    for suspect in ranking:
        assert suspect.item == pump().causes[suspect.cause].item
        assert suspect.prior == pump().causes[suspect.cause].probability


def test_units_gather_the_causes_of_an_item(case: Case) -> None:
    """Only what the evidence reaches, most likely first; a cause without item is a unit of its own."""
    found = case.units()
    moving = 1.0 - 0.85 * 0.8 * 0.7
    assert {unit.unit: unit.probability for unit in found} == pytest.approx(
        {"s/valve": 0.3 / moving, "s/leak": 0.2 / moving, "s/pump": 0.15 / moving}, abs=1e-12
    )
    assert [unit.unit for unit in found] == ["s/valve", "s/leak", "s/pump"]
    assert [suspect.cause for suspect in found[2].causes] == ["s/worn", "s/seized"]


def test_clearing_is_asked_by_any_name_of_the_unit(case: Case) -> None:
    assert case.clears("pump") == case.clears("s/worn") == case.clears("seized")
    assert case.clears("valve") == pytest.approx(0.3 * 0.85 * 0.8 / (1.0 - 0.85 * 0.8 * 0.7), abs=1e-12)


def test_checks_are_those_without_a_reply(case: Case) -> None:
    assert {worth.check for worth in case.checks()} == set(pump().checks)
    later = case.answer("feel", "no").cannot_tell("read")
    assert {worth.check for worth in later.checks()} == {"s/read-dark", "s/try", "s/listen"}


def test_checks_can_be_kept_to_who_is_there(case: Case) -> None:
    assert {worth.check for worth in case.checks(by=["crew"])} == {"s/listen"}
    assert {worth.check for worth in case.checks(by=("crew", "line"))} == set(pump().checks)
    assert case.checks(by=["shop"]) == ()


@pytest.mark.parametrize("check", ["feel", "read", "read-dark", "listen", "try"])
def test_what_the_answers_leave_averages_to_what_is_known_now(case: Case, check: str) -> None:
    """P(cause) = sum over the answers of P(answer) P(cause / answer)."""
    found = case.outlook(check)
    mean = dict.fromkeys(pump().causes, 0.0)
    for outlook in found.values():
        for suspect in outlook.ranking:
            mean[suspect.cause] += outlook.probability * suspect.probability
    assert mean == pytest.approx(probabilities(case), abs=1e-12)
    assert sum(outlook.probability for outlook in found.values()) == pytest.approx(1.0, abs=1e-12)


@pytest.mark.parametrize("check", ["feel", "read", "listen"])
def test_the_outlook_is_the_case_after_the_answer(case: Case, check: str) -> None:
    for answer, outlook in case.outlook(check).items():
        later = case.answer(check, answer)
        assert {one.cause: one.probability for one in outlook.ranking} == pytest.approx(probabilities(later), abs=1e-12)


def test_an_answer_that_cannot_come_leaves_nothing(case: Case) -> None:
    found = case.outlook("try")
    assert (found["yes"].probability, found["yes"].ranking) == (0.0, ())
    assert found["no"].probability == pytest.approx(1.0)


def test_a_check_with_a_reply_has_no_outlook(case: Case) -> None:
    for replied in (case.answer("feel", "no"), case.cannot_tell("feel")):
        with pytest.raises(CaseError, match="'s/feel' was answered already"):
            replied.outlook("feel")


@pytest.mark.parametrize("seed", range(25))
def test_probabilities_stay_in_their_range(seed: int) -> None:
    """Also where rounding would lead out of it; and an answer is possible exactly where it leaves a ranking."""
    drawn = random_library(random.Random(seed), SMALL).library
    for symptom in drawn.symptoms:
        try:
            found = Case.open(drawn, [symptom])
        except Contradiction:
            continue
        for suspect in found.ranking():
            assert -1e-15 <= suspect.probability <= 1.0 + 1e-12
        for worth in found.checks():
            for answer, outlook in found.outlook(worth.check).items():
                possible = outlook.probability > 0.0
                assert bool(outlook.ranking) == possible
                if not possible:
                    with pytest.raises(Contradiction):
                        found.answer(worth.check, answer)


def test_a_case_may_be_bounded_and_says_so() -> None:
    assert Case.open(pump(), ["still"]).bound == 0.0
    bounded = Case.open(pump(), ["still"], Limits(cells=1, held_cells=1, sets=8))
    assert 0.0 < bounded.bound <= 1.0
    exact = probabilities(Case.open(pump(), ["still"]))
    for cause, probability in probabilities(bounded).items():
        assert abs(probability - exact[cause]) <= bounded.bound
    assert bounded.answer("read", "no").limits == bounded.limits


# ---- what was spent


def test_minutes_add_up_and_access_is_paid_once(case: Case) -> None:
    """The pipe is felt in 4 with the bay 15; pump 40 through the same bay, and 5 to look again; read 1."""
    assert (case.minutes, case.opened) == (0.0, frozenset())
    felt = case.answer("feel", "no")
    assert (felt.minutes, set(felt.opened)) == (4.0 + 15.0, {"s/bay"})
    mended = felt.repair("pump")
    assert (mended.minutes, set(mended.opened)) == (19.0 + 40.0 + 5.0, {"s/bay"})
    assert mended.answer("read", "no").minutes == 64.0 + 1.0
    assert case.repair("pump").minutes == 40.0 + 15.0 + 5.0
    assert case.repair("leak").minutes == 25.0 + 5.0


def test_time_spent_on_a_check_that_could_not_be_told_is_spent(case: Case) -> None:
    assert case.cannot_tell("feel").minutes == 19.0
    assert case.cannot_tell("feel").opened == {"s/bay"}


def test_every_report_is_looked_at_again_after_a_repair() -> None:
    both = Case.open(pump(), ["still", "no-reading"])
    assert both.repair("leak").minutes == 25.0 + 5.0 + 3.0


def test_a_check_costs_the_access_that_is_still_closed(case: Case) -> None:
    def minutes(found: Case) -> float:
        return {worth.check: worth.minutes for worth in found.checks()}["s/feel"]

    assert minutes(case) == 4.0 + 15.0
    assert minutes(case.repair("pump")) == 4.0
    assert minutes(case.answer("feel", "no").undo()) == 19.0
