"""A further report joins a case that has begun: every answer is kept, and undo takes it back."""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.strategy.case import Case
from faultree.strategy.chart.compile import compile_chart
from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.further import before, newest
from faultree.walk.machine import start, step
from faultree.walk.prompt import EndPrompt, NoticePrompt, StepPrompt
from faultree.walk.state import Added, CheckStep, Reason, Refused, Told, Walk
from faultree.walk.table import Phase
from faultree.walk.view import prompt
from tests.walk.small import DARK, SIGNAL, asked, small, walked
from tests.walk.test_reported import LAMP

BUTTON = "signal/button-lamp"
ALSO = ev.Also(("button-lamp",))


def _refused(walk: Walk, event: ev.Event) -> str:
    turn = step(walk, event)
    assert turn.walk == walk
    (said,) = turn.said
    assert isinstance(said, Refused)
    return said.text


def test_every_answer_is_kept_and_the_figures_are_those_of_both_reports() -> None:
    """As if both had been reported at once."""
    walk = walked(*asked("click", "silence"), ALSO)
    case = walk.open_case
    assert case.symptoms == (DARK, BUTTON)
    assert case.steps == walked(*asked("click", "silence")).open_case.steps
    expected = Case.open(small(), [DARK, BUTTON]).answer("click", "silence")
    assert case.ranking() == expected.ranking()
    assert walk.added == (Added(1, BUTTON),)


def test_the_walk_goes_on_to_the_best_step_and_says_what_the_report_changed() -> None:
    """In place of an answer there is a report, and the moves are since before it."""
    walk = walked(*asked("supply-seen", "yes"))
    after = step(walk, ALSO)
    assert after.said == (Told("Added: the signal stays dark in the dark. All answers are kept."),)
    shown = prompt(after.walk)
    assert isinstance(shown, StepPrompt)
    assert shown.suspects.change is not None
    assert (shown.suspects.change.title, shown.suspects.change.outcome) == ("the signal stays dark in the dark", "")
    assert shown.suspects.change.moved
    now = {one.cause: one.probability for one in walk.open_case.ranking()}
    assert all(line.before == now[line.cause] for line in shown.suspects.lines)


def test_undo_takes_the_report_back_once_it_is_the_newest() -> None:
    """Answers behind it are taken back first, those before it after it."""
    walk = walked(*asked("supply-seen", "yes"), ALSO, *asked("click", "click"))
    for steps, symptoms in ((1, (DARK, BUTTON)), (1, (DARK,)), (0, (DARK,))):
        turn = step(walk, ev.Undo())
        walk = turn.walk
        assert (len(walk.open_case.steps), walk.open_case.symptoms) == (steps, symptoms)
    assert walk.added == ()


def test_taking_it_back_says_so_and_leaves_what_was() -> None:
    walk = walked(*asked("supply-seen", "yes"))
    turn = step(step(walk, ALSO).walk, ev.Undo())
    assert turn.said == (Told("Taken back: the report “the signal stays dark in the dark”."),)
    assert turn.walk.fingerprint == walk.fingerprint


def test_a_report_at_the_notice_leaves_the_notice_on_view() -> None:
    """Whoever begins still reads it."""
    walk = step(step(start(small()), ev.Begin((DARK,))).walk, ALSO).walk
    shown = prompt(walk)
    assert walk.phase is Phase.NOTICE
    assert isinstance(shown, NoticePrompt)
    assert len(shown.reported) == 2
    assert walk.unsaved


def test_an_end_is_opened_again() -> None:
    """What was likely by one report need not be by both; the hand-over says when the second came in."""
    walk = walked(*asked("supply-seen", "yes"), ev.Finish(), ALSO)
    assert walk.phase is not Phase.OVER
    over = step(walk, ev.Finish()).walk
    shown = prompt(over)
    assert isinstance(shown, EndPrompt)
    assert "- the signal stays dark in the dark (reported after step 1)" in shown.handover


@pytest.mark.parametrize(
    ("events", "words"),
    [
        (
            asked("voltage", "yes"),
            "cannot be true together with these answers: measure the voltage at the lamp: Is there voltage",
        ),
        ((ev.Replace("lamp"), ev.Acknowledge(), ev.Retest(gone=True)), "is a case of its own, or undo takes that back"),
        ((ALSO,), "This case has that report already"),
    ],
)
def test_what_cannot_join_is_refused_and_nothing_changes(events: tuple[ev.Event, ...], words: str) -> None:
    """A contradicting report names the answers that stand against it, and what can be done."""
    assert words in _refused(walked(*events), ALSO)


def test_reports_that_exclude_each_other_are_two_cases() -> None:
    library = load_texts({"lamp.yaml": LAMP})
    walk = step(step(start(library), ev.Begin(("dark",))).walk, ev.Acknowledge()).walk
    said = _refused(walk, ev.Also(("lit",)))
    assert said == (
        "“the lamp is lit” cannot be true together with what was reported (the lamp is dark); it is a case of its own."
    )


def test_no_report_joins_answers_that_contradict_each_other() -> None:
    walk = walked(*asked("voltage", "yes"), *asked("bench", "yes"))
    assert walk.phase is Phase.CONFLICT
    assert "Settle the contradiction first" in _refused(walk, ALSO)
    assert "still contradict each other" in _refused(step(walk, ev.Finish()).walk, ALSO)


def test_an_unknown_report_is_refused() -> None:
    assert "unknown symptom" in _refused(walked(), ev.Also(("no-such",))).casefold()
    assert "no report is named" in _refused(walked(), ev.Also(())).casefold()


def test_a_chart_of_one_report_is_left() -> None:
    """It answers another question; each step is advised anew."""
    chart = compile_chart(small(), [DARK])
    begun = step(step(start(small(), chart=chart), ev.Begin((DARK,))).walk, ev.Acknowledge()).walk
    after = step(begun, ALSO)
    assert "leaves the chart" in str(after.said[-1])
    assert isinstance(after.walk.pending, CheckStep) or after.walk.reason is Reason.STANDS_OUT


# --- saved -------------------------------------------------------------------------------------


def test_it_is_in_the_saved_case_and_can_still_be_taken_back() -> None:
    walk = walked(*asked("supply-seen", "yes"), ALSO)
    data = saved.pack(walk)
    assert data["symptoms"] == [DARK, BUTTON]
    again = saved.unpack(small(), data)
    assert again.fingerprint == walk.fingerprint
    opened = step(again, ev.Acknowledge()).walk
    assert step(opened, ev.Undo()).walk.open_case.symptoms == (DARK,)


def test_a_case_saved_before_there_were_further_reports_still_loads() -> None:
    data = saved.pack(walked(*asked("supply-seen", "yes")))
    assert "walk" not in data
    again = saved.unpack(small(), data)
    assert (again.added, again.by) == ((), None)


@pytest.mark.parametrize("gone", ["button-lamp", "dark"])
def test_a_report_that_left_the_tree_is_kept_once_and_the_other_stays(gone: str) -> None:
    """The one that is left cannot be taken back: a case is never without a report."""
    data = saved.pack(walked(*asked("click", "silence"), ALSO))
    lines = SIGNAL.splitlines(keepends=True)
    if gone == "button-lamp":
        changed = "".join(line for line in lines if "button-lamp:" not in line)
    else:
        changed = SIGNAL.partition("  dark:\n")[0] + "  doubly-bad:" + SIGNAL.partition("  doubly-bad:")[2]
        changed = changed.partition("examples:\n")[0]
    again = saved.unpack(load_texts({"signal.yaml": changed}), data)
    assert len(again.open_case.symptoms) == 1
    assert [one.part for one in again.unfit] == ["symptoms"]
    assert newest(again) is None
    prompt(step(step(again, ev.Acknowledge()).walk, ev.Undo()).walk)


def test_the_case_before_lacks_only_the_last_report() -> None:
    walk = walked(ALSO, ev.Also(("doubly-bad",)))
    assert before(walk).symptoms == (DARK, BUTTON)
