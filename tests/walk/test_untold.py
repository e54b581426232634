"""Where nobody could tell what a repair did, the walk counts with the symptom being gone, and says so."""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from faultree.walk import events as ev
from faultree.walk import untold
from faultree.walk.prompt import EndPrompt, StepPrompt
from faultree.walk.state import Walk
from faultree.walk.view import prompt
from tests.trees.demonstration import library
from tests.walk.small import walked

ELSEWHERE = "spoilers/flight-panels-compared"


def _repaired(unit: str, event: ev.Event) -> tuple[ev.Event, ...]:
    return (ev.Replace(unit), ev.Acknowledge(), event)


def _end(walk: Walk) -> EndPrompt:
    shown = prompt(walk)
    assert isinstance(shown, EndPrompt)
    return shown


@pytest.fixture(scope="module")
def panels() -> Case:
    """Two items are left, one as likely as the other."""
    return Case.open(library(), ["spoilers/uneven-panels"]).answer(ELSEWHERE, "none-down")


def test_the_chance_that_it_is_gone_is_shown() -> None:
    walk = walked(*_repaired("fuse", ev.CannotTell()))
    shown = prompt(walk)
    assert isinstance(shown, StepPrompt)
    assert shown.maybe_gone.startswith("The symptom may be gone already (23 %): nobody could tell what putting right")


def test_what_was_seen_afterwards_settles_it(panels: Case) -> None:
    """Seen to be there, it is not gone; without any repair nothing is said."""
    first = panels.repair("right-ground-actuator", gone=None)
    assert "50 %" in untold.maybe_gone(first)
    assert untold.maybe_gone(panels) == ""
    assert untold.maybe_gone(first.repair("left-ground-actuator", gone=False)) == ""


def test_the_time_left_does_not_explode(panels: Case) -> None:
    """Half of the chance is used up, and so is more than half of the time."""
    before = panels.advice()[0].expected_minutes
    after = min(one.expected_minutes for one in panels.repair("right-ground-actuator", gone=None).advice())
    assert after < before


def test_both_are_named_where_either_may_have_cleared_it(panels: Case) -> None:
    """The last repair is not the one that helped only because it was looked at then."""
    both = panels.repair("right-ground-actuator", gone=None).repair("left-ground-actuator", gone=True)
    (said,) = untold.next_to(both, both.steps[-1])  # type: ignore[arg-type]
    assert said.startswith("It may have been actuator of the right ground panel as well")
    one = panels.repair("right-ground-actuator", gone=False).repair("left-ground-actuator", gone=True)
    assert list(untold.next_to(one, one.steps[-1])) == []  # type: ignore[arg-type]


def test_nobody_is_called_likely_who_is_not() -> None:
    """With hardly anything left, the hand-over says so instead of naming suspects of a percent or two."""
    repaired = [one for unit in ("fuse", "relay", "lamp") for one in _repaired(unit, ev.CannotTell())]
    end = _end(walked(*repaired, ev.Finish()))
    assert end.likely == ()
    assert end.maybe_gone.startswith("The symptom may be gone already (9")
    assert not [one for one in end.choices if one.kind == "replace"]
    assert [line for line in end.handover if line.startswith("Likely: no suspect is; none is above")]
