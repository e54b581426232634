"""What is meant as missing, as there after all, or as closed, from a few typed words."""

from __future__ import annotations

import pytest

from faultree.terminal.meant import Meant, Unclear
from faultree.terminal.typed import understand
from faultree.walk import events as ev
from faultree.walk.state import Walk
from faultree.walk.view import prompt
from tests.terminal.drawn import shown
from tests.walk.small import asked, walked

VOLTAGE = walked(ev.TakeUp("voltage"), ev.Acknowledge())
CLICK = walked(ev.TakeUp("click"))
LACKING = walked(ev.NotToday("tool", "multimeter"), ev.NotToday("access", "signal/panel"), ev.TakeUp("click"))
ENDED = walked(*asked("voltage", "no"), ev.Finish())


def _meant(walk: Walk, line: str) -> Meant:
    return understand(line, prompt(walk), walk)


@pytest.mark.parametrize(
    ("walk", "line", "event"),
    [
        (CLICK, "not today", ev.NotToday("check", "signal/click")),
        (VOLTAGE, "not today this", ev.NotToday("check", "signal/voltage")),
        (VOLTAGE, "not today multi", ev.NotToday("tool", "multimeter")),
        (VOLTAGE, "not available panel", ev.NotToday("access", "signal/panel")),
        (CLICK, "not today multimeter", ev.NotToday("tool", "multimeter")),
        (CLICK, "not today bench", ev.NotToday("check", "signal/bench")),
        (CLICK, "not today fuse", ev.NotToday("unit", "signal/fuse")),
        (LACKING, "available multi", ev.Available("tool", "multimeter")),
        (LACKING, "available all", ev.Available()),
        (CLICK, "available", ev.Available()),
        (ENDED, "closed", ev.Closed("access", "signal/panel")),
        (ENDED, "closed panel", ev.Closed("access", "signal/panel")),
        (ENDED, "closed all", ev.Closed()),
        (CLICK, "cannot duplicate", ev.CannotDuplicate()),
        (CLICK, "CND", ev.CannotDuplicate()),
        (CLICK, "seen again", ev.SeenAgain()),
        (CLICK, "history", ev.AskHistory()),
        (CLICK, "his", ev.AskHistory()),
    ],
)
def test_what_is_clear_is_understood(walk: Walk, line: str, event: ev.Event) -> None:
    """By words of a tool, an access, a check or a part; alone where only one thing can be meant."""
    assert _meant(walk, line) == event


def test_a_number_means_the_step_behind_it() -> None:
    """Check or replacement."""
    choices = prompt(CLICK).choices
    for number, choice in enumerate(choices, 1):
        meant = _meant(CLICK, f"not today {number}")
        if isinstance(choice.event, ev.TakeUp):
            assert meant == ev.NotToday("check", choice.event.check)
        if isinstance(choice.event, ev.Replace):
            assert meant == ev.NotToday("unit", choice.event.unit)


@pytest.mark.parametrize(
    ("walk", "line", "words", "options"),
    [
        (VOLTAGE, "not today", "What is missing?", ("multimeter", "take the left panel off", "this (only this step)")),
        (CLICK, "not today unicorn", "No step needs 'unicorn'.", ()),
        (LACKING, "available", "What is there after all?", ("multimeter", "take the left panel off")),
        (LACKING, "available torch", "What is there after all?", ("multimeter", "take the left panel off")),
        (walked(ev.Finish()), "closed", "Nothing is left open", ()),
        (ENDED, "closed door", "What was closed", ("undo what was done here: take the left panel off",)),
    ],
)
def test_what_is_not_clear_is_asked_back(walk: Walk, line: str, words: str, options: tuple[str, ...]) -> None:
    """With what can be meant."""
    meant = _meant(walk, line)
    assert isinstance(meant, Unclear)
    assert meant.text.startswith(words)
    assert meant.options == options


def test_cannot_alone_is_not_taken_for_either() -> None:
    """Can't tell and can't duplicate are two things."""
    meant = _meant(CLICK, "can't")
    assert isinstance(meant, Unclear)
    assert "can't tell" in meant.text
    assert "can't duplicate" in meant.text


def test_the_screens_say_what_is_left_out_and_how_it_comes_back() -> None:
    """On the step, in the list, and in the hand-over."""
    text = " ".join(shown("ok", "not today multimeter", "all", "back", "finish").split())
    assert "Not today: multimeter. Left out until you type 'available': measure the voltage at the lamp." in text
    assert "Left out today, until you type available: multimeter." in text
    assert "Left out today; the number takes it back" in text
    assert "Multimeter (1 step waits for it)" in text
    assert "Not available, so left out: - Multimeter; waiting for it: measure the voltage at the lamp" in text


def test_the_screens_say_that_the_symptom_could_not_be_seen_again() -> None:
    """On the step, before and after a repair, and in the hand-over."""
    lines = ("ok", "can't duplicate", "show", "replace fuse", "ok", "can't tell", "finish")
    text = " ".join(shown(*lines).split())
    assert "Cannot duplicate: recorded" in text
    assert "The symptom could not be seen again: the report stands, and no figure was changed by that." in text
    assert "That it is away afterwards proves nothing: type can't tell." in text
    assert "Put right: signal fuse: cannot tell whether the symptom is gone" in text
    assert "Looked for the symptom again: - Before the first step it could not be seen again" in text
