"""A walk that follows a chart: its steps, its end, and live advice once it is left."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.base.errors import CaseError
from faultree.belief.evidence import Reply
from faultree.strategy.case import Case
from faultree.strategy.chart.value import Chart
from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.follow import LEFT, charted, left, node_of, says, step_of, words
from faultree.walk.machine import start, step
from faultree.walk.prompt import EndPrompt, StepPrompt
from faultree.walk.state import CheckStep, Reason, RepairStep, Said, Walk
from faultree.walk.table import Phase
from faultree.walk.transcript import Transcript, advance, replay
from faultree.walk.view import prompt
from tests.strategy.chart.by_hand import chart, repairs
from tests.walk.small import DARK, small


def _walked(*events: ev.Event, one: Chart | None = None) -> tuple[Walk, tuple[Said, ...]]:
    walk, said = start(small(), chart=one or chart()), tuple[Said, ...]()
    for event in (ev.Begin((DARK,)), ev.Acknowledge(), *events):
        walk, said = (turn := step(walk, event)).walk, turn.said
    return walk, said


def test_the_chart_says_what_comes_next() -> None:
    """Even where live advice would propose something else."""
    first, _ = _walked()
    assert first.pending == CheckStep("signal/click")
    assert start(small()).chart is None
    second, said = _walked(ev.AnswerCheck("silence"))
    assert second.pending == CheckStep("signal/supply-seen")
    assert second.phase is Phase.CAUTIONS  # the cautions of the step come first, on a chart as well
    assert LEFT not in said


def test_the_screen_says_which_step_of_the_chart_it_is() -> None:
    """And says it no more once something else is on view."""
    walk, _ = _walked()
    shown = prompt(walk)
    assert isinstance(shown, StepPrompt)
    assert shown.charted == "chart, step 1"
    other, _ = _walked(ev.TakeUp("signal/weather"))
    assert words(other) == ""


def test_the_chart_ends_the_search() -> None:
    """Its end is an end of the walk, from which one may carry on with live advice."""
    walk, _ = _walked(ev.AnswerCheck("silence"), ev.Acknowledge(), ev.AnswerCheck("no"))
    assert walk.phase is Phase.OVER
    assert walk.reason is Reason.CHART_ENDS
    shown = prompt(walk)
    assert isinstance(shown, EndPrompt)
    assert shown.charted == "chart, end 3"
    assert "signal fuse" in " ".join(shown.handover)
    assert "By the chart: Replace the signal fuse." in shown.handover
    other, _ = _walked(ev.AnswerCheck("silence"), ev.Acknowledge(), ev.AnswerCheck("yes"))
    assert other.reason is Reason.CHART_ENDS
    assert isinstance(step(other, ev.CarryOn()).walk.pending, CheckStep)


@pytest.mark.parametrize(
    "events",
    [
        (ev.CannotTell(),),
        (ev.TakeUp("signal/weather"), ev.AnswerCheck("no")),
        (ev.Replace("signal/fuse"), ev.Acknowledge(), ev.Retest(gone=False)),
    ],
    ids=["cannot tell", "another check", "a replacement"],
)
def test_whoever_leaves_the_chart_gets_live_advice_and_is_told(events: tuple[ev.Event, ...]) -> None:
    """The walk goes on from the same case."""
    walk, said = _walked(*events)
    assert said[-1] == LEFT
    assert node_of(walk) is None
    assert walk.phase in (Phase.CAUTIONS, Phase.CHECK, Phase.REPAIR, Phase.OVER)
    live = Walk(small(), walk.phase, walk.case, by=walk.by)
    assert charted(live) is None
    assert walk.pending is not None or walk.reason is not None


def test_undo_leads_back_to_the_chart() -> None:
    """What took the walk off the chart is taken back."""
    walk, _ = _walked(ev.CannotTell())
    back = step(walk, ev.Undo())
    assert back.walk.pending == CheckStep("signal/click")
    assert words(back.walk) == "chart, step 1"
    again = step(back.walk, ev.AnswerCheck("silence"))
    assert again.walk.pending == CheckStep("signal/supply-seen")
    assert LEFT not in again.said


def test_a_replacement_of_the_chart_is_followed_until_the_symptom_is_gone() -> None:
    """A chart that restores asks for replacements; gone is gone, whatever the chart says."""
    walk, _ = _walked(one=repairs())
    assert walk.pending == RepairStep("signal/fuse")
    gone, _ = _walked(ev.Acknowledge(), ev.Retest(gone=True), one=repairs())
    assert gone.reason is Reason.RESTORED
    still, _ = _walked(ev.Acknowledge(), ev.Retest(gone=False), one=repairs())
    assert still.reason is Reason.CHART_ENDS


def test_a_chart_of_other_reports_is_not_followed() -> None:
    """The case decides what is asked."""
    walk = step(start(small(), chart=replace(chart(), symptoms=("signal/doubly-bad",))), ev.Begin((DARK,))).walk
    assert charted(walk) is None


def test_a_saved_case_is_taken_up_on_the_chart() -> None:
    """The chart is no part of what is saved; it is given anew and found by the answers."""
    walk, _ = _walked(ev.AnswerCheck("silence"))
    taken = step(start(small(), chart=chart()), ev.Resume(saved.pack(walk))).walk
    onward = step(taken, ev.Acknowledge()).walk
    assert onward.pending == CheckStep("signal/supply-seen")


def test_leaving_is_told_once() -> None:
    """Only the step that leaves it."""
    case = Case.open(small(), [DARK])
    on = Walk(small(), Phase.CHECK, case, chart=chart())
    off = replace(on, case=case.cannot_tell("click"))
    assert left(on, off)
    assert not left(off, replace(off, case=case.cannot_tell("click").cannot_tell("weather")))
    assert not left(on, on)
    assert not left(on, replace(on, case=case.answer("click", "silence")))
    assert Reply("signal/click", None) in off.open_case.steps


def test_a_step_of_a_chart_is_a_step_of_the_walk() -> None:
    nodes = (chart().root, repairs().root)
    assert [step_of(node) for node in nodes] == [CheckStep("signal/click"), RepairStep("signal/fuse")]  # type: ignore[arg-type]  # both are steps


def test_a_crew_part_hands_over_with_what_comes_next() -> None:
    """Whoever goes on reads with what."""
    walk, _ = _walked(ev.Acknowledge(), ev.Retest(gone=False), one=repairs())
    shown = prompt(walk)
    assert isinstance(shown, EndPrompt)
    assert "By the chart: Continue in the shop with: test the relay on the bench." in shown.handover
    assert says(start(small())) == ""


def test_a_walk_on_a_chart_is_written_down_and_replayed_on_it() -> None:
    """Without the chart other steps would be on view."""
    walk, record = start(small(), chart=chart()), Transcript(chart=chart())
    for event in (ev.Begin((DARK,)), ev.Acknowledge(), ev.AnswerCheck("silence"), ev.Acknowledge(), ev.CannotTell()):
        walk, record = advance(walk, record, event)
    assert replay(small(), record) == replace(walk, chart=record.chart)
    with pytest.raises(CaseError, match="goes otherwise"):
        replay(small(), replace(record, chart=None))
