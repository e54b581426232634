"""The log as a reader of the sheet needs it: what happened, when (day and UTC), and who wrote it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from faultree.journal.records import Entry, Record
from faultree.reports.timeline import timeline
from tests.journal.cases import debriefed, opened


def record(path: Path, *entries: Entry) -> Record:
    store = opened(path / "j.sqlite")
    found = replace(debriefed(store), entries=entries)
    store.close()
    return found


def test_what_a_reader_does_not_need_is_left_out(tmp_path: Path) -> None:
    entries = (
        Entry(1, "2031-05-04T12:00:00+00:00", "KL", "opened", {"library": "x"}),
        Entry(2, "2031-05-04T12:01:00+00:00", "KL", "squawk", {"squawk": 1, "words": "lamp out"}),
        Entry(3, "2031-05-04T12:02:00+00:00", "", "state", {"state": "no fault found"}),
    )
    lines = timeline(record(tmp_path, *entries))
    assert [(one.shown, one.said, one.who) for one in lines] == [
        ("2031-05-04 12:00", "the crew reported", "KL"),
        ("12:02", "the case ended: no fault found", ""),
    ]


def test_of_the_notice_of_history_the_first_clause_is_enough(tmp_path: Path) -> None:
    """The sheet says itself what its figures rest on, once."""
    text = "History is in use, from 3 cases of the same report: 2 confirmed, 1 with no fault found; the author's."
    (line,) = timeline(record(tmp_path, Entry(1, "2031-05-04T12:00:00+00:00", "", "note", {"text": text})))
    assert line.said == "History is in use, from 3 cases of the same report"


def test_what_was_withdrawn_is_said_with_its_reason(tmp_path: Path) -> None:
    data = {"finding": 2, "because": "typed for another case"}
    (line,) = timeline(record(tmp_path, Entry(1, "2031-05-04T12:00:00+00:00", "MB", "withdrawn", data)))  # type: ignore[arg-type, unused-ignore]
    assert line.said == "finding 2 was withdrawn: typed for another case"
