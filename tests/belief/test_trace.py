"""Traces: what a cause changes in a situation, and the shortest way from it to what was seen."""

from __future__ import annotations

from itertools import pairwise

import pytest

from faultree.belief.frame import frame_of
from faultree.belief.trace import Trace, trace_of
from faultree.library.model import refs
from faultree.logic.graph import operands
from tests.belief.small import library, pump, pump_frame


def trace(symptom: str, cause: str, *others: str) -> Trace:
    return trace_of(pump_frame(), f"s/{symptom}", frozenset(f"s/{one}" for one in (cause, *others)), f"s/{cause}")


def short(names: list[str] | frozenset[str]) -> list[str]:
    return [name.partition("/")[2] for name in names]


def test_what_changed_is_what_differs_without_the_cause() -> None:
    assert set(short(trace("still", "worn").changed)) == {"worn", "pressure", "shown", "moves", "noisy"}
    assert set(short(trace("still", "valve").changed)) == {"valve", "moves"}


def test_the_other_faults_are_there_all_the_same() -> None:
    """With the pipe leaking the pressure is gone anyway: the pump changes nothing but itself."""
    assert set(short(trace("still", "worn", "leak").changed)) == {"worn"}


def test_the_situation_of_the_report_is_the_one_looked_at() -> None:
    found = trace("still", "valve")
    assert found.situation == "armed"
    assert not found.now["s/moves"]
    unarmed = trace("no-reading", "valve")
    assert unarmed.situation == ""
    assert set(short(unarmed.changed)) == {"valve"}


@pytest.mark.parametrize(
    ("symptom", "cause", "path"),
    [
        ("still", "worn", ["worn", "pressure", "moves"]),
        ("still", "valve", ["valve", "moves"]),
        ("no-reading", "leak", ["leak", "pressure", "shown"]),
        ("no-reading", "low", ["low", "shown"]),
        ("no-reading", "valve", []),
    ],
)
def test_the_path_leads_to_what_was_seen(symptom: str, cause: str, path: list[str]) -> None:
    assert short(trace(symptom, cause).path(f"s/{cause}")) == path


def test_each_step_of_a_path_uses_the_one_before() -> None:
    found = trace("still", "worn")
    for before, after in pairwise(found.path("s/worn")):
        entry = pump().signals.get(after) or pump().events[after]
        assert before in {ref.id for operand in operands(entry) for ref in refs(operand)}


def test_the_shortest_path_is_taken() -> None:
    frame = frame_of(
        library(
            """
causes:
  a: {title: A, probability: 0.1}
events:
  long-1: {title: First, any: [a]}
  long-2: {title: Second, any: [long-1]}
  top: {title: Top, any: [long-2, a]}
symptoms:
  reported: {title: Reported, event: top}
"""
        )
    )
    assert trace_of(frame, "s/reported", frozenset({"s/a"}), "s/a").path("s/a") == ["s/a", "s/top"]


def test_a_cause_that_was_seen_itself_is_the_whole_path() -> None:
    frame = frame_of(
        library("causes:\n  a: {title: A, probability: 0.1}\nsymptoms:\n  reported: {title: R, sees: {a: yes}}\n")
    )
    assert trace_of(frame, "s/reported", frozenset({"s/a"}), "s/a").path("s/a") == ["s/a"]


def test_sentences_say_how_a_node_changed() -> None:
    """Lost, missing for want of what it follows, forced, and an event that holds."""
    worn, high = trace("still", "worn"), trace("odd", "high", "leak")
    assert worn.sentence("s/worn", "s/pressure") == "That takes away “pressure”."
    assert worn.sentence("s/pressure", "s/moves") == "So “it moves” is missing."
    assert worn.sentence("s/worn", "s/noisy") == "So “noise at the pump” holds."
    assert high.sentence("s/high", "s/shown").startswith("That forces “pressure shown”")
