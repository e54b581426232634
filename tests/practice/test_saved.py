"""A run is its exercise and its events: all else follows from them again."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from faultree.base.errors import CaseError
from faultree.practice.events import Ask, HandOver, PutRight, Read
from faultree.practice.mark import mark
from faultree.practice.saved import Run, pack, unpack
from faultree.practice.scenario import scenario
from tests.practice.small import gate

EVENTS = (Ask("g/listen"), Ask("g/look-in"), Read(), HandOver("g/pump"))


def run() -> Run:
    return Run(scenario(gate(), "still", 2, 5), "blind", "ada", EVENTS)


def test_a_run_comes_back_and_has_the_same_mark() -> None:
    again = unpack(gate(), json.loads(json.dumps(pack(run()))))
    assert again == run()
    assert mark(again.replayed(gate())).mark == mark(run().replayed(gate())).mark


def test_an_impossible_event_is_named() -> None:
    bad = Run(run().scenario, "blind", "", (Ask("g/listen"), Ask("g/listen")))
    with pytest.raises(CaseError, match="event 2 of this run is not possible here \\(This check has its answer"):
        bad.replayed(gate())


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"run": 3}, "this is no saved run"),
        ({"events": "all"}, "this is no saved run"),
        ({"mode": "sleepy"}, "a run's mode is one of coached, blind, exam, not 'sleepy'"),
        ({"events": [{"event": "Fly"}]}, "is no event of a run"),
        ({"events": [{"event": "Ask"}]}, "is no event of a run"),
        ({"events": [{"event": "Ask", "check": 7}]}, "is no event of a run"),
        ({"events": [4]}, "4 is no event of a run"),
    ],
)
def test_what_does_not_read_is_refused_in_words(change: dict[str, object], words: str) -> None:
    with pytest.raises(CaseError, match=words):
        unpack(gate(), {**pack(run()), **change})


def test_repairs_and_skips_are_kept() -> None:
    done = Run(run().scenario, "exam", "", (PutRight("g/pump"), Read()))
    assert unpack(gate(), pack(done)).events == done.events


def test_a_run_of_the_first_form_is_done_again_as_it_was() -> None:
    """There a caution that had been read was not asked for again: the pump was replaced without a further word."""
    made = replace(run().scenario, hidden=frozenset({"g/valve-shut"}))
    old = {**pack(Run(made, "exam", "", (Ask("g/gauge"), Read(), PutRight("g/pump"), Ask("g/mat")))), "run": 1}
    again = unpack(gate(), old).replayed(gate())
    assert [one.target for one in again.steps] == ["g/gauge", "g/pump", "g/mat"]
    assert not any(one.skipped for one in again.steps)
    left = unpack(gate(), {**pack(Run(made, "exam", "", (Ask("g/gauge"),))), "run": 1}).replayed(gate())
    assert left.pending is not None
