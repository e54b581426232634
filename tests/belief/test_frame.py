"""The frame: made once for a library, one number for each world, the literals of reports and answers."""

from __future__ import annotations

import gc
import random
import weakref

import pytest

from faultree.belief.frame import frame_of
from faultree.logic.simulate import evaluate, value_of
from tests.belief.small import PUMP, library, pump, pump_frame
from tests.oracles.brute import Brute, fault_sets
from tests.oracles.random_libraries import random_library


def test_a_library_has_one_frame() -> None:
    assert frame_of(pump()) is frame_of(pump())


def test_two_libraries_of_the_same_text_have_a_frame_each() -> None:
    """A library is compared by identity: nothing of one may be kept for another."""
    assert frame_of(library(PUMP)) is not frame_of(library(PUMP))


def test_a_frame_goes_with_its_library() -> None:
    """Whoever reads a library again and again must not keep every one that ever was."""
    loaded = library(PUMP)
    gone = weakref.ref(frame_of(loaded))
    del loaded
    gc.collect()
    assert gone() is None


def test_situations_with_the_same_settings_are_one_world() -> None:
    """No situation means each condition at its `usually`; naming that changes nothing."""
    frame = frame_of(library(PUMP))
    assert frame.world(None) == frame.world("s/plain")
    assert len({frame.world(None), frame.world("s/dark"), frame.world("s/ready")}) == 3
    assert len(frame.worlds) == 3


def test_a_repair_makes_another_world() -> None:
    frame = frame_of(library(PUMP))
    before = frame.world("s/dark")
    after = frame.world("s/dark", frozenset({1}))
    assert before != after
    assert after == frame.world("s/dark", frozenset({1}))
    assert frame.worlds[after].repaired == {1}
    assert frame.worlds[after].settings == frame.worlds[before].settings


def test_a_world_holds_every_condition() -> None:
    frame = pump_frame()
    assert dict(frame.worlds[frame.world("s/dark")].settings) == {"s/powered": False, "s/armed": False}
    assert dict(frame.worlds[frame.world("s/ready")].settings) == {"s/powered": True, "s/armed": True}


@pytest.mark.parametrize("seed", range(12))
def test_reports_and_answers_hold_where_their_definition_does(seed: int) -> None:
    """A report holds where all that it sees does; of the answers, the right one holds and no other."""
    drawn = random_library(random.Random(seed)).library
    frame = frame_of(drawn)
    brute = Brute(drawn, list(drawn.symptoms))
    for faults, _ in list(fault_sets(drawn))[::7]:
        for name, symptom in drawn.symptoms.items():
            values = evaluate(frame.graph, drawn.settings(symptom.situation), faults)
            assert value_of(values, frame.seen[name]) == brute.sees(name, faults)
        for name, check in drawn.checks.items():
            values = evaluate(frame.graph, drawn.settings(check.situation), faults)
            held = [value_of(values, literal) for literal in frame.answers[name]]
            assert held == [one.id == brute.right_answer(name, faults) for one in check.answers]
