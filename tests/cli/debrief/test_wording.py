"""Corrections are new entries: what a crew typed stays for ever."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.stage import unmatched, walked
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
    run("debrief", "continue", "1", "--by", "line", lines="ok\n1\n")
    run("debrief", "add", "1", "signal dark in the dark")
    out = said("debrief", "continue", "1", "--by", "line", lines="button-lamp\nok\n")
    assert "The signal lamp stays dark" in out
    assert "The signal stays dark in the dark" in out
    assert "and 1 more" not in said("debrief", "sheet", "1").partition("Not known")[2].partition("##")[0]


def test_the_ranking_rests_on_a_corrected_meaning_at_once(journal: Path) -> None:
    """Also after an answer: the sheet never ranks the causes of a report that was taken back."""
    run("debrief", "continue", "1", "--by", "line", lines="ok\ncheck voltage\nok\nno\nok\n")
    run("debrief", "correct", "1", "1", "--means", "button-lamp")
    record = book.read(opened(journal), 1)
    kept = walked(record)
    assert kept is not None
    assert kept["symptoms"] == ["signal/button-lamp"]
    assert [one["check"] for one in kept["steps"]] == ["signal/voltage"]
    assert [one.kind for one in record.entries[-2:]] == ["matched", "event"]
    assert "the checks rest on: the signal stays dark in the dark" in said("journal", "show", "1")
    sheet = run("debrief", "sheet", "1").output
    run("debrief", "continue", "1", "--by", "line", lines="ok\n")
    assert run("debrief", "sheet", "1").output.partition("## What was")[0] == sheet.partition("## What was")[0]


def test_an_answer_that_a_corrected_meaning_excludes_is_kept_and_told(journal: Path) -> None:
    path = Path("trees/signal.yaml")
    text = path.read_text(encoding="utf-8").replace(
        "  button-lamp:",
        "  bright: {title: the landing lamp shines brightly, situation: testing, sees: {lit: yes}}\n  button-lamp:",
    )
    path.write_text(text, encoding="utf-8")
    run("debrief", "continue", "1", "--by", "line", lines="ok\ncheck voltage\nok\nno\nok\n")
    run("debrief", "correct", "1", "1", "--means", "bright")
    kept = walked(book.read(opened(journal), 1))
    assert kept is not None
    assert kept["steps"] == []
    out = said("debrief", "continue", "1", "--by", "line", lines="ok\n")
    assert "Kept, but it counts for nothing: measure the voltage at the lamp: " in out
    assert "(it cannot be true together with the reports as they are understood now)" in out
    run("debrief", "correct", "1", "1", "--means", "dark")
    kept = walked(book.read(opened(journal), 1))
    assert kept is not None
    assert [one["check"] for one in kept["steps"]] == ["signal/voltage"]


def test_without_a_report_nothing_is_ranked_and_answers_come_back_with_one(journal: Path) -> None:
    run("debrief", "continue", "1", "--by", "line", lines="ok\ncheck voltage\nok\nno\nok\n")
    run("debrief", "correct", "1", "1", "--means", "none")
    assert walked(book.read(opened(journal), 1)) is None
    assert "lamp broken" not in said("debrief", "sheet", "1")
    assert "no report is left that the checks could rest on" in said("journal", "show", "1")
    assert "so there is nothing to walk" in said("debrief", "continue", "1")
    run("debrief", "correct", "1", "1", "--means", "dark")
    kept = walked(book.read(opened(journal), 1))
    assert kept is not None
    assert [one["check"] for one in kept["steps"]] == ["signal/voltage"]


def test_a_squawk_that_was_none_is_withdrawn_and_stays_in_the_log(journal: Path) -> None:
    run("debrief", "add", "1", "undo")
    run("debrief", "withdraw", "1", "--squawk", "2", "--why", "typed by mistake", "--who", "KL")
    record = book.read(opened(journal), 1)
    assert [one.words for one in record.squawks] == ["lamp out"]
    assert "“undo”" not in said("debrief", "sheet", "1")
    shown = said("journal", "show", "1")
    assert "squawk 2: “undo”" in shown
    assert "squawk 2 was withdrawn: typed by mistake (KL)" in shown


def test_a_withdrawn_report_carries_no_ranking(journal: Path) -> None:
    run("debrief", "continue", "1", "--by", "line", lines="ok\ncheck voltage\nok\nno\nok\n")
    run("debrief", "withdraw", "1", "--squawk", "1")
    assert walked(book.read(opened(journal), 1)) is None


def test_a_squawk_for_a_case_that_has_ended_says_how_to_go_on() -> None:
    run("debrief", "end", "1", "--state", "handed over")
    out = said("debrief", "add", "1", "a bang")
    assert out == (
        "Squawk 2 of case 1 is kept. The case has ended (handed over): 'faultree debrief reopen 1' opens it again, "
        "then 'faultree debrief continue 1' asks what it means."
    )


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("correct", "1", "9", "x"), 1, "case 1 has no squawk 9"),
        (("correct", "1", "1"), 2, "say what is corrected"),
        (("correct", "1", "1", "--means", "zebra"), 1, "zebra"),
        (("add", "7", "x"), 1, "no case 7"),
        (("withdraw", "1"), 2, "say which"),
        (("withdraw", "1", "--squawk", "1", "--finding", "1"), 2, "say which"),
        (("withdraw", "1", "--squawk", "9"), 1, "case 1 has no squawk 9"),
        (("withdraw", "1", "--finding", "9"), 1, "case 1 has no finding 9"),
        (("add", "1", "  "), 2, "the words are empty"),
    ],
)
def test_what_cannot_be_is_refused(arguments: tuple[str, ...], code: int, words: str) -> None:
    done = run("debrief", *arguments, code=code)
    assert words in done.output
