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
    later = (
        "--state",
        "deferred",
        "--category",
        "C",
        "--days",
        "3",
        "--found",
        "2031-05-06",
        "--reference",
        "list 27-1",
    )
    assert "the last day is 2031-05-09" in said("debrief", "end", "1", *later)
    assert "category C, 3 days from the day after 2031-05-06" in said("debrief", "sheet", "1")


def test_nothing_is_signed_or_released() -> None:
    """The sheet has an empty block for the licensed person."""
    run("debrief", "end", "1", "--state", "handed over")
    out = said("debrief", "sheet", "1")
    assert "not signed by faultree" in out
    assert "Signature: ____" in out
    assert "Return to service, if granted: ____" in out


def test_a_case_can_be_opened_again(journal: Path) -> None:
    run("debrief", "end", "1", "--state", "handed over")
    run("debrief", "end", "1", "--state", "open")
    assert ended(journal).head.state == "open"


@pytest.mark.parametrize(
    ("arguments", "code", "words"),
    [
        (("--state", "confirmed"), 2, "confirmed needs --cause"),
        (("--state", "confirmed", "--cause", "fuse-blown", "--item", "relay"), 1, "is no cause of 'relay'"),
        (("--state", "confirmed", "--cause", "zebra"), 1, "zebra"),
        (("--state", "deferred", "--days", "3"), 2, "deferred needs --category and --days"),
        (("--state", "deferred", "--category", "C", "--days", "3", "--found", "soon"), 2, "is no day"),
        (("--state", "released"), 2, "released"),
    ],
)
def test_what_cannot_be_is_refused_and_changes_nothing(
    journal: Path, arguments: tuple[str, ...], code: int, words: str
) -> None:
    done = run("debrief", "end", "1", *arguments, code=code)
    assert words in done.output
    assert ended(journal).head.state == "open"
