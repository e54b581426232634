"""A real process at a real terminal is broken off in every way; whatever it had shown as answered is kept."""

from __future__ import annotations

import os
import re
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from time import sleep

import pytest

from faultree.terminal import files
from tests.walk.small import SIGNAL

if sys.platform == "win32":
    pytest.skip("needs the terminals of POSIX", allow_module_level=True)

from tests.terminal.ptys import PROGRAM, Terminal, terminal

ANSWERS = ("1", "check supply-seen", "ok", "yes", "note seal worn", "check bench", "ok", "can't tell")
"""Lines behind the notice: three steps and a note."""

STEPS = [("signal/click", "silence"), ("signal/supply-seen", "yes"), ("signal/bench", None)]


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """A folder whose `trees` hold the small library, and beside it the folder for kept walks."""
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    return tmp_path


@contextmanager
def _walk(here: Path, *arguments: str) -> Iterator[Terminal]:
    environ = {"FAULTREE_STATE": str(here / "state"), "NO_COLOR": "1"}
    with terminal([*PROGRAM, "walk", *arguments], folder=here, environ=environ) as shown:
        yield shown


def _kept(here: Path) -> list[dict[str, object]]:
    return [files.load(path) for path in sorted((here / "state" / "walks").glob("*.yaml"))]


def _steps(data: dict[str, object]) -> list[tuple[object, object]]:
    steps = data["steps"]
    assert isinstance(steps, list)
    return [(one["check"], one["answer"]) for one in steps]


def _begun(shown: Terminal) -> None:
    shown.wait("Type ok >")
    shown.type("ok\n")
    shown.wait("Your answer >")


def _type(shown: Terminal, line: str) -> None:
    """Type a line, and wait until the next one is asked for."""
    before = shown.text.count(" > ")
    shown.type(f"{line}\n")
    shown.wait(" > ", before + 1)


@pytest.mark.parametrize("count", [1, 5, 8])
def test_what_was_shown_as_answered_survives_kill_9(here: Path, count: int) -> None:
    """At the moment when the screen tells what an answer changed, it is on the disk; the next walk offers it."""
    with _walk(here, "dark") as shown:
        _begun(shown)
        for line in ANSWERS[:count]:
            _type(shown, line)
        os.kill(shown.process.pid, signal.SIGKILL)
        shown.process.wait()
    (data,) = _kept(here)
    assert _steps(data) == STEPS[: {1: 1, 5: 2, 8: 3}[count]]
    assert ("walk" in data) == (count >= 5)
    with _walk(here) as shown:
        shown.wait("Take up >")
        shown.type("1\n")
        text = shown.wait("Type ok >")
        assert "Listen to the relay: What do you hear? Nothing" in text
        assert ("seal worn" in text) == (count >= 5)


@pytest.mark.parametrize("delay", [0.03, 0.15])
def test_killed_while_it_works_nothing_is_half_written(here: Path, delay: float) -> None:
    """All lines are typed ahead and the process is killed somewhere in between: what it had shown is kept."""
    with _walk(here, "dark") as shown:
        _begun(shown)
        shown.type("".join(f"{line}\n" for line in ANSWERS))
        sleep(delay)
        os.kill(shown.process.pid, signal.SIGKILL)
        text = shown.drain()
    answered = len(set(re.findall(r"^Done: (.+)$", text, re.MULTILINE)))
    found = _kept(here)
    steps = _steps(found[0]) if found else []
    assert steps == STEPS[: len(steps)]
    assert len(steps) >= answered


def _hang_up(shown: Terminal) -> None:
    os.kill(shown.process.pid, signal.SIGHUP)
    shown.process.wait(20)


def _end_of_input(shown: Terminal) -> None:
    assert shown.leave("\x04") == 0
    assert "this is where the case stands" in shown.text
    assert "The case is kept as it is" in shown.text


def _interrupt_twice(shown: Terminal) -> None:
    shown.type("x")
    shown.wait(" > x")
    shown.press("\x03", "Interrupted. The case is kept as it is")
    shown.press("\x03", "Left.")
    shown.leave()


def _terminate(shown: Terminal) -> None:
    os.kill(shown.process.pid, signal.SIGTERM)
    shown.process.wait(20)


def _quit(shown: Terminal) -> None:
    shown.type("quit\n")
    assert shown.leave() == 0
    assert "The case is kept as it is" in shown.text


@pytest.mark.parametrize("leave", [_hang_up, _end_of_input, _interrupt_twice, _terminate, _quit])
def test_a_walk_that_is_left_without_saving_is_kept(here: Path, leave: Callable[[Terminal], None]) -> None:
    """A closed terminal, the end of input, Ctrl-C twice, a terminated process, and a plain quit."""
    with _walk(here, "dark") as shown:
        _begun(shown)
        _type(shown, "1")
        assert "Found: Nothing" in shown.text
        leave(shown)
    assert [_steps(data) for data in _kept(here)] == [STEPS[:1]]


def test_a_terminal_that_is_closed_ends_the_walk_and_loses_nothing(here: Path) -> None:
    """The far end goes away, as when a window is closed or a line is cut."""
    with _walk(here, "dark") as shown:
        _begun(shown)
        _type(shown, "1")
        assert "Found: Nothing" in shown.text
        shown.close()
        shown.process.wait(20)
    assert [_steps(data) for data in _kept(here)] == [STEPS[:1]]


def test_two_walks_at_once_do_not_touch_each_other(here: Path) -> None:
    """Each has a file of its own, and a walk that is going on is not offered to anybody."""
    with _walk(here, "dark") as first:
        _begun(first)
        first.type("1\n")
        first.wait("Found: Nothing")
        with _walk(here, "dark") as second:
            second.wait("Type ok >")
            assert "Kept" not in second.text
            assert "Take up" not in second.text
            second.type("ok\n")
            second.wait("Your answer >")
            second.type("2\n")
            second.wait("Found: One clear click")
            assert {_steps(data)[0][1] for data in _kept(here)} == {"click", "silence"}
            second.type("save mine\n")
            second.wait("Saved in mine.yaml")
            second.type("quit\n")
            assert second.leave() == 0
        assert [_steps(data) for data in _kept(here)] == [STEPS[:1]]
        first.type("undo\n")
        first.wait("Taken back")
        assert _kept(here) == []
