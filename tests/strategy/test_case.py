"""A case: an immutable value of reports and steps, and what one can ask of it."""

from __future__ import annotations

import dataclasses
import json
import random

import pytest

from faultree.base.errors import CaseError, Contradiction, UnknownName
from faultree.belief.engine import Limits
from faultree.belief.evidence import Repair, Reply
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.case import Case
from tests.belief.small import PUMP, library, pump
from tests.oracles.random_libraries import SMALL, random_library


@pytest.fixture
def case() -> Case:
    """The report that it does not move."""
    return Case.open(pump(), ["still"])


def probabilities(found: Case) -> dict[str, float]:
    return {suspect.cause: suspect.probability for suspect in found.ranking()}


# ---- opening


def test_short_ids_are_taken_and_full_ones_given(case: Case) -> None:
    assert case.symptoms == ("s/still",)
    assert Case.open(pump(), ["s/still"]) == case
    answered = case.answer("read", "no").repair("pump").cannot_tell("s/try")
    assert answered.steps == (Reply("s/read", "no"), Repair("s/pump", gone=False), Reply("s/try", None))


def test_a_report_named_twice_counts_once() -> None:
    assert Case.open(pump(), ["still", "s/still", "no-reading"]).symptoms == ("s/still", "s/no-reading")


def test_a_case_needs_a_report() -> None:
    with pytest.raises(CaseError, match="at least one symptom"):
        Case.open(pump(), [])


def test_an_unknown_report_comes_with_the_nearest() -> None:
    with pytest.raises(UnknownName) as raised:
        Case.open(pump(), ["stil"])
    assert (raised.value.kind, raised.value.name, raised.value.candidates) == ("symptom", "stil", ("s/still",))


def test_reports_that_exclude_each_other_open_no_case() -> None:
    """Pressure is shown and is not there; the gauge alone explains it. With the gauge right about it, nothing does."""
    text = PUMP + "  both: {title: shown and not shown, sees: {pressure: yes, noisy: yes}}\n"
    with pytest.raises(Contradiction) as raised:
        Case.open(library(text), ["both"])
    assert (raised.value.answers, raised.value.steps) == ((), ())


# ---- a value


def test_a_step_leaves_the_case_before_it_as_it_was(case: Case) -> None:
    before = case.ranking()
    later = case.answer("feel", "no").repair("leak")
    assert case.steps == ()
    assert case.ranking() == before
    assert later.ranking() != before


def test_a_case_cannot_be_changed(case: Case) -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        case.steps = ()  # type: ignore[misc]


def test_cases_of_the_same_steps_are_equal(case: Case) -> None:
    one, other = case.answer("read", "no"), Case.open(pump(), ["still"]).answer("s/read", "no")
    assert one == other
    assert hash(one) == hash(other)
    assert one != case
    assert one != case.answer("read", "yes")


def test_the_order_of_answers_does_not_matter_to_the_result(case: Case) -> None:
    one = case.answer("read", "no").answer("listen", "hum")
    other = case.answer("listen", "hum").answer("read", "no")
    assert probabilities(one) == pytest.approx(probabilities(other), abs=1e-12)
    assert one.steps != other.steps


# ---- steps


def test_answering_again_replaces_the_answer(case: Case) -> None:
    """An imperfect check asked again is no new evidence; the last answer counts, in the last place."""
    once = case.answer("read", "no")
    assert once.answer("read", "no") == once
    changed = once.answer("listen", "hum").answer("read", "yes")
    assert changed.steps == (Reply("s/listen", "hum"), Reply("s/read", "yes"))


def test_an_answer_that_contradicts_can_be_replaced(case: Case) -> None:
    """What is asked is whether the new answers fit, not whether the old one did with the new."""
    pressed = case.answer("feel", "yes")
    with pytest.raises(Contradiction):
        pressed.repair("valve", gone=False)
    assert pressed.answer("feel", "no").repair("valve", gone=False).steps[-1] == Repair("s/valve", gone=False)


def test_an_unknown_check_or_answer_comes_with_the_nearest(case: Case) -> None:
    with pytest.raises(UnknownName) as raised:
        case.answer("feal", "yes")
    assert raised.value.candidates == ("s/feel",)
    with pytest.raises(UnknownName) as raised:
        case.answer("listen", "humm")
    assert raised.value.candidates == ("hum",)
    for ask in (case.cannot_tell, case.without, case.outlook):
        with pytest.raises(UnknownName):
            ask("nothing-like-it")


def test_a_contradicting_answer_names_itself_and_leaves_the_case(case: Case) -> None:
    with pytest.raises(Contradiction) as raised:
        case.answer("listen", "hum").answer("try", "yes")
    assert raised.value.answers == (("s/try", "yes"),)
    assert raised.value.steps == (Reply("s/try", "yes"),)


def test_cannot_tell_changes_no_probability_and_is_not_asked_again(case: Case) -> None:
    asked = case.cannot_tell("feel")
    assert probabilities(asked) == pytest.approx(probabilities(case), abs=1e-12)
    assert "s/feel" in {worth.check for worth in case.checks()}
    assert "s/feel" not in {worth.check for worth in asked.checks()}


def test_cannot_tell_takes_an_answer_back_and_an_answer_takes_its_place(case: Case) -> None:
    answered = case.answer("feel", "no")
    assert answered.cannot_tell("feel").steps == (Reply("s/feel", None),)
    assert answered.cannot_tell("feel").answer("feel", "no") == answered


def test_undo_takes_the_last_step_back(case: Case) -> None:
    one = case.answer("feel", "no")
    two = one.repair("leak")
    three = two.cannot_tell("read")
    assert (three.undo(), three.undo().undo(), three.undo().undo().undo()) == (two, one, case)
    with pytest.raises(CaseError, match="no step to undo"):
        case.undo()


def test_the_reply_to_a_check_can_be_taken_back(case: Case) -> None:
    steps = case.answer("feel", "no").repair("leak").answer("read", "no")
    assert steps.without("feel").steps == (Repair("s/leak", gone=False), Reply("s/read", "no"))
    assert case.without("feel") == case


# ---- repairs


def test_a_repaired_unit_is_out_and_its_reply_is_evidence(case: Case) -> None:
    """With the valve good and still no movement there is no pressure."""
    found = case.repair("valve")
    assert found.steps == (Repair("s/valve", gone=False),)
    left = 1.0 - 0.85 * 0.8
    assert probabilities(found)["s/valve"] == 0.0
    assert probabilities(found)["s/leak"] == pytest.approx(0.2 / left, abs=1e-12)


def test_a_unit_is_repaired_once(case: Case) -> None:
    with pytest.raises(CaseError, match="'s/pump' was put right already"):
        case.repair("pump").repair("worn")


def test_a_repair_that_cannot_have_helped_contradicts(case: Case) -> None:
    """The gauge has no part in the movement."""
    with pytest.raises(Contradiction) as raised:
        case.repair("gauge", gone=True)
    assert raised.value.steps == (Repair("s/gauge", gone=True),)
    assert raised.value.answers == ()


def test_after_the_report_is_gone_nothing_is_left_to_repair(case: Case) -> None:
    found = case.repair("valve", gone=True)
    assert all(unit.probability == pytest.approx(0.0, abs=1e-12) for unit in found.units())
    assert not [one for one in found.advice() if one.action == "replace"]


UNITS = """
items:
  pump: {title: Pump}
  same: {title: An item with the short id of a cause}
  idle: {title: Nothing can be wrong with it}
causes:
  worn: {title: Worn, item: pump, probability: 0.1}
  alone: {title: Alone, probability: 0.1}
  same: {title: Another, item: pump, probability: 0.1}
  gone: {title: Of the item with its name, item: same, probability: 0.1}
"""


OTHER = """
items:
  valve: {title: Valve}
  pump: {title: Pump}
causes:
  stuck: {title: Stuck, item: valve, probability: 0.1}
  dry: {title: Dry, item: pump, probability: 0.1}
events:
  top: {title: Top, any: [stuck, dry, s/worn, s/alone, s/same, s/gone]}
symptoms:
  reported: {title: Reported, event: top}
"""


@pytest.fixture(scope="module")
def units() -> Case:
    """A case over two files that share some short ids."""
    loaded = load_texts({"s.yaml": f"faultree: 1\ntitle: S\n{UNITS}", "t.yaml": f"faultree: 1\ntitle: T\n{OTHER}"})
    return Case.open(loaded, ["reported"])


@pytest.mark.parametrize(
    ("name", "unit"),
    [
        ("s/pump", "s/pump"),
        ("valve", "t/valve"),
        ("worn", "s/pump"),
        ("s/worn", "s/pump"),
        ("alone", "s/alone"),
        ("s/alone", "s/alone"),
        ("s/same", "s/same"),
        ("same", "s/same"),
        ("s/gone", "s/same"),
        ("dry", "t/pump"),
    ],
)
def test_a_unit_is_an_item_or_a_cause_without_one_or_the_item_of_a_cause(units: Case, name: str, unit: str) -> None:
    """An item goes before a cause of the same name."""
    assert units.unit_id(name) == unit


def test_an_ambiguous_or_unknown_unit_is_refused(units: Case) -> None:
    with pytest.raises(UnknownName) as raised:
        units.unit_id("wornn")
    assert raised.value.candidates == ("s/worn",)
    for ask in (units.repair, units.clears):
        with pytest.raises(UnknownName) as raised:
            ask("pump")
        assert raised.value.ambiguous
        assert set(raised.value.candidates) == {"s/pump", "t/pump"}


@pytest.mark.parametrize("name", ["idle", "s/idle"])
def test_an_item_in_which_nothing_can_be_wrong_is_not_repaired(units: Case, name: str) -> None:
    with pytest.raises(CaseError, match="nothing can be wrong with 's/idle'"):
        units.repair(name)


# ---- what follows


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


# ---- saving


@pytest.fixture
def walked(case: Case) -> Case:
    return case.answer("feel", "no").repair("leak").cannot_tell("try").answer("listen", "hum")


def test_a_saved_case_is_plain_data_and_comes_back_equal(walked: Case) -> None:
    saved = walked.to_dict()
    assert saved == {
        "case": 1,
        "library": pump().digest,
        "symptoms": ["s/still"],
        "steps": [
            {"check": "s/feel", "answer": "no"},
            {"repair": "s/leak", "gone": False},
            {"check": "s/try", "answer": None},
            {"check": "s/listen", "answer": "hum"},
        ],
    }
    again = Case.from_dict(pump(), json.loads(json.dumps(saved)))
    assert again == walked
    assert again.ranking() == walked.ranking()
    assert again.minutes == walked.minutes


def test_a_case_without_steps_can_leave_them_out(case: Case) -> None:
    assert Case.from_dict(pump(), {"case": 1, "symptoms": ["still"]}) == case


def test_a_report_saved_twice_counts_once() -> None:
    """A report that may be false would otherwise be believed twice."""
    assert Case.from_dict(pump(), saved(symptoms=["no-reading", "s/no-reading"])).symptoms == ("s/no-reading",)


def test_limits_are_not_saved_but_can_be_given(walked: Case) -> None:
    again = Case.from_dict(pump(), walked.to_dict(), Limits(sets=9))
    assert again.limits == Limits(sets=9)


def saved(*steps: object, **changed: object) -> dict[str, object]:
    return {"case": 1, "symptoms": ["s/still"], "steps": list(steps)} | changed


REFUSED = {
    "no case": saved(case=None),
    "another form": saved(case=2),
    "no symptoms": saved(symptoms=[]),
    "symptoms no list": saved(symptoms="s/still"),
    "steps no list": saved(steps={"s/feel": "no"}),
    "a step of nothing": saved({}),
    "a step that is no mapping": saved("feel"),
    "a check that is no text": saved({"check": 3, "answer": "no"}),
    "a check without an answer": saved({"check": "s/feel"}),
    "a repair without an outcome": saved({"repair": "s/pump"}),
    "an outcome that is no truth value": saved({"repair": "s/pump", "gone": "no"}),
    "a repair of nothing known": saved({"repair": "s/nothing", "gone": False}),
    "a repair of an item without causes": saved({"repair": "s/spare", "gone": False}),
    "a repair twice": saved({"repair": "s/leak", "gone": False}, {"repair": "s/leak", "gone": False}),
    "a check twice": saved({"check": "s/read", "answer": "no"}, {"check": "s/read", "answer": "no"}),
}


@pytest.mark.parametrize("wrong", REFUSED)
def test_what_is_no_saved_case_is_refused(wrong: str) -> None:
    """With one of our own errors, whatever is wrong."""
    with pytest.raises((CaseError, UnknownName)):
        Case.from_dict(pump(), REFUSED[wrong])


UNKNOWN = {
    "symptom": saved(symptoms=["s/stil"]),
    "check": saved({"check": "s/feal", "answer": "no"}),
    "answer of check 's/feel'": saved({"check": "s/feel", "answer": "maybe"}),
}


@pytest.mark.parametrize("kind", UNKNOWN)
def test_an_unknown_name_in_a_saved_case_is_named(kind: str) -> None:
    with pytest.raises(UnknownName) as raised:
        Case.from_dict(pump(), UNKNOWN[kind])
    assert raised.value.kind == kind


def test_a_saved_case_that_contradicts_itself_is_refused() -> None:
    """A library may have changed since; then the answers to look at again are named."""
    with pytest.raises(Contradiction) as raised:
        Case.from_dict(pump(), saved({"check": "s/try", "answer": "yes"}))
    assert raised.value.answers == (("s/try", "yes"),)


def test_a_repair_saved_by_a_cause_means_its_item() -> None:
    """Whoever writes a case by hand names what was found."""
    found = Case.from_dict(pump(), saved({"repair": "s/worn", "gone": False}))
    assert found.steps == (Repair("s/pump", gone=False),)


def test_a_check_and_a_unit_may_have_the_same_name() -> None:
    """Only two replies to one check, or two repairs of one unit, are one too many."""
    text = PUMP.replace("  feel: {title: feel the pipe", "  pump: {title: feel the pipe")
    steps = Case.open(library(text), ["still"]).answer("s/pump", "no").repair("s/pump")
    assert Case.from_dict(steps.library, steps.to_dict()) == steps


def test_a_case_keeps_its_library(case: Case) -> None:
    again: Library = case.answer("feel", "no").library
    assert again is pump()
