"""Prompts are frozen values that say everything, so that any face can draw them and a record can keep them."""

from __future__ import annotations

import dataclasses
from typing import get_args

import pytest

from faultree.walk import events as ev
from faultree.walk import prompt as values
from faultree.walk.machine import start
from faultree.walk.table import Phase
from faultree.walk.transcript import plain
from faultree.walk.view import prompt
from tests.walk.small import asked, small, walked

SHOWN = [
    prompt(start(small())),
    *(prompt(walked(*events)) for events in ((), (ev.Replace("lamp"),), (ev.ShowAll(),), (ev.Finish(),), (ev.Quit(),))),
    prompt(walked(*asked("voltage", "yes"), *asked("bench", "yes"))),
]


@pytest.mark.parametrize("shown", SHOWN, ids=lambda shown: str(shown.phase))
def test_a_prompt_cannot_be_changed_and_becomes_plain_data(shown: values.Prompt) -> None:
    """A face cannot alter what the walk says, and a transcript can hold all of it."""
    with pytest.raises(dataclasses.FrozenInstanceError):
        shown.phase = Phase.CLOSED  # type: ignore[misc]  # that is the point
    assert isinstance(shown, get_args(values.Prompt))
    data = plain(shown)
    assert isinstance(data, dict)
    assert data["kind"] == type(shown).__name__


def test_equal_states_give_equal_prompts() -> None:
    """What is shown depends on the state alone."""
    assert prompt(walked(*asked("click", "click"))) == prompt(walked(*asked("click", "click")))


@pytest.mark.parametrize("notice", [values.NOTICE, values.SHORT_NOTICE])
def test_the_notices_say_who_decides(notice: str) -> None:
    """In full and in short."""
    assert "manual and a licensed engineer decide" in notice
