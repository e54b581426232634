"""Exercises on a recorded screen, for the tests of practice in the terminal."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace

from faultree.practice.events import Event
from faultree.practice.exercise import Exercise, Mode, begin
from faultree.practice.scenario import Scenario, scenario
from faultree.terminal.look import Look
from faultree.terminal.practice_pump import Practice
from faultree.terminal.pump import Screen
from tests.practice.small import gate
from tests.terminal.drawn import Script


def exercise(*hidden: str, mode: Mode = "coached", **more: object) -> Exercise:
    """An exercise on the small library with these faults hidden; the motor where none is named."""
    made: Scenario = replace(
        scenario(gate(), "still", 1, 1),
        hidden=frozenset(hidden or ("g/motor-dead",)),
        **more,  # type: ignore[arg-type]
    )
    return begin(gate(), made, mode)


def practise(
    begun: Exercise,
    *lines: str,
    width: int = 80,
    plain: bool = True,
    keep: Callable[[Event], str] = lambda event: "",
    clock: Callable[[], float | None] = lambda: None,
) -> tuple[Exercise, str]:
    """The exercise after these lines were typed, and all that was shown."""
    record = io.StringIO()
    made = Practice(begun, Screen(record, Look(plain, width)), Script(lines), keep, clock)
    return made.run(), record.getvalue()
