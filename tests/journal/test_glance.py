"""A quick look shows what a journal holds and leaves it as it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.journal import book, glance
from faultree.journal.records import Flight
from tests.journal.cases import debriefed, opened


def test_cases_squawks_and_aircraft_are_seen(tmp_path: Path) -> None:
    """The newest case first; a case without a flight has the day on which it was opened."""
    file = tmp_path / "j.sqlite"
    store = opened(file)
    debriefed(store, words=("lamp out", "a\n bang"))
    book.open_case(store, Flight(), [], "digest")
    found = glance.cases(file)
    assert found == (
        glance.Glimpse(2, "open", "2031-05-04", "", ()),
        glance.Glimpse(1, "open", "2031-05-04", "HM-VLA", ("lamp out", "a bang")),
    )
    assert found[0].shown == "2031-05-04, open: no words yet"
    assert glance.squawks(file, 1) == {1: "lamp out", 2: "a bang"}
    assert glance.aircraft(file) == ("HM-VLA",)
    store.close()


@pytest.mark.parametrize("content", [None, b"", b"no journal at all", b"SQLite format 3\x00damaged"])
def test_what_is_no_journal_shows_nothing_and_stays(tmp_path: Path, content: bytes | None) -> None:
    file = tmp_path / "j.sqlite"
    if content is not None:
        file.write_bytes(content)
    assert glance.cases(file) == ()
    assert glance.squawks(file, 1) == {}
    assert glance.aircraft(file) == ()
    assert (file.read_bytes() if file.exists() else None) == content
