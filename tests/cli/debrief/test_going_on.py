"""Whose checks are proposed: the crew's until it has left, and never a repair because its part was broken off."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Record
from tests.cli.desks import run, said
from tests.journal.cases import opened

FLIGHT = "HM-VLA\nHM 412\n2025-05-04\nland\n"
WORDS = "no landing signal\n\n"
OFFERS = ("Put right", "measure the voltage", "(line", "test the relay on the bench")
"""What only the line does."""


def case(journal: Path) -> Record:
    return book.read(opened(journal), 1)


@pytest.mark.parametrize("lines", [f"{FLIGHT}{WORDS}", f"{FLIGHT}{WORDS}1\n", f"{FLIGHT}{WORDS}1\nok\n"])
def test_a_crew_that_was_broken_off_is_asked_about(journal: Path, lines: str) -> None:
    run("debrief", lines=lines)
    assert not case(journal).crew_left
    meanings = "" if case(journal).symptoms else "1\n"
    out = run("debrief", "continue", "1", lines=f"{meanings}yes\nok\nfinish\nquit\n").output
    questions = out.partition("Is the crew still here")[2].partition("The end")[0]
    assert "isten to the relay" in questions
    assert not any(words in questions for words in OFFERS)
    assert "The state of case 1" in out
    assert case(journal).crew_left


def test_the_line_goes_on_where_the_crew_has_left(journal: Path) -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\n")
    out = run("debrief", "continue", "1", "--who", "MB", lines="maybe\nhelp\nno\nok\n").output
    assert "Type yes or no" in out
    assert "every check and repair is proposed" in out
    assert any(words in out.partition("Type ok")[2] for words in OFFERS)
    assert case(journal).crew_left
    assert [one.who for one in case(journal).entries if one.kind == "crew"] == ["MB"]
    assert "Is the crew still here" not in run("debrief", "continue", "1", lines="ok\n").output


@pytest.mark.parametrize("rest", ["silence\n", "silence\nquit\n", "finish\n", "silence\ncarry on\nfinish\nquit\n"])
def test_the_crew_has_left_at_the_end_of_its_questions(journal: Path, rest: str) -> None:
    """They are answered, or somebody typed finish: then the case is the line's, without a question."""
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\n{rest}")
    assert case(journal).crew_left
    out = run("debrief", "continue", "1", lines="ok\n").output
    assert "Is the crew still here" not in out
    assert "the crew has left" in said("journal", "show", "1")


@pytest.mark.parametrize("rest", ["", "quit\n", "check click\nquit\n"])
def test_whoever_quits_between_two_questions_has_dismissed_nobody(journal: Path, rest: str) -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\n{rest}")
    assert not case(journal).crew_left


def test_where_nobody_says_nothing_is_proposed(journal: Path) -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\n")
    out = run("debrief", "continue", "1", lines="").output
    assert "Case 1 is kept as it is" in out
    assert "Step 1" not in out
    assert not case(journal).crew_left


def test_by_is_an_answer_to_that_question(journal: Path) -> None:
    run("debrief", lines=f"{FLIGHT}{WORDS}1\nok\n")
    assert "Is the crew still here" not in run("debrief", "continue", "1", "--by", "line", lines="ok\n").output
    assert not case(journal).crew_left


def test_quit_at_a_question_before_the_walk_leaves_without_a_fault(journal: Path) -> None:
    out = said("debrief", lines="HM-VLA\nquit\n")
    assert out.endswith("Case 1 is kept as it is; 'faultree debrief continue 1' takes it up.")
    assert case(journal).head.flight.aircraft == "HM-VLA"
    assert "no case was begun" in said("debrief", lines="quit\n")
