"""How a case ends: by what it was confirmed, nothing found, deferred to a last day, handed over; never released."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Record
from tests.cli.desks import run, said
from tests.journal.cases import debriefed, opened


@pytest.fixture(autouse=True)
def case(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    store.close()


def ended(journal: Path) -> Record:
    return book.read(opened(journal), 1)


def test_confirmed_by_its_cause(journal: Path) -> None:
    run("debrief", "end", "1", "--state", "confirmed", "--cause", "fuse-blown", "--how", "seen", "--who", "MB")
    record = ended(journal)
    (found,) = record.findings
    assert (found.unit, found.cause, found.result, found.how, found.who) == (
        "signal/fuse", "signal/fuse-blown", "confirmed", "seen", "MB"
    )  # fmt: skip
    assert record.head.state == "confirmed"


def test_confirmed_where_only_the_item_is_known(journal: Path) -> None:
    run("debrief", "end", "1", "--state", "confirmed", "--item", "relay")
    assert (ended(journal).findings[0].unit, ended(journal).findings[0].cause) == ("signal/relay", None)


def test_no_fault_found_is_recorded_as_that(journal: Path) -> None:
    run("debrief", "end", "1", "--state", "no fault found", "--item", "relay", "--how", "bench")
    record = ended(journal)
    assert (record.head.state, record.findings[0].result) == ("no fault found", "not found")


def test_a_deferral_counts_from_the_day_after_discovery(journal: Path) -> None:
    """Found on the 4th of May, ten days: the 5th is the first, the 14th the last; the operator's list governs."""
    out = said("debrief", "end", "1", "--state", "deferred", "--category", "C", "--days", "10")
    assert "the last day is 2031-05-14" in out
    assert "approved list governs" in out
    assert ended(journal).head.due == "2031-05-14"
    later = ("--state", "deferred", "--category", "C", "--days", "3", "--found", "6/5/2025", "--reference", "list 27-1")
    out = run("debrief", "end", "1", *later, code=2).output
    assert "can be read in two ways" in out
    later = (*later[:7], "2025-05-06", *later[8:])
    assert "the last day is 2025-05-09" in said("debrief", "end", "1", *later)
    sheet = said("debrief", "sheet", "1")
    assert "category C" in sheet
    assert "2025-05-06" in sheet


def test_nothing_is_signed_or_released() -> None:
    """The sheet has an empty block for the licensed person."""
    run("debrief", "end", "1", "--state", "handed over")
    out = said("debrief", "sheet", "1")
    assert "not signed by faultree" in out
    assert "Signature: ____" in out
    assert "Return to service, if granted: ____" in out


def test_a_case_can_be_opened_again(journal: Path) -> None:
    run("debrief", "end", "1", "--state", "handed over", "--how", "to the night shift")
    assert "handed over already" in run("debrief", "end", "1", "--state", "handed over", code=1).output
    assert "opens it again" in run("debrief", "continue", "1", code=1).output
    run("debrief", "reopen", "1", "--why", "seen again", "--who", "KL")
    record = ended(journal)
    assert record.head.state == "open"
    assert record.entries[-2].data["how"] == "to the night shift"
    assert record.entries[-1].data == {"state": "open", "due": None, "was": "handed over", "because": "seen again"}
    assert "case 1 is open" in run("debrief", "reopen", "1", code=1).output


def test_the_limit_of_a_deferral_runs_on_while_the_case_is_worked_at(journal: Path) -> None:
    """Open again, and handed over: the last day stays; it goes when the case ends otherwise, or was a mistake."""
    run("debrief", "end", "1", "--state", "deferred", "--category", "C", "--days", "10")
    assert "The last day of its deferral stays 2031-05-14" in said("debrief", "reopen", "1")
    assert ended(journal).head.due == "2031-05-14"
    assert "stays 2031-05-14" in said("debrief", "end", "1", "--state", "handed over")
    assert ended(journal).head.due == "2031-05-14"
    run("debrief", "reopen", "1", "--without-limit")
    assert ended(journal).head.due is None
    run("debrief", "end", "1", "--state", "deferred", "--category", "C", "--days", "10")
    run("debrief", "end", "1", "--state", "confirmed", "--item", "relay")
    assert ended(journal).head.due is None


@pytest.mark.parametrize("typed", ["No Fault Found", "nff", "NFF"])
def test_a_state_may_be_typed_in_any_case(journal: Path, typed: str) -> None:
    run("debrief", "end", "1", "--state", typed, "--how", "every check was good")
    record = ended(journal)
    assert (record.head.state, record.findings) == ("no fault found", ())
    assert record.entries[-1].data["how"] == "every check was good"


@pytest.mark.parametrize(
    ("option", "words", "unit", "cause"),
    [
        ("--cause", "fuse blown", "signal/fuse", "signal/fuse-blown"), ("--cause", "signal wire broken",
         "signal/wire-broken", "signal/wire-broken"), ("--item", "signal relay", "signal/relay", None),
        ("--item", "RELAY", "signal/relay", None), ("--cause", "lamp br", "signal/lamp", "signal/lamp-broken"),
    ],
)  # fmt: skip
def test_causes_and_items_are_named_by_words_too(
    journal: Path, option: str, words: str, unit: str, cause: str | None
) -> None:
    run("debrief", "end", "1", "--state", "confirmed", option, words)
    assert (ended(journal).findings[0].unit, ended(journal).findings[0].cause) == (unit, cause)


OTHER = """
faultree: 1
title: Gear horn
items: {horn: {title: gear horn, minutes: 5}}
causes: {horn-dead: {title: gear horn dead, item: horn, probability: 0.01}}
signals: {sound: {title: the horn can sound, lost_if: [horn-dead]}}
symptoms: {quiet: {title: the gear horn is quiet, sees: {sound: no}}}
"""


def test_a_cause_of_another_system_is_asked_about(journal: Path, tmp_path: Path) -> None:
    (tmp_path / "trees" / "gear.yaml").write_text(OTHER, encoding="utf-8")
    for option, words in (("--cause", "horn dead"), ("--item", "gear horn")):
        done = run("debrief", "end", "1", "--state", "confirmed", option, words, code=1)
        assert "has no part in what case 1 reports; add --yes if that is what was found" in done.output
    assert ended(journal).head.state == "open"
    run("debrief", "end", "1", "--state", "confirmed", "--cause", "horn dead", "--yes")
    assert ended(journal).findings[0].cause == "gear/horn-dead"


def test_a_second_cause_is_asked_about_and_a_finding_can_be_withdrawn(journal: Path) -> None:
    run("debrief", "end", "1", "--state", "confirmed", "--cause", "fuse-blown")
    assert (
        "finding 1 of case 1 already"
        in run("debrief", "end", "1", "--state", "confirmed", "--cause", "fuse-blown", code=1).output
    )
    done = run("debrief", "end", "1", "--state", "confirmed", "--cause", "relay-open", code=1)
    assert "has a confirmed cause already, 'signal fuse blown' (finding 1" in " ".join(done.output.split())
    run("debrief", "withdraw", "1", "--finding", "1", "--why", "misread", "--who", "MB")
    run("debrief", "end", "1", "--state", "confirmed", "--cause", "relay-open")
    record = ended(journal)
    assert [one.cause for one in record.findings] == ["signal/relay-open"]
    assert [one.cause for one in record.former_findings] == ["signal/fuse-blown"]
    assert "fuse blown" not in said("debrief", "sheet", "1").partition("Found")[2].partition("##")[0]


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("--state", "confirmed"), 2, "confirmed needs --cause"),
        (("--state", "confirmed", "--cause", "fuse-blown", "--item", "relay"), 1, "is no cause of 'signal/relay'"),
        (("--state", "confirmed", "--cause", "zebra"), 1, "zebra"),
        (("--state", "deferred", "--days", "3"), 2, "deferred needs --category and --days"),
        (("--state", "deferred", "--category", "C", "--days", "3", "--found", "soon"), 2, "is no day"),
        (("--state", "released"), 2, "released"),
        (("--state", "deferred", "--category", "C", "--days", "3", "--found", "2999-01-01"), 2, "is still to come"),
        (("--state", "deferred", "--category", "C", "--days", "3", "--cause", "x"), 2, "it belongs to confirmed"),
        (("--state", "handed over", "--item", "relay"), 2, "says nothing about a case that is handed over"),
        (("--state", "no fault found"), 2, "no fault found needs --item"),
        (("--state", "confirmed", "--item", "signal"), 1, "fits more than one item"),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    journal: Path, arguments: tuple[str, ...], code: int, words: str
) -> None:
    done = run("debrief", "end", "1", *arguments, code=code)
    assert words in done.output
    assert ended(journal).head.state == "open"
