"""The machine by tables of events: what each event leads to, and what it refuses."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.belief.evidence import Repair, Reply
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.state import CheckStep, Explained, Reason, Refused, RepairStep, Told
from faultree.walk.table import Phase
from tests.walk.small import DARK, asked, small, walked

VOLTAGE, BENCH, CLICK, SUPPLY = "signal/voltage", "signal/bench", "signal/click", "signal/supply-seen"
LAMP, RELAY, FUSE, WIRE = "signal/lamp", "signal/relay", "signal/fuse", "signal/wire-broken"

GOOD = asked(VOLTAGE, "yes")
CLASH = (*GOOD, *asked(BENCH, "yes"))
"""Voltage at the lamp, and a relay or fuse that lets none through: one of the two is wrong."""


@pytest.mark.parametrize(
    ("events", "phase"),
    [
        ((), Phase.CHECK),
        ((ev.TakeUp(VOLTAGE),), Phase.CAUTIONS),
        ((ev.TakeUp(VOLTAGE), ev.Acknowledge()), Phase.CHECK),
        ((ev.TakeUp("voltage"), ev.Acknowledge()), Phase.CHECK),
        ((ev.Replace(LAMP),), Phase.CAUTIONS),
        ((ev.Replace(LAMP), ev.Acknowledge()), Phase.REPAIR),
        ((ev.Replace("signal/lamp-broken"), ev.Acknowledge()), Phase.REPAIR),
        ((ev.Replace(LAMP), ev.Acknowledge(), ev.Retest(gone=True)), Phase.OVER),
        ((ev.Replace(LAMP), ev.Acknowledge(), ev.Retest(gone=False)), Phase.CHECK),
        (GOOD, Phase.OVER),
        (CLASH, Phase.CONFLICT),
        ((*CLASH, ev.Finish()), Phase.OVER),
        ((*CLASH, ev.Finish(), ev.CarryOn()), Phase.CONFLICT),
        ((ev.ShowAll(),), Phase.LIST),
        ((ev.ShowAll(), ev.Back()), Phase.CHECK),
        ((ev.ShowAll(), ev.TakeUp(VOLTAGE)), Phase.CAUTIONS),
        ((ev.Finish(),), Phase.OVER),
        ((ev.Finish(), ev.CarryOn()), Phase.CHECK),
        ((ev.Finish(), ev.ShowAll(), ev.Back()), Phase.OVER),
        ((ev.Quit(),), Phase.CLOSED),
        ((ev.Note("seal worn"),), Phase.CHECK),
        ((ev.AskWhy(LAMP),), Phase.CHECK),
    ],
)
def test_where_events_lead(events: tuple[ev.Event, ...], phase: Phase) -> None:
    """The phase after a table of events; the case on the dark lamp is open and the notice is read."""
    assert walked(*events).phase is phase


def test_the_notice_comes_first() -> None:
    """A case opens at the notice, and nothing else is possible until it is acknowledged."""
    opened = step(start(small()), ev.Begin((DARK,))).walk
    assert opened.phase is Phase.NOTICE
    turn = step(opened, ev.TakeUp(VOLTAGE))
    assert turn.walk == opened
    assert turn.said == (Refused("Read the notice first and say that you did."),)
    assert step(opened, ev.Acknowledge()).walk.phase is Phase.CHECK


def test_several_reports_open_one_case() -> None:
    """All reports are evidence of the same case."""
    opened = step(start(small()), ev.Begin((DARK, "doubly-bad"))).walk
    assert opened.open_case.symptoms == (DARK, "signal/doubly-bad")


@pytest.mark.parametrize(
    ("events", "event", "words"),
    [
        ((), ev.AnswerCheck("perhaps"), "unknown answer"),
        ((), ev.AnswerCheck(""), "unknown answer"),
        ((), ev.TakeUp("volts"), "unknown check"),
        ((), ev.Replace("engine"), "unknown cause"),
        ((), ev.Retest(gone=True), "not possible here"),
        ((), ev.Undo(), "no answer to take back"),
        ((), ev.AskWhy("zebra"), "unknown suspect or check"),
        ((), ev.Note("  "), "note is empty"),
        ((), ev.Begin((DARK,)), "not possible here"),
        ((ev.TakeUp(VOLTAGE),), ev.AnswerCheck("yes"), "cautions first"),
        (CLASH, ev.TakeUp(CLICK), "contradiction first"),
        (CLASH, ev.LookAgain(CLICK), "none of the answers"),
        ((*CLASH, ev.Finish()), ev.Replace(LAMP), "still contradict"),
        ((ev.Replace(FUSE), ev.Acknowledge(), ev.Retest(gone=False)), ev.Replace(FUSE), "replaced already"),
        ((ev.Replace(FUSE), ev.Acknowledge(), ev.Retest(gone=True)), ev.CarryOn(), "symptom is gone"),
        ((ev.Replace(FUSE), ev.Acknowledge(), ev.Retest(gone=True)), ev.Replace(LAMP), "symptom is gone"),
        ((ev.Replace(FUSE), ev.Acknowledge(), ev.Retest(gone=True)), ev.ShowAll(), "symptom is gone"),
        ((ev.Finish(),), ev.Finish(), "over already"),
        ((ev.Quit(),), ev.Undo(), "closed"),
    ],
)
def test_what_is_refused_changes_nothing(events: tuple[ev.Event, ...], event: ev.Event, words: str) -> None:
    """An event that is not possible leaves the state as it was, and is answered in words."""
    before = walked(*events)
    turn = step(before, event)
    assert turn.walk == before
    (said,) = turn.said
    assert isinstance(said, Refused)
    assert words in said.text.casefold() or words in said.text


@pytest.mark.parametrize("symptoms", [(), ("nothing-like-it",), (DARK, "nothing-like-it")])
def test_a_report_that_is_unknown_opens_nothing(symptoms: tuple[str, ...]) -> None:
    """The walk stays at the report and says so."""
    turn = step(start(small()), ev.Begin(symptoms))
    assert turn.walk == start(small())
    assert isinstance(turn.said[0], Refused)


# --- cautions ----------------------------------------------------------------------------------


def test_each_caution_is_acknowledged_once() -> None:
    """What was read before one step is not asked for again before another; what is new, is."""
    read = walked(ev.TakeUp(VOLTAGE), ev.Acknowledge()).read
    assert read == {"signal/live", "signal/dazzle", "signal/edges", "signal/probe"}
    assert walked(ev.TakeUp(VOLTAGE), ev.Acknowledge(), ev.TakeUp(SUPPLY)).phase is Phase.CHECK
    assert walked(ev.TakeUp(VOLTAGE), ev.Acknowledge(), ev.Replace(LAMP)).phase is Phase.CAUTIONS


def test_undo_does_not_ask_for_cautions_again() -> None:
    """What has been read stays read when an answer is taken back."""
    back = walked(*asked(VOLTAGE, "no"), ev.Undo())
    assert (back.phase, back.pending) == (Phase.CHECK, CheckStep(VOLTAGE))


# --- second thoughts ---------------------------------------------------------------------------


@pytest.mark.parametrize("answer", [ev.AnswerCheck("yes"), ev.AnswerCheck("no"), ev.CannotTell()])
def test_undo_returns_to_the_question(answer: ev.Event) -> None:
    """After an answer, undo gives a state equal to the one before it, but that the panel is off by now."""
    before = walked(ev.TakeUp(VOLTAGE), ev.Acknowledge())
    after = step(before, answer).walk
    assert after != before
    back = step(after, ev.Undo()).walk
    assert back.opened == {"signal/panel"}
    assert replace(back, opened=frozenset()) == before


def test_undo_of_a_replacement_returns_to_its_retest() -> None:
    """The same holds for a replacement, whether it helped or not."""
    before = walked(ev.Replace(LAMP), ev.Acknowledge())
    for gone in (True, False):
        back = step(step(before, ev.Retest(gone)).walk, ev.Undo()).walk
        assert replace(back, opened=frozenset()) == before


def test_undo_keeps_notes_and_says_what_it_took_back() -> None:
    """A note that was typed is not lost with an answer."""
    turn = step(walked(*asked(VOLTAGE, "no"), ev.Note("loose plug")), ev.Undo())
    assert [remark.text for remark in turn.walk.remarks] == ["loose plug"]
    assert turn.said == (Told("Taken back: measure the voltage at the lamp: Is there voltage at the lamp? No."),)


def test_a_check_taken_up_again_gives_its_earlier_answer_back() -> None:
    """A check counts once in a case, so taking it up again withdraws what was answered."""
    turn = step(walked(*asked(CLICK, "click")), ev.TakeUp(CLICK))
    assert turn.walk.open_case.steps == ()
    assert turn.walk.pending == CheckStep(CLICK)
    assert turn.said == (Told("Taken back: listen to the relay: One clear click."),)


def test_a_check_that_could_not_be_told_can_be_answered_later() -> None:
    """That nobody could tell changes no suspect and does not close the way back."""
    unknown = walked(ev.TakeUp(CLICK), ev.CannotTell())
    assert unknown.open_case.ranking() == walked().open_case.ranking()
    later = step(step(unknown, ev.TakeUp(CLICK)).walk, ev.AnswerCheck("click")).walk
    assert later.open_case.steps == (Reply(CLICK, "click"),)


# --- contradictions ----------------------------------------------------------------------------


def test_a_contradiction_names_the_answers_and_keeps_them() -> None:
    """The newest answer is not part of the case, yet it is kept beside it."""
    clash = walked(*CLASH)
    assert clash.conflict is not None
    assert clash.conflict.newest == Reply(BENCH, "yes")
    assert set(clash.conflict.steps) == {Reply(VOLTAGE, "yes"), Reply(BENCH, "yes")}
    assert clash.open_case.steps == (Reply(VOLTAGE, "yes"),)


def test_looking_again_at_an_older_answer_keeps_the_newest() -> None:
    """The answer that is looked at again is asked anew; the others stand, and nothing typed is lost."""
    again = walked(*CLASH, ev.LookAgain(VOLTAGE))
    assert again.pending == CheckStep(VOLTAGE)
    assert again.open_case.steps == (Reply(BENCH, "yes"),)
    assert again.withdrawn == (Reply(VOLTAGE, "yes"),)
    assert step(again, ev.AnswerCheck("no")).walk.phase is not Phase.CONFLICT


def test_looking_again_at_the_newest_answer_asks_it_anew() -> None:
    """The case stays as it was before the contradiction."""
    again = walked(*CLASH, ev.LookAgain(BENCH))
    assert again.pending == CheckStep(BENCH)
    assert again.open_case.steps == (Reply(VOLTAGE, "yes"),)
    assert again.conflict is None


def test_undo_withdraws_the_newest_answer() -> None:
    """Undo leads from a contradiction back to the question that led into it."""
    before = walked(*GOOD, ev.TakeUp(BENCH))
    clash = step(before, ev.AnswerCheck("yes")).walk
    assert clash.phase is Phase.CONFLICT
    assert step(clash, ev.Undo()).walk == before


def test_a_replacement_can_contradict_the_answers() -> None:
    """With voltage at the lamp only the lamp can be bad; replaced without effect, one of the two is wrong."""
    clash = walked(*GOOD, ev.Replace(LAMP), ev.Acknowledge(), ev.Retest(gone=False))
    assert clash.phase is Phase.CONFLICT
    assert clash.conflict is not None
    assert Repair(LAMP, gone=False) in clash.conflict.steps
    again = step(clash, ev.LookAgain(VOLTAGE)).walk
    assert again.open_case.steps == (Repair(LAMP, gone=False),)
    assert step(clash, ev.LookAgain(LAMP)).walk.pending == RepairStep(LAMP)


def test_an_older_replacement_can_be_looked_at_again() -> None:
    """A replacement that is doubted leaves the case; the answers after it stay."""
    clash = walked(ev.Replace(LAMP), ev.Acknowledge(), ev.Retest(gone=False), *asked(VOLTAGE, "yes"))
    assert clash.phase is Phase.CONFLICT
    again = step(clash, ev.LookAgain(LAMP)).walk
    assert again.pending == RepairStep(LAMP)
    assert again.open_case.steps == (Reply(VOLTAGE, "yes"),)


def test_an_answer_can_contradict_the_report_alone() -> None:
    """Where both parts are reported bad there cannot be voltage; the answer stands alone against it."""
    walk = start(small())
    for event in (ev.Begin(("signal/doubly-bad",)), ev.Acknowledge(), *asked(VOLTAGE, "yes")):
        walk = step(walk, event).walk
    assert walk.conflict is not None
    assert walk.conflict.steps == (Reply(VOLTAGE, "yes"),)


# --- remarks and endings -----------------------------------------------------------------------


def test_why_is_answered_in_sentences() -> None:
    """For a suspect, an item, a check, and for the step on view where nothing is named."""
    for name in ("", "signal/lamp-broken", LAMP, VOLTAGE):
        (said,) = step(walked(), ev.AskWhy(name)).said
        assert isinstance(said, Explained)
        assert said.sentences


@pytest.mark.parametrize(
    ("events", "reason"),
    [
        (GOOD, Reason.STANDS_OUT),
        ((ev.Finish(),), Reason.WISHED),
        ((*CLASH, ev.Finish()), Reason.UNEXPLAINED),
        ((ev.Replace(FUSE), ev.Acknowledge(), ev.Retest(gone=True)), Reason.RESTORED),
        (
            (*(one for check in (VOLTAGE, BENCH, CLICK, SUPPLY)
               for one in (ev.TakeUp(check), ev.Acknowledge(), ev.CannotTell())),),
            Reason.NOTHING_LEFT,
        ),
    ],
)  # fmt: skip
def test_every_ending_has_its_reason(events: tuple[ev.Event, ...], reason: Reason) -> None:
    """A search ends for one of five reasons."""
    over = walked(*events)
    assert (over.phase, over.reason) == (Phase.OVER, reason)


def test_carrying_on_does_not_end_for_the_same_item_again() -> None:
    """Whoever goes on checking although the fuse stands out is shown checks, not the same ending."""
    over = walked(*asked(SUPPLY, "no"))
    assert over.reason is Reason.STANDS_OUT
    on = step(over, ev.CarryOn()).walk
    assert isinstance(on.pending, CheckStep)
    assert step(on, ev.CannotTell()).walk.reason is not Reason.STANDS_OUT


def test_there_is_no_carrying_on_where_no_check_tells_anything() -> None:
    """With voltage at the lamp only the lamp is left, so no check can change that."""
    (said,) = step(walked(*GOOD), ev.CarryOn()).said
    assert said == Refused("No check that is left can tell more apart.")


def test_saving_marks_the_case_as_saved() -> None:
    """Unsaved work is what came after the last save."""
    walk = walked(*asked(VOLTAGE, "no"))
    assert walk.unsaved
    saved = step(walk, ev.Save("case.yaml")).walk
    assert not saved.unsaved
    assert step(saved, ev.Note("later")).walk.unsaved
    assert step(saved, ev.Undo()).walk.unsaved is False  # nothing is left that could be lost


def test_only_some_checks_are_proposed_where_only_some_people_are_there() -> None:
    """With the crew alone at hand the walk proposes what the crew can tell."""
    walk = walked(by=("crew",))
    assert walk.pending == CheckStep(CLICK)
    assert isinstance(step(walk, ev.CannotTell()).walk.pending, RepairStep | None)


def test_a_crew_is_led_to_no_repair_though_somebody_types_it() -> None:
    asked_for = step(walked(by=("crew",)), ev.Replace("fuse"))
    assert "a crew puts nothing right" in str(asked_for.said[0]).casefold()
    assert step(asked_for.walk, ev.By()).walk.by is None
    assert step(step(asked_for.walk, ev.By()).walk, ev.Replace("fuse")).walk.pending == RepairStep("signal/fuse")
