"""A step as it is put to a person: everything needed before doing it, and what each answer would leave."""

from __future__ import annotations

import re

import pytest

from faultree.walk import events as ev
from faultree.walk.effort import Effort
from faultree.walk.machine import start, step
from faultree.walk.prompt import CheckView, Choice, RepairView, StepPrompt
from faultree.walk.state import Walk
from faultree.walk.view import prompt
from tests.trees.demonstration import library
from tests.walk.small import asked, walked


def _shown(walk: Walk) -> StepPrompt:
    shown = prompt(walk)
    assert isinstance(shown, StepPrompt)
    return shown


def _check(*events: ev.Event) -> CheckView:
    view = _shown(walked(*events)).step
    assert isinstance(view, CheckView)
    return view


def _repair(*events: ev.Event) -> RepairView:
    view = _shown(walked(*events)).step
    assert isinstance(view, RepairView)
    return view


def _answers(walk: Walk) -> dict[str, Choice]:
    return {choice.detail: choice for choice in _shown(walk).choices if choice.kind == "answer"}


def test_a_check_carries_what_its_author_wrote() -> None:
    """Question, situation, manual, tools, note and who can do it."""
    check = _check(ev.TakeUp("voltage"))
    assert check.ask == "Is there voltage at the lamp?"
    assert check.situation == "power on and the button pressed"
    assert (check.manual, check.tools, check.by) == ("SM 33-43", ("multimeter",), "line")
    assert check.note == "Press the button during the measurement."


def test_what_a_step_takes_holds_access_to_open_and_the_operational_check() -> None:
    """Ten minutes for the check and fifteen for the panel; five more behind a repair, the panel only once."""
    check = _check(ev.TakeUp("voltage"))
    assert check.effort == Effort(10, 15)
    assert [(one.title, one.minutes, one.open) for one in check.access] == [("take the left panel off", 15, False)]
    assert _repair(ev.Replace("lamp")).effort == Effort(20, 15, 5)
    opened = _repair(*asked("voltage", "no"), ev.Replace("lamp"))
    assert opened.effort == Effort(20, 0, 5)
    assert opened.access[0].open


def test_the_items_that_a_check_tells_apart_are_named_with_their_places() -> None:
    """The voltage tells the lamp from what stands before it."""
    places = dict(_check(ev.TakeUp("voltage")).places)
    assert places["signal lamp"] == "left panel"
    assert _check(ev.TakeUp("weather")).places == ()


@pytest.mark.parametrize(
    ("check", "why"),
    [
        (
            "voltage",
            "It tells apart: signal relay stuck open, signal fuse blown and 1 more; and signal lamp broken.",
        ),
        (
            "supply-seen",
            "It tells apart: signal lamp broken, signal relay stuck open and 1 more; and signal fuse blown.",
        ),
        ("weather", "It tells nothing about the suspects."),
    ],
)
def test_why_a_check_is_proposed_is_one_sentence(check: str, why: str) -> None:
    """The suspects that it tells from each other, the heaviest group first."""
    assert _check(ev.TakeUp(check)).why == why


def test_the_figures_of_a_check_are_the_engines() -> None:
    """Bits, and minutes to restoration if it is done next."""
    walk = walked(ev.TakeUp("voltage"))
    check = _check(ev.TakeUp("voltage"))
    advice = next(one for one in walk.open_case.advice() if one.check == "signal/voltage")
    assert check.expected_minutes == advice.expected_minutes
    assert check.bits == advice.bits


def test_every_answer_says_what_it_would_leave() -> None:
    """The figures are those of the case after the answer."""
    walk = walked(ev.TakeUp("voltage"), ev.Acknowledge())
    for answer, choice in _answers(walk).items():
        after = walk.open_case.answer("voltage", answer)
        assert choice.leaves is not None
        assert choice.leaves.first[0][1] == pytest.approx(after.ranking()[0].probability)
    yes, no = (_answers(walk)[answer].leaves for answer in ("yes", "no"))
    assert yes
    assert no
    assert yes.probability + no.probability == pytest.approx(1.0)
    assert yes.excluded == 3
    assert no.excluded == 0


def test_the_answers_of_the_author_are_offered_in_order_and_cannot_tell_last() -> None:
    """Not being able to tell is always a possible reply."""
    choices = _shown(walked(ev.TakeUp("click"))).choices
    assert [choice.text for choice in choices[:3]] == ["Nothing", "One clear click", "I cannot tell"]


def test_an_answer_that_cannot_come_says_so() -> None:
    """Its probability is nothing, and it leaves nobody."""
    walk = walked(*asked("voltage", "yes"), ev.TakeUp("bench"))
    leaves = _answers(walk)["yes"].leaves
    assert leaves is not None
    assert leaves.probability == 0.0
    assert leaves.first == ()


def test_a_replacement_names_its_suspects_and_the_retest() -> None:
    """What is wrong with it, where it is, and that the operational check follows."""
    repair = _repair(ev.Replace("relay"))
    assert [line.title for line in repair.causes] == ["signal relay stuck open", "signal relay welded closed"]
    assert (repair.place, repair.manual) == ("bay shelf 2", "SM 33-42")
    assert list(repair.retests) == [("the signal lamp stays dark", 5.0)]
    assert [choice.text for choice in _shown(walked(ev.Replace("relay"), ev.Acknowledge())).choices[:2]] == [
        "The symptom is gone",
        "The symptom is still there",
    ]


def test_a_cause_without_an_item_can_be_put_right_too() -> None:
    """The wire has minutes and a manual reference of its own."""
    repair = _repair(ev.Replace("wire-broken"))
    assert (repair.title, repair.effort.work, repair.manual) == ("signal wire broken", 60, "SM 33-49")


def test_cautions_are_shown_and_those_read_are_marked() -> None:
    """The question still shows the cautions that were acknowledged for it."""
    assert [one.read for one in _check(ev.TakeUp("voltage")).cautions] == [False] * 4
    assert [one.read for one in _check(ev.TakeUp("voltage"), ev.Acknowledge()).cautions] == [True] * 4


def test_other_steps_are_flagged_where_cautions_apply() -> None:
    """Whoever chooses another step sees beforehand that it has cautions."""
    flags = {choice.text: choice.cautions for choice in _shown(walked()).choices if choice.kind in ("check", "replace")}
    assert flags["look at the supply light"] is True
    assert all(isinstance(flag, bool) for flag in flags.values())


def test_a_report_from_the_air_says_that_the_ground_may_not_show_it() -> None:
    """Where no check on the aircraft is made in the situation of the report, that situation is named."""
    walk = start(library())
    for event in (ev.Begin(("flaps-slow",)), ev.Acknowledge(), ev.Replace("flap-filter")):
        walk = step(walk, event).walk
    view = _shown(walk).step
    assert isinstance(view, RepairView)
    assert view.away == ("approach with landing flaps selected and the lever armed",)
    assert _repair(ev.Replace("lamp")).away == ()


@pytest.mark.parametrize(
    ("report", "last"), [("panel-floats", "actuator of the right inboard flight panel"), ("stay-down", r"and \d+ more")]
)
def test_of_many_parts_a_few_are_named_and_the_rest_counted(report: str, last: str) -> None:
    """Nobody is to think that the three that are named are all that an answer speaks of."""
    walk = start(library())
    for event in (ev.Begin((report,)), ev.Acknowledge()):
        walk = step(walk, event).walk
    view = _shown(walk).step
    assert isinstance(view, CheckView)
    assert len(view.places) == 4
    assert re.fullmatch(last, view.places[-1][0])
