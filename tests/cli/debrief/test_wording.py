"""Corrections are new entries: what a crew typed stays for ever."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.stage import unmatched
from tests.cli.desks import run, said
from tests.journal.cases import debriefed, opened


@pytest.fixture(autouse=True)
def case(journal: Path) -> None:
    store = opened(journal)
    debriefed(store, answers=[])
    store.close()


def test_another_wording_is_kept_beside_the_first(journal: Path) -> None:
    run("debrief", "correct", "1", "1", "signal lamp dark on final", "--who", "KL")
    record = book.read(opened(journal), 1)
    assert record.squawks[0].words == "lamp out"
    assert record.corrected(1) == ("signal lamp dark on final",)
    assert "corrected to “signal lamp dark on final”" in said("journal", "show", "1")
    assert "“lamp out”, corrected to “signal lamp dark on final”" in said("debrief", "sheet", "1")


def test_another_meaning_is_kept_with_the_one_before(journal: Path) -> None:
    run("debrief", "correct", "1", "1", "--means", "button-lamp")
    run("debrief", "correct", "1", "1", "--means", "none")
    record = book.read(opened(journal), 1)
    assert record.squawks[0].symptom is None
    meant = [one.data["symptom"] for one in record.entries if one.kind == "matched"]
    assert meant == ["signal/dark", "signal/button-lamp", None]


def test_a_further_squawk_is_asked_about_when_the_case_goes_on(journal: Path) -> None:
    run("debrief", "add", "1", "a bang as well")
    assert unmatched(book.read(opened(journal), 1)) == (2,)
    assert "“a bang as well”" in said("debrief", "continue", "1", lines="0\n")
    assert unmatched(book.read(opened(journal), 1)) == ()


def test_a_further_report_joins_the_walk() -> None:
    run("debrief", "continue", "1", lines="ok\n1\n")
    run("debrief", "add", "1", "signal dark in the dark")
    out = said("debrief", "continue", "1", lines="button-lamp\nok\n")
    assert "The signal lamp stays dark" in out
    assert "The signal stays dark in the dark" in out
    assert "and 1 more" not in said("debrief", "sheet", "1").partition("Not known")[2].partition("##")[0]


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("correct", "1", "9", "x"), 1, "case 1 has no squawk 9"),
        (("correct", "1", "1"), 2, "say what is corrected"),
        (("correct", "1", "1", "--means", "zebra"), 1, "zebra"),
        (("add", "7", "x"), 1, "no case 7"),
        (("add", "1", "  "), 2, "the words are empty"),
    ],
)
def test_what_cannot_be_is_refused(arguments: tuple[str, ...], code: int, words: str) -> None:
    done = run("debrief", *arguments, code=code)
    assert words in done.output
