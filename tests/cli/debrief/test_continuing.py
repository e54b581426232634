"""A case that goes on says first which one it is; what was broken off is asked again."""

from __future__ import annotations

from pathlib import Path

from faultree.journal import book
from faultree.journal.records import Flight
from tests.cli.desks import run, said
from tests.journal.cases import opened


def test_the_case_its_flight_and_the_crews_words_are_shown_first() -> None:
    run("debrief", lines="HM-VLA\nHM 412\n2025-05-04\nland\nno landing signal\nthe horn\nsmoke\n\n1\n0\n")
    run("debrief", "correct", "1", "2", "the gear horn")
    out = said("debrief", "continue", "1", lines="")
    shown = out.partition("What does this mean")[0]
    for words in ("Case 1", "HM-VLA, HM 412, 2025-05-04, landing", "“no landing signal” The signal lamp stays dark",
                  "“the gear horn” no report of the tree fits", "“smoke” not asked yet what it means"):  # fmt: skip
        assert words in shown


def test_what_of_the_flight_was_not_asked_is_asked_again(journal: Path) -> None:
    """Broken off at the flight number: the case must not lose its day, or it drops out of the repeat defects."""
    run("debrief", lines="HM-VLA\n")
    out = run("debrief", "continue", "1", lines="HM 412\nyesterday\nland\nno landing signal\n\n1\n").output
    assert "Aircraft >" not in out
    flight = book.read(opened(journal), 1).head.flight
    assert (flight.aircraft, flight.flight, flight.phase) == ("HM-VLA", "HM 412", "landing")
    assert flight.day


def test_the_input_may_end_at_the_flight_again(journal: Path) -> None:
    run("debrief", lines="HM-VLA\n")
    assert "Case 1 is kept as it is" in run("debrief", "continue", "1", lines="HM 412\n").output
    assert book.read(opened(journal), 1).head.flight == Flight("HM-VLA", "HM 412")


def test_no_journal_is_made_by_a_command_that_reads(journal: Path) -> None:
    for arguments in (("debrief", "continue", "1"), ("debrief", "sheet", "1"), ("debrief", "add", "1", "x"),
                      ("debrief", "flight", "1", "--day", "today"), ("debrief", "reopen", "1"),
                      ("debrief", "end", "1", "--state", "handed over"), ("journal", "list"), ("journal", "show", "1"),
                      ("journal", "trends"), ("journal", "export"), ("journal", "forget"),
                      ("journal", "backup", "b.sqlite"), ("practice", "progress"), ("practice", "--resume"),
                      ("rank", "dark", "--history")):  # fmt: skip
        out = " ".join(run(*arguments, code=1).output.split())
        assert f"there is no journal {journal}" in out
        assert "--journal FILE names another" in out
        assert not journal.exists()


def test_a_new_journal_that_was_named_is_said_to_be_new() -> None:
    assert "typo.sqlite is a new journal." in said("debrief", "--journal", "typo.sqlite", lines="HM-VLA\n")
    assert "is a new journal." not in said("debrief", "--journal", "typo.sqlite", lines="HM-VLA\n")
