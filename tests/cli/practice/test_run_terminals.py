"""A real process at a real terminal of 80 columns: by keyboard, left, killed with -9 in mid-run, and taken up."""

from __future__ import annotations

import json
import os
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from tests.terminal.drawn import cells

if sys.platform == "win32":
    pytest.skip("needs the terminals of POSIX", allow_module_level=True)

from tests.terminal.ptys import PROGRAM, Terminal, terminal

EXERCISE = ("practice", "--exercise", "e.json", "--learner", "ada")
ASK = "Practice > "


@contextmanager
def at_terminal(here: Path, *arguments: str, **environ: str) -> Iterator[Terminal]:
    chosen = {"FAULTREE_JOURNAL": str(here / "j.sqlite"), **environ}
    with terminal([*PROGRAM, *arguments], folder=here, environ=chosen) as shown:
        yield shown


def typed(shown: Terminal, *lines: str) -> None:
    """Type lines, each when the one before has been answered."""
    for line in lines:
        before = shown.text.count(ASK)
        shown.type(f"{line}\n")
        shown.wait(ASK, before + 1)


@pytest.fixture
def exercise(here: Path) -> Path:
    """An exercise with a dead motor, set by a process of its own."""
    from tests.cli.practice.runs import set_motor

    set_motor()
    return here


def test_a_whole_run_by_keyboard_in_colour(exercise: Path) -> None:
    """Checks by number, a caution, undo, help, the repair, the mark; no line is wider than the screen."""
    with at_terminal(exercise, *EXERCISE) as shown:
        shown.wait(ASK)
        typed(shown, "checks", "2", "ok", "undo", "help", "1")
        shown.type("replace motor\n")
        assert shown.leave() == 0
        text = shown.text
    assert b"\x1b[" in shown.raw
    for words in ("WARNING The gate moves", "Taken back", "What can be typed", "The symptom is gone. Mark:"):
        assert words in " ".join(text.split())
    assert max(cells(line) for line in text.splitlines()) <= 80


def test_without_colour_nothing_but_text_is_written(exercise: Path) -> None:
    with at_terminal(exercise, *EXERCISE, NO_COLOR="1") as shown:
        shown.wait(ASK)
        typed(shown, "gauge", "ok", "listen")
        shown.type("replace motor\n")
        assert shown.leave() == 0
    assert b"\x1b[3" not in shown.raw  # no colour is chosen; the line editor may switch its own modes
    assert b"\x1b[1m" not in shown.raw
    assert "The symptom is gone. Mark:" in shown.text


@pytest.mark.parametrize("count", [0, 1, 3])
def test_kill_9_in_mid_run_loses_nothing_that_was_answered(exercise: Path, count: int) -> None:
    """Killed after so many steps, the run is offered again and stands where it was."""
    steps = (("listen",), ("gauge", "ok"), ("mat",))[:count]
    with at_terminal(exercise, *EXERCISE, NO_COLOR="1") as shown:
        shown.wait(ASK)
        for lines in steps:
            typed(shown, *lines)
        shown.type("replace mo")  # the answer under way is lost, and nothing else
        os.kill(shown.process.pid, signal.SIGKILL)
        shown.process.wait()
    with at_terminal(exercise, "practice", "--learner", "ada", NO_COLOR="1") as shown:
        shown.wait("Go on > ")
        shown.type("\n")
        shown.wait(ASK)
        for words in ("Listen to the motor: No", "Read the gauge: No", "Look at the door mat: No")[:count]:
            assert words in shown.text
        shown.type("replace motor\n")
        assert shown.leave() == 0
        assert "The symptom is gone. Mark:" in shown.text
    from tests.cli.practice.runs import good

    found = json.loads(good("progress", "--journal", "j.sqlite", "--learner", "ada", "--json"))
    (kept,) = found["runs"]
    assert kept["steps"] == count + 1


def test_a_caution_that_was_on_view_is_on_view_again(exercise: Path) -> None:
    with at_terminal(exercise, *EXERCISE, NO_COLOR="1") as shown:
        shown.wait(ASK)
        typed(shown, "gauge")
        os.kill(shown.process.pid, signal.SIGKILL)
        shown.process.wait()
    with at_terminal(exercise, "practice", "--resume", "--learner", "ada", NO_COLOR="1") as shown:
        shown.wait(ASK)
        assert "WARNING The gate moves" in shown.text
        typed(shown, "ok")
        assert "Found: No" in shown.text


def test_killed_between_the_last_step_and_its_mark_a_run_gets_its_mark(exercise: Path) -> None:
    """The last event is kept before the result is worked out; taken up, the result comes at once."""
    from sqlalchemy import create_engine, text

    from tests.cli.practice.runs import BEST, good

    good(*EXERCISE[1:], "--journal", "j.sqlite", lines=BEST)
    engine = create_engine(f"sqlite:///{exercise / 'j.sqlite'}")
    with engine.begin() as connection:
        connection.execute(text("UPDATE runs SET finished = NULL, mark = NULL, summary = '{}'"))
    engine.dispose()
    assert "Mark: 100 of 100" in good("--resume", "--learner", "ada", "--journal", "j.sqlite")
    assert "100" in good("progress", "--learner", "ada", "--journal", "j.sqlite")


@pytest.mark.parametrize("keys", ["\x04", "\x03"])
def test_a_run_is_left_by_a_key(exercise: Path, keys: str) -> None:
    with at_terminal(exercise, *EXERCISE, NO_COLOR="1") as shown:
        shown.wait(ASK)
        typed(shown, "listen")
        shown.press(keys, "'faultree practice --resume --learner ada' takes it up.")
        assert shown.leave() == 0


def test_who_begins_anew_keeps_what_was_left(exercise: Path) -> None:
    """Whoever does not go on loses nothing; and who asks for another exercise by a number is not asked."""
    with at_terminal(exercise, *EXERCISE, NO_COLOR="1") as shown:
        shown.wait(ASK)
        typed(shown, "listen")
        shown.type("quit\n")
        shown.leave()
    with at_terminal(exercise, "practice", "--learner", "ada", NO_COLOR="1") as shown:
        shown.wait("Go on > ")
        shown.type("n\n")
        shown.wait(ASK)
        assert "It stays kept: 'faultree practice --resume --learner ada' takes it up." in " ".join(shown.text.split())
        assert "Chosen: The gate does not move (not practised yet)." in shown.text
        shown.type("quit\n")
        shown.leave()


def test_who_asks_for_another_exercise_by_its_number_is_not_asked(exercise: Path) -> None:
    with at_terminal(exercise, *EXERCISE, NO_COLOR="1") as shown:
        shown.wait(ASK)
        shown.type("quit\n")
        shown.leave()
    with at_terminal(exercise, "practice", "--seed", "4", "--learner", "ada", NO_COLOR="1") as shown:
        shown.wait(ASK)
        assert "An exercise was left" not in shown.text
    with at_terminal(exercise, "practice", "--learner", "ada", NO_COLOR="1") as shown:
        shown.wait("Go on > ")
        shown.type("quit\n")
        assert shown.leave() == 0
