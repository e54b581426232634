"""Small cases to which random ones were reduced when the engine and the enumeration once disagreed."""

from __future__ import annotations

import pytest

from faultree.base.errors import LibraryError
from faultree.library.load import load_texts
from tests.oracles.brute import Answered, Brute, Repaired, Step
from tests.oracles.held_against import CLOSE, hold, replayed


def case(text: str, symptom: str, *steps: Step) -> Brute:
    """A one-file library, whose file is called `s`, with one symptom and some steps."""
    return Brute(load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"}), [f"s/{symptom}"], steps)


NOTHING_TO_FIND = """
causes:
  cause: {title: A cause, probability: 0.1}
signals:
  always: {title: Nothing takes it away}
symptoms:
  lost: {title: It is lost, sees: {always: no}}
  there: {title: It is there, sees: {always: yes}}
"""


@pytest.mark.parametrize("symptom", ["lost", "there"])
def test_a_report_that_no_cause_can_change(symptom: str) -> None:
    """A network without any variable: impossible from the start, or no news."""
    hold(case(NOTHING_TO_FIND, symptom))


NEVER = """
items:
  part: {title: The part}
causes:
  one: {title: One mode, item: part, probability: 0.1}
  other: {title: Another mode, item: part, probability: 0.2}
  third: {title: A third cause, probability: 0.3}
events:
  low: {title: Low, any: [one, third]}
  both: {title: Both modes at once, all: [low, other, {not: third}]}
  odd: {title: What never is, any: [both, {all: [one, other]}]}
checks:
  look: {title: Look, ask: Is it so?, reads: odd}
  look-low: {title: Look, ask: Is it low?, reads: low}
symptoms:
  reported: {title: It is low, event: low}
"""


@pytest.mark.parametrize("steps", [[], [Answered("s/look", "no")], [Answered("s/look", "yes")]])
def test_a_node_that_is_never_true_because_modes_exclude_each_other(steps: list[Step]) -> None:
    """Nothing in the logic says that it is constant; only the prior rules one of its values out."""
    hold(case(NEVER, "reported", *steps))


SHARED_PAIR = """
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.2}
events:
  inner: {title: A or B, any: [a, b]}
  outer: {title: The same with its own inputs beside it, any: [inner, a, b]}
checks:
  look: {title: Look, ask: Is it so?, reads: inner}
symptoms:
  reported: {title: Reported, event: outer}
  absent: {title: Not there, sees: {outer: no}}
"""


@pytest.mark.parametrize("symptom", ["reported", "absent"])
def test_a_gate_over_another_gate_and_its_inputs(symptom: str) -> None:
    """A pair of inputs that is a node already must not be joined to itself."""
    hold(case(SHARED_PAIR, symptom))


REPLACED = """
items:
  pump: {title: The pump}
causes:
  worn: {title: The pump is worn, item: pump, probability: 0.1}
  sensor: {title: The sensor is dead, probability: 0.2}
  latent: {title: Something latent, probability: 0.3}
events:
  reported: {title: No pressure shown, any: [worn, sensor]}
  worse: {title: A worn pump with something else, all: [worn, {any: [sensor, latent]}]}
checks:
  look-worse: {title: Look at both, ask: Is it worse?, reads: worse}
  look-pump: {title: Look at the pump, ask: Is it worn?, reads: worn}
  look-latent: {title: Look for more, ask: Is it there?, reads: latent}
  look-report: {title: Look at the gauge, ask: Is pressure missing?, reads: reported}
symptoms:
  no-pressure: {title: No pressure, event: reported}
"""


def test_answers_before_and_after_a_repair_do_not_contradict_each_other() -> None:
    """A pump that was worn before it was replaced and is good afterwards is no contradiction.

    Here the report went with the repair, so the sensor is good; then what made it worse is latent, and
    that was denied. The answer about the new pump has no part in it.
    """
    steps: list[Step] = [
        Answered("s/look-worse", "yes"),
        Repaired("s/pump", gone=True),
        Answered("s/look-pump", "no"),
        Answered("s/look-latent", "no"),
    ]
    hold(case(REPLACED, "no-pressure", *steps))


def test_an_answer_that_only_what_was_seen_after_the_repair_contradicts() -> None:
    """The gauge may well be right after the repair; it is "still there" that cannot be true beside it."""
    steps: list[Step] = [Repaired("s/pump", gone=False), Answered("s/look-report", "no")]
    hold(case(REPLACED, "no-pressure", *steps))


SAME_NAME = """
items:
  pump: {title: The pump}
causes:
  worn: {title: The pump is worn, item: pump, probability: 0.2}
  pump: {title: A cause with the name of an item but without one, probability: 0.3}
events:
  both: {title: Both, all: [worn, pump]}
symptoms:
  reported: {title: Both are there, event: both}
"""


def test_a_cause_without_item_is_independent_of_an_item_with_its_name() -> None:
    """Ids are unique among nodes, and items are none; such a library is refused, or read as it is written."""
    try:
        brute = case(SAME_NAME, "reported")
    except LibraryError:
        return
    found = {suspect.cause: suspect.probability for suspect in replayed(brute).ranking()}
    assert found == pytest.approx(brute.ranking(), abs=CLOSE)
