"""A kept case is shown whatever has become of the tree files: what fits counts, the rest is named."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.store import Store
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.reports.fit_now import NOTHING_FITS, called, gone, reports_now, symptoms_now, walk_now
from tests.journal.cases import debriefed, opened
from tests.walk.small import DARK, SIGNAL, small
from tests.walk.test_reported import LAMP

TITLE = "the signal lamp stays dark"


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def lamp() -> Library:
    """Another library altogether."""
    return load_texts({"lamp.yaml": LAMP})


def renamed(title: str = TITLE) -> Library:
    """The small library whose report has another id, and perhaps another title."""
    changed = SIGNAL.replace("  dark:\n", "  unlit:\n").replace("symptom: dark", "symptom: unlit")
    return load_texts({"signal.yaml": changed.replace(f"title: {TITLE}", f"title: {title}")})


def test_a_walk_that_fits_stands_as_it_was_kept(mine: Store) -> None:
    walk, lost = walk_now(small(), debriefed(mine))
    assert walk is not None
    assert (len(walk.open_case.steps), lost) == (2, ())


def test_where_nothing_fits_there_is_no_walk_and_words_say_why(mine: Store) -> None:
    walk, lost = walk_now(lamp(), debriefed(mine))
    assert walk is None
    assert lost == (NOTHING_FITS, f"The report “{TITLE}” is no longer in the tree files.")


def test_a_report_is_found_by_its_title_where_it_has_another_id(mine: Store) -> None:
    record = debriefed(mine)
    assert reports_now(renamed(), record) == {DARK: "signal/unlit"}
    walk, lost = walk_now(renamed(), record)
    assert walk is not None
    assert (walk.open_case.symptoms, len(walk.open_case.steps), lost) == (("signal/unlit",), 2, ())


def test_a_report_without_a_walk_has_only_its_id(mine: Store) -> None:
    """Nothing says what it was called, so it is neither found by a title nor named by one."""
    store = mine
    number = book.open_case(store, debriefed(store).head.flight, ["lamp out"], "old", who="")
    book.match(store, number, 1, DARK, who="")
    record = book.read(store, number)
    assert symptoms_now(renamed(), record) == ()
    assert list(gone(renamed(), record)) == ["The report “signal/dark” is no longer in the tree files."]
    assert walk_now(renamed(), record) == (None, tuple(gone(renamed(), record)))


def test_a_report_that_means_something_else_by_now_begins_anew(mine: Store) -> None:
    """The kept walk has no place any more, but the squawk was matched with a report of today."""
    record = debriefed(mine)
    book.match(mine, record.head.id, 1, "lamp/dark", who="")
    record = book.read(mine, record.head.id)
    walk, lost = walk_now(lamp(), record)
    assert walk is not None
    assert (walk.open_case.symptoms, walk.open_case.steps) == (("lamp/dark",), ())
    assert lost[0] == NOTHING_FITS
    assert "none of the reports of this case is in the tree files any more" in lost[1].lower()
    assert called(lamp(), record, "lamp/dark") == "the lamp is dark"


def test_a_report_that_is_impossible_by_itself_is_no_walk(mine: Store) -> None:
    record = debriefed(mine)
    book.match(mine, record.head.id, 1, "lamp/both", who="")
    walk, lost = walk_now(lamp(), book.read(mine, record.head.id))
    assert walk is None
    assert lost[-1].startswith("None of these reports is possible by itself")
