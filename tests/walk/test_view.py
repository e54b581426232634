"""From state to prompt: every choice of a screen has a number and an event."""

from __future__ import annotations

import pytest

from faultree.walk import events as ev
from faultree.walk.machine import start
from faultree.walk.prompt import (
    ClosedPrompt,
    ConflictPrompt,
    EndPrompt,
    ListPrompt,
    NoticePrompt,
    ReportPrompt,
    StepPrompt,
)
from faultree.walk.view import event_of, prompt
from tests.walk.small import DARK, asked, small, walked

CLASH = (*asked("voltage", "yes"), *asked("bench", "yes"))


def test_the_reports_are_listed_by_system() -> None:
    """Every symptom of the library can be chosen by its number."""
    shown = prompt(start(small()))
    assert isinstance(shown, ReportPrompt)
    assert [system.title for system in shown.systems] == ["Landing signal"]
    assert event_of(shown, 1) == ev.Begin((DARK,))
    assert event_of(shown, 0) is None
    assert event_of(shown, 4) is None


def test_the_notice_shows_the_report_the_authority_and_what_was_done() -> None:
    """Whoever takes up a case reads what others found."""
    from faultree.walk import saved
    from faultree.walk.machine import step

    data = saved.pack(walked(*asked("voltage", "no"), ev.Note("plug loose")))
    shown = prompt(step(start(small()), ev.Resume(data)).walk)
    assert isinstance(shown, NoticePrompt)
    assert shown.reported[0].title == "the signal lamp stays dark"
    assert shown.authorities == (("Landing signal", "SM 33, invented"),)
    assert shown.steps == (("measure the voltage at the lamp: Is there voltage at the lamp?", "No"),)
    assert shown.remarks == ("plug loose",)


def test_a_step_counts_from_one_and_keeps_the_time() -> None:
    """The minutes are those of the case."""
    shown = prompt(walked(*asked("voltage", "no")))
    assert isinstance(shown, StepPrompt)
    assert (shown.number, shown.minutes) == (2, 25)


def test_the_list_holds_every_telling_check_and_every_suspected_unit() -> None:
    """Most bits first, likeliest first; what tells nothing or is faint is counted."""
    shown = prompt(walked(ev.ShowAll()))
    assert isinstance(shown, ListPrompt)
    bits = [choice.bits for choice in shown.choices if choice.kind == "check" and choice.bits is not None]
    assert bits == sorted(bits, reverse=True)
    assert len(bits) == 4
    assert shown.silent == 1  # the weather
    units = [choice.detail for choice in shown.choices if choice.kind == "replace"]
    assert units == ["signal/lamp", "signal/relay", "signal/fuse", "signal/wire-broken"]
    assert event_of(shown, 1) == ev.Back()


def test_a_contradiction_offers_every_answer_in_it_likeliest_wrong_first() -> None:
    """The order is the case's; the newest is marked."""
    walk = walked(*CLASH)
    shown = prompt(walk)
    assert isinstance(shown, ConflictPrompt)
    assert walk.conflict is not None
    assert [choice.event for choice in shown.choices] == [ev.LookAgain(one[0]) for one in walk.conflict.steps]
    assert [choice.detail for choice in shown.choices].count("newest") == 1
    assert shown.alone is False


def test_a_contradiction_says_what_believing_each_answer_would_mean() -> None:
    """If the voltage was misread the relay is likeliest; if the bench test was wrong it is the lamp."""
    choices = {choice.event: choice.if_wrong for choice in prompt(walked(*CLASH)).choices}
    voltage, bench = choices[ev.LookAgain("signal/voltage")], choices[ev.LookAgain("signal/bench")]
    assert voltage is not None
    assert bench is not None
    assert bench[0] == "signal lamp broken"
    assert bench[1] == pytest.approx(1.0)
    assert voltage[0] in ("signal relay stuck open", "signal fuse blown")
    assert voltage[1] == pytest.approx(walked(*asked("bench", "yes")).open_case.ranking()[0].probability)


def test_the_other_phases_have_their_prompts() -> None:
    """An ending sums up; a closed walk says whether something was lost."""
    assert isinstance(prompt(walked(ev.Finish())), EndPrompt)
    closed = prompt(walked(ev.Note("x"), ev.Quit()))
    assert isinstance(closed, ClosedPrompt)
    assert closed.unsaved
