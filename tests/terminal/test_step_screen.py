"""The screen of a step: all that a check or a replacement needs, and what the last answer changed."""

from __future__ import annotations

from dataclasses import replace

from rich.console import RenderableType

from faultree.terminal.look import Page
from faultree.terminal.step_screen import change_words, draw_step, reminder
from faultree.walk import events as ev
from faultree.walk.prompt import Change, RepairView, StepPrompt
from faultree.walk.view import prompt
from tests.terminal.drawn import as_shown
from tests.walk.small import asked, walked


def _step(*events: ev.Event) -> StepPrompt:
    shown = prompt(walked(*events))
    assert isinstance(shown, StepPrompt)
    return shown


def _flat(part: RenderableType) -> str:
    return " ".join(as_shown(part).split())


def _drawn(*events: ev.Event) -> str:
    return _flat(draw_step(_step(*events), Page(80, True)))


def test_the_step_screen_has_all_that_a_check_needs() -> None:
    """Suspects, question, set-up, access, place, manual, tools, minutes, who, and what each answer would leave."""
    flat = _drawn(ev.TakeUp("voltage"))
    for words in (
        "Step 1: the signal lamp stays dark",
        "A Signal lamp broken",
        "Next check: measure the voltage at the lamp",
        "Takes 25 min, 15 min of it for access; on the aircraft",
        "When Power on and the button pressed",
        "Access Take the left panel off (15 min)",
        "Parts signal lamp (left panel)",
        "Tools Multimeter",
        "Manual SM 33-43",
        "Note Press the button during the measurement.",
        "CAUTION Do not look into the lamp. It dazzles for minutes.",
        "Or something else first:",
    ):
        assert words in flat


def test_an_answer_shows_what_it_changed() -> None:
    """The outcome, who is excluded, and how each suspect moved."""
    flat = _drawn(*asked("click", "silence"))
    assert "Done: listen to the relay: What do you hear? Found: Nothing" in flat
    assert "up from 24 %" in flat
    assert "down from 48 %" in flat


def test_an_answer_that_excludes_names_whom() -> None:
    """Voltage at the lamp clears fuse, relay and wire; carrying on shows that."""
    flat = _drawn(*asked("voltage", "yes"), ev.TakeUp("click"))
    excluded = flat.partition("Now excluded: ")[2].partition("Suspects")[0]
    for words in ("signal fuse blown", "signal relay stuck open", "signal wire broken"):
        assert words in excluded


def test_a_step_that_changes_nothing_says_so() -> None:
    """Nobody has to compare the numbers."""
    assert "Found: Cannot tell That changes no suspect." in _drawn(ev.TakeUp("click"), ev.CannotTell())


def test_access_that_is_open_is_said_to_be() -> None:
    """Nobody takes the panel off twice."""
    flat = _drawn(*asked("voltage", "no"), ev.Replace("lamp"))
    assert "Access Done already: take the left panel off" in flat


def test_a_replacement_says_what_for_and_what_comes_after() -> None:
    """Its suspects, its place and manual, and the operational check with its minutes."""
    flat = _drawn(ev.Replace("relay"), ev.Acknowledge())
    for words in (
        "To put right next: signal relay",
        "Possibly at fault (signal relay stuck open 24 % and signal relay welded closed <0.1 %).",
        "Takes 45 min, 5 min of it for the operational check",
        "Where Bay shelf 2",
        "Manual SM 33-42",
        "Then Repeat the operational check and see whether it still holds: the signal lamp stays dark (5 min).",
        "When that is done and the operational check repeated: is the symptom gone?",
    ):
        assert words in flat


def test_the_question_can_be_shown_alone_and_in_short() -> None:
    """Below its cautions, and after a remark."""
    shown = _step(ev.TakeUp("voltage"), ev.Acknowledge())
    brief = _flat(draw_step(shown, Page(80, True), brief=True))
    assert "Suspects" not in brief
    words = "Measure the voltage at the lamp. Is there voltage at the lamp? 1 Yes"
    assert brief.startswith(words)
    assert _flat(reminder(shown)) == f"{words}, 2 No, 3 I cannot tell"


def test_the_question_names_its_step_where_the_head_may_be_out_of_sight() -> None:
    """Below the cautions that were just read, and after a help text: what is asked about stands beside the question."""
    shown = _step(ev.TakeUp("voltage"), ev.Acknowledge())
    words = "Measure the voltage at the lamp. Is there voltage at the lamp?"
    assert words in _flat(draw_step(shown, Page(80, True), brief=True))
    assert words in _flat(reminder(shown))
    assert _flat(reminder(_step(ev.TakeUp("voltage")))).startswith("Before you start, read the cautions above.")
    assert "Put right: signal fuse. When that is done" in _flat(reminder(_step(ev.Replace("fuse"), ev.Acknowledge())))


def test_an_answer_that_does_not_fit_is_told_as_such() -> None:
    """It moved nobody, and it was hardly to be expected: then somebody is mistaken."""
    change = Change("ask about the light", "The light was off", (), moved=False, unlikely=0.05)
    said = _flat(change_words(change))
    assert "it does not fit: it had a chance of 5.0 %. Ask again; the answer may be mistaken, or the report." in said


def test_where_the_ground_may_not_show_it_the_repair_says_so() -> None:
    shown = _step(ev.Replace("fuse"), ev.Acknowledge())
    assert isinstance(shown.step, RepairView)
    seen = replace(shown, step=replace(shown.step, away=("approach",)))
    words = "It was seen in: approach. What cannot be shown on the ground: type can't tell."
    assert words in _flat(draw_step(seen, Page(80, True)))
    assert "What cannot be shown on the ground" not in _flat(draw_step(shown, Page(80, True)))
