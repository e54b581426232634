"""The key says what is hidden and how the best strategy finds it, cautions before their steps."""

from __future__ import annotations

from dataclasses import replace

from faultree.practice.key import AnswerKey, answer_key
from faultree.practice.reference import reference
from faultree.practice.scenario import scenario
from faultree.practice.view import told
from tests.practice.small import gate


def key(*hidden: str, **more: object) -> AnswerKey:
    made = replace(scenario(gate(), "still", 1, 1), hidden=frozenset(hidden), **more)  # type: ignore[arg-type]
    return answer_key(gate(), made)


def test_its_steps_are_those_of_the_best_strategy() -> None:
    made = scenario(gate(), "still", 1, 5)
    steps = answer_key(gate(), made).steps
    assert [(one.title, one.minutes) for one in steps] == [
        (one.title, one.minutes) for one in told(reference(gate(), made))
    ]


def test_cautions_stand_at_the_step_that_needs_them() -> None:
    found = key("g/pump-worn")
    cares = {step.title: [one.id for one in step.cautions] for step in found.steps}
    assert cares == {"Listen to the motor": [], "Read the gauge": ["g/moving"], "Put right: Pump": ["g/moving"]}


def test_its_case_is_the_one_before_the_repair() -> None:
    """Afterwards what was put right is good, and a drawing would show it as no suspect."""
    found = key("g/motor-dead")
    assert [one.check for one in found.case.steps] == ["g/listen"]  # type: ignore[union-attr]
    assert found.case.units()[0].unit == "g/motor"


def test_facts_name_everything_that_was_set() -> None:
    facts = dict(key("g/valve-shut", closed=frozenset({"g/mat"}), limit=20.0, words="stuck!", code="").facts)
    assert facts["Hidden"] == "Valve stuck shut"
    assert facts["Not today"] == "Look at the door mat"
    assert facts["Time"] == "The work may take 20 min; the best strategy takes longer"
    assert facts["Crew"] == "“stuck!”"
    assert facts["Code"] == "None: set by hand"
    assert facts["Truth"] == "What was reported is there"


def test_a_wrong_report_is_named_and_looked_at() -> None:
    found = key(there=False, doubt=0.3, level=4)
    assert dict(found.facts)["Hidden"] == "Nothing"
    assert dict(found.facts)["Truth"] == "What was reported is not there"
    assert [(one.title, one.outcome) for one in found.steps] == [
        ("Repeat the operational check", "What was reported is not there now")
    ]
