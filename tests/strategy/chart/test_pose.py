"""How a library becomes a task: what each hypothesis calls for, who may check, and what repairs leave."""

from __future__ import annotations

import numpy as np
import pytest

from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.chart.compile import posed_chart
from faultree.strategy.chart.pose import Posed

TWO_REPORTS = """
access:
  panel: {title: The panel, minutes: 7}
items:
  pump: {title: Pump, minutes: 20, access: [panel]}
  lamp: {title: Lamp, minutes: 5}
causes:
  worn: {title: Pump worn, item: pump, probability: 0.02}
  leak: {title: Pump leaks, item: pump, probability: 0.01}
  dark: {title: Lamp dead, item: lamp, probability: 0.03}
  wire: {title: Wire broken, probability: 0.01, minutes: 12}
events:
  weak: {title: Weak, any: [worn, leak]}
  unlit: {title: Unlit, any: [dark, wire]}
checks:
  feel: {title: Feel, ask: Does it leak?, reads: leak, by: crew, minutes: 1, access: [panel]}
  meter: {title: Meter, ask: Is there voltage?, reads: wire, by: shop, false_no: 0.1}
  idle: {title: Idle, ask: Is it so?, answers: {one: {text: One, when: weak}, two: {text: Two, when: otherwise}}}
symptoms:
  weak: {title: Weak, event: weak, retest: 3}
  unlit: {title: Unlit, event: unlit, retest: 4}
"""


def library() -> Library:
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{TWO_REPORTS}"})


def posed(*symptoms: str, goal: str = "item", by: list[str] | None = None) -> Posed:
    return posed_chart(library(), symptoms, goal, by, 0.0, 0.05)  # type: ignore[arg-type]  # one of the goals


def called(one: Posed) -> dict[str, int]:
    """The label of each hypothesis by its causes."""
    names = ["".join(sorted(cause.removeprefix("s/")[0] for cause in some)) for some in one.sets]
    return dict(zip(names, one.task.labels, strict=True))


def test_causes_of_one_item_call_for_one_thing() -> None:
    labels = called(posed("weak"))
    assert labels["w"] == labels["l"]


def test_for_the_goal_cause_they_do_not_where_a_check_parts_them() -> None:
    labels = called(posed("weak", goal="cause"))
    assert labels["w"] != labels["l"]


def test_what_no_allowed_check_parts_counts_as_one() -> None:
    """Only the shop can tell a broken wire from a dead lamp; the crew ends with both."""
    everybody, crew = posed("unlit"), posed("unlit", by=["crew"])
    assert called(everybody)["d"] != called(everybody)["w"]
    assert called(crew)["d"] == called(crew)["w"]
    assert crew.others.labels == everybody.task.labels


def test_checks_that_show_the_same_under_every_hypothesis_are_left_out() -> None:
    assert [move.name for move in posed("weak").task.moves] == ["s/feel"]


def test_chances_of_answers_are_those_of_the_library() -> None:
    one = posed("unlit")
    (meter,) = one.task.moves
    wire = next(place for place, some in enumerate(one.sets) if "s/wire" in some)
    assert one.task.shows[list(meter.rows), wire].tolist() == pytest.approx([0.9, 0.1])
    assert meter.noisy


def test_repairs_take_their_minutes_and_every_operational_check() -> None:
    one = posed("weak", "unlit", goal="restore")
    minutes = {move.name: move.minutes for move in one.task.moves if not move.is_check}
    assert minutes == {"s/pump": 27.0, "s/lamp": 12.0, "s/wire": 19.0}
    assert next(move for move in one.task.moves if move.name == "s/pump").access == 1
    assert one.ways == ("s/panel",)


def test_a_repair_that_clears_one_of_two_reports_leaves_the_other() -> None:
    """Pump and lamp are both bad: after the pump, the lamp is left, which no report suspected alone."""
    one = posed("weak", "unlit", goal="restore")
    assert one.task.shifts is not None
    both = next(place for place, some in enumerate(one.sets) if some == frozenset({"s/worn", "s/dark"}))
    left = int(one.task.shifts["s/pump"][both])
    assert one.sets[left] == frozenset({"s/dark"})
    assert one.task.chances[left] == 0.0
    pump = next(move for move in one.task.moves if move.name == "s/pump")
    assert not one.task.right[pump.rows[0], both]


def test_what_two_fault_sets_leave_alike_is_one_hypothesis() -> None:
    """The lamp is left whether the pump was worn or leaked."""
    one = posed("weak", "unlit", goal="restore")
    assert len(set(one.sets)) == len(one.sets)
    assert one.task.shifts is not None
    worn, leak = (one.sets.index(frozenset({cause, "s/dark"})) for cause in ("s/worn", "s/leak"))
    assert one.task.shifts["s/pump"][worn] == one.task.shifts["s/pump"][leak]


def test_a_single_report_needs_no_remainders() -> None:
    one = posed("unlit", goal="restore")
    assert one.task.shifts is None
    assert np.all(one.task.chances > 0.0)
