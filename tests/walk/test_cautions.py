"""Cautions stand before the step that needs them: of its situation, of access still to open, and its own."""

from __future__ import annotations

import pytest

from faultree.walk import cautions
from faultree.walk import events as ev
from faultree.walk.state import CheckStep, Pending, RepairStep
from tests.walk.small import asked, small, walked


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        (CheckStep("signal/voltage"), ["live", "dazzle", "edges", "probe"]),
        (CheckStep("signal/supply-seen"), ["live"]),
        (CheckStep("signal/click"), []),
        (RepairStep("signal/lamp"), ["live", "edges", "glass", "dazzle"]),
        (RepairStep("signal/wire-broken"), ["live", "dazzle"]),
    ],
)
def test_which_cautions_stand_before_a_step(step: Pending, expected: list[str]) -> None:
    """Warnings first; a situation brings the cautions of the one it extends; a repair those of the retest."""
    found = cautions.before(walked().open_case, step)
    assert [one.id.partition("/")[2] for one in found] == expected
    levels = [one.level for one in found]
    assert levels == sorted(levels, key=["warning", "caution", "note"].index)


def test_access_that_is_open_asks_for_nothing_more() -> None:
    """The edges of the panel matter while it is taken off, not once it is off."""
    opened = walked(*asked("voltage", "no")).open_case
    assert "signal/panel" in opened.opened
    assert "signal/edges" not in [one.id for one in cautions.before(opened, RepairStep("signal/lamp"))]


def test_a_situation_without_a_name_has_no_cautions() -> None:
    """A check in the usual situation brings only its own."""
    assert list(cautions.of_situation(small(), None)) == []


def test_a_step_waits_until_all_its_cautions_are_read() -> None:
    """One unread caution among read ones is enough to wait."""
    walk = walked(ev.TakeUp("supply-seen"), ev.Acknowledge(), ev.TakeUp("voltage"))
    assert walk.phase.value == "cautions"
    assert walk.read == {"signal/live"}
