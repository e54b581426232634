"""A debrief is killed, cut off and interrupted; whatever it had gone on from is kept, and it goes on right there."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

import pytest

from tests.journal.cases import opened
from tests.walk.small import SIGNAL

if sys.platform == "win32":
    pytest.skip("needs the signals and terminals of POSIX", allow_module_level=True)

from faultree.journal import book
from tests.terminal.debriefs import environ, gone_on, killed, length, problems
from tests.terminal.ptys import PROGRAM, terminal


@pytest.fixture
def here(tmp_path: Path) -> Path:
    (tmp_path / "trees").mkdir()
    (tmp_path / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    return tmp_path


@pytest.fixture(scope="module")
def span(tmp_path_factory: pytest.TempPathFactory) -> float:
    """Seconds that the debrief takes on this machine."""
    folder = tmp_path_factory.mktemp("whole")
    (folder / "trees").mkdir()
    (folder / "trees" / "signal.yaml").write_text(SIGNAL, encoding="utf-8")
    return length(folder)


@pytest.mark.parametrize("number", range(8))
def test_killed_at_any_moment_nothing_that_was_shown_is_lost(here: Path, span: float, number: int) -> None:
    """`tests/benchmarks/study_debrief_kills.py` does this 200 times."""
    shown = killed(here, ((number + Random(f"kill {number}").random()) / 8) ** 3 * span)
    assert problems(here, shown) == []
    assert gone_on(here) == []


def test_ctrl_c_between_two_questions_keeps_what_was_said(here: Path) -> None:
    arguments = [*PROGRAM, "debrief", "--library", str(here / "trees")]
    with terminal(arguments, folder=here, environ=environ(here)) as shown:
        shown.wait("Aircraft >")
        shown.type("HM-VLA\n")
        shown.wait("Flight number >")
        shown.type("x")
        shown.wait("Flight number > x")
        shown.press("\x03", "takes it up.")
        shown.wait("press Ctrl-C again")
        assert shown.leave("\x03") == 1
        assert "Stopped. Case 1 is kept as it is; 'faultree debrief continue 1' takes it up." in shown.text
    store = opened(here / "journal.sqlite")
    assert book.read(store, 1).head.flight.aircraft == "HM-VLA"
    store.close()


def test_the_end_of_input_in_the_walk_keeps_every_step(here: Path) -> None:
    arguments = [*PROGRAM, "debrief", "--aircraft", "HM-VLA", "--flight", "1", "--day", "2025-05-04", "--phase", "taxi",
                 "--library", str(here / "trees")]  # fmt: skip
    with terminal(arguments, folder=here, environ=environ(here)) as shown:
        for ask, line in (
            ("Squawk >", "no landing signal"),
            ("Squawk >", ""),
            ("Which one >", "1"),
            ("Type ok >", "ok"),
        ):
            count = 2 if line == "" else 1
            shown.wait(ask, count)
            shown.type(f"{line}\n")
        shown.wait("Your answer >")
        shown.type("note seal worn\n")
        shown.wait("Noted")
        assert shown.leave("\x04") == 0
        assert "Case 1 is kept in the journal" in shown.text
        assert "The state of case 1" in shown.text
    store = opened(here / "journal.sqlite")
    assert [one.data["note"] for one in book.read(store, 1).entries if "note" in one.data] == ["seal worn"]
    store.close()
