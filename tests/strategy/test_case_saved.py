"""Saved cases: plain data that comes back equal, and every other data refused in our own words."""

from __future__ import annotations

import json

import pytest

from faultree.base.errors import CaseError, Contradiction, UnknownName
from faultree.belief.engine import Limits
from faultree.belief.evidence import Repair
from faultree.library.model import Library
from faultree.strategy.case import Case
from tests.belief.small import PUMP, library, pump


@pytest.fixture
def case() -> Case:
    """The report that it does not move."""
    return Case.open(pump(), ["still"])


def probabilities(found: Case) -> dict[str, float]:
    return {suspect.cause: suspect.probability for suspect in found.ranking()}


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
