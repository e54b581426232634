"""A case: an immutable value of reports and steps, and how it grows."""

from __future__ import annotations

import dataclasses

import pytest

from faultree.base.errors import CaseError, Contradiction, UnknownName
from faultree.belief.evidence import Repair, Reply
from faultree.library.load import load_texts
from faultree.strategy.case import Case
from tests.belief.small import PUMP, library, pump


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
