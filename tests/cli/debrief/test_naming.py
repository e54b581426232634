"""A cause or item is found by words of the case before words of the library; what is near is offered."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.base.errors import UnknownName
from faultree.cli.debrief.naming import cause_named, item_named, parts_of, unrelated
from faultree.journal.records import Found, Record
from tests.journal.cases import debriefed, opened
from tests.walk.small import small


@pytest.fixture
def record(tmp_path: Path) -> Record:
    store = opened(tmp_path / "other.sqlite")
    found = debriefed(store)
    store.close()
    return found


@pytest.mark.parametrize("typed", ["fuse-blown", "signal/fuse-blown", "Signal FUSE blown", "fuse"])
def test_a_cause_is_found_by_id_or_words(record: Record, typed: str) -> None:
    assert cause_named(small(), record, typed) == "signal/fuse-blown"


def test_what_fits_several_or_none_says_which_come_near(record: Record) -> None:
    with pytest.raises(UnknownName, match="fits more than one cause") as several:
        cause_named(small(), record, "relay")
    assert set(several.value.candidates) == {"signal/relay-open", "signal/relay-closed"}
    with pytest.raises(UnknownName, match="did you mean 'signal/relay'"):
        item_named(small(), record, "signal rely")
    with pytest.raises(UnknownName, match="did you mean 'signal/fuse'"):
        item_named(small(), record, "fues")
    with pytest.raises(UnknownName, match="unknown item 'zebra'; 'faultree rank REPORT --json' lists the ids"):
        item_named(small(), record, "zebra")


def test_every_cause_has_a_part_where_no_report_is_known(tmp_path: Path) -> None:
    store = opened(tmp_path / "other.sqlite")
    record = debriefed(store, symptom=None)
    store.close()
    assert set(parts_of(small(), record)) == {*small().causes, *small().items}
    assert unrelated(small(), record, Found("signal/relay", "confirmed")) == ""


def test_what_the_report_speaks_against_is_asked_about(tmp_path: Path) -> None:
    """Lamp and relay are both reported bad, so the relay is not welded closed; the wire has no part in that."""
    store = opened(tmp_path / "other.sqlite")
    record = debriefed(store, symptom="signal/doubly-bad", answers=[])
    store.close()
    welded = Found("signal/relay", "confirmed", "signal/relay-closed")
    assert unrelated(small(), record, welded) == "what case 1 reports speaks against 'signal relay welded closed'"
    wire = Found("signal/wire-broken", "confirmed", "signal/wire-broken")
    assert unrelated(small(), record, wire) == "'signal wire broken' has no part in what case 1 reports"
    assert unrelated(small(), record, Found("signal/relay", "confirmed")) == ""
