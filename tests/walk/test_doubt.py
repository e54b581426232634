"""What believing each of some contradicting answers would mean."""

from __future__ import annotations

import pytest

from faultree.belief.evidence import Reply
from faultree.walk import events as ev
from faultree.walk.doubt import doubted, if_wrong
from faultree.walk.machine import step
from faultree.walk.prompt import ConflictPrompt
from faultree.walk.state import Conflict, RepairStep
from faultree.walk.view import prompt
from tests.walk.small import asked, walked

VOLTAGE, BENCH, CLICK = Reply("signal/voltage", "yes"), Reply("signal/bench", "yes"), Reply("signal/click", "click")


def test_the_newest_step_is_always_among_those_in_doubt() -> None:
    """Even where the engine blames others only, the person can take back what was just typed."""
    assert doubted(Conflict(BENCH, (VOLTAGE, BENCH))) == (VOLTAGE, BENCH)
    assert doubted(Conflict(BENCH, (VOLTAGE,))) == (VOLTAGE, BENCH)


def test_each_answer_in_doubt_says_who_is_likeliest_without_it() -> None:
    """The figures are those of a case that never had the answer."""
    walk = walked(*asked("voltage", "yes"), *asked("bench", "yes"))
    assert walk.conflict is not None
    without_bench = if_wrong(walk.open_case, walk.conflict, BENCH)
    without_voltage = if_wrong(walk.open_case, walk.conflict, VOLTAGE)
    assert without_bench is not None
    assert without_voltage is not None
    assert without_bench[0] == "signal lamp broken"
    lead = walked(*asked("bench", "yes")).open_case.ranking()[0]
    assert without_voltage[1] == pytest.approx(lead.probability)


def test_where_the_others_contradict_each_other_too_there_is_no_likeliest() -> None:
    """Taking an innocent answer out mends nothing."""
    walk = walked(*asked("click", "click"), *asked("voltage", "yes"), *asked("bench", "yes"))
    assert walk.conflict is not None
    assert if_wrong(walk.open_case, walk.conflict, CLICK) is None


def test_after_repairs_in_vain_every_one_of_them_may_be_looked_at_again() -> None:
    """The last contradicts only as long as the parts fitted before it are taken to be good."""
    vain = [
        event
        for unit in ("lamp", "relay", "fuse", "wire-broken")
        for event in (ev.Replace(unit), ev.Acknowledge(), ev.Retest(gone=False))
    ]
    walk = walked(*vain)
    shown = prompt(walk)
    assert isinstance(shown, ConflictPrompt)
    assert not shown.alone
    doubted = [one.event for one in shown.choices if isinstance(one.event, ev.LookAgain)]
    assert {one.step for one in doubted} == {"signal/lamp", "signal/relay", "signal/fuse", "signal/wire-broken"}
    again = step(walk, ev.LookAgain("signal/relay")).walk
    assert again.pending == RepairStep("signal/relay")
    assert [one[0] for one in again.open_case.steps] == ["signal/lamp", "signal/fuse", "signal/wire-broken"]
