"""The invented year is the same for the same seed, marked as invented, and shows what a journal can show."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

import pytest

from faultree.base.errors import JournalError
from faultree.journal import book, transfer
from faultree.journal.demo import TAILS, fill
from faultree.journal.records import Record
from faultree.library.load import load_texts
from tests.journal.cases import opened
from tests.walk.small import small


def year(folder: Path, seed: int, cases: int = 120) -> list[Record]:
    store = opened(folder / f"{seed}.sqlite")
    made = fill(store, small(), seed, cases)
    assert made.cases == cases
    records = list(book.records(store))
    assert store.problems() == []
    store.close()
    return records


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> list[Record]:
    return year(tmp_path_factory.mktemp("demo"), 1)


def without_keys(records: list[Record]) -> list[Any]:
    return [(one.squawks, one.entries, one.findings, one.head.flight, one.head.state, one.head.due) for one in records]


def test_the_same_seed_gives_the_same_year(first: list[Record], tmp_path: Path) -> None:
    assert without_keys(year(tmp_path, 1)) == without_keys(first)
    assert without_keys(year(tmp_path, 2)) != without_keys(first)


def test_every_case_is_marked_as_invented(first: list[Record]) -> None:
    assert all(one.invented for one in first)


def test_it_is_a_year_of_one_fleet(first: list[Record]) -> None:
    days = [date.fromisoformat(one.head.flight.day) for one in first]
    assert days == sorted(days)
    assert {one.year for one in days} == {2031}
    assert {one.head.flight.aircraft for one in first} <= set(TAILS)


def test_it_holds_what_a_record_holds(first: list[Record]) -> None:
    """Faults confirmed and repairs unconfirmed, units found good, deferrals, repeats, words that fit nothing."""
    results = {found.result for one in first for found in one.findings}
    assert results == {"confirmed", "replaced", "not found"}
    assert {"confirmed", "deferred", "open"} <= {one.head.state for one in first}
    assert all((one.head.due is not None) == (one.head.state == "deferred") for one in first)
    assert any(squawk.symptom is None for one in first for squawk in one.squawks)
    assert any("answer" in entry.data and entry.data["answer"] is None for one in first for entry in one.entries)


def test_it_can_be_taken_out_and_in(tmp_path: Path) -> None:
    store, other = opened(tmp_path / "a.sqlite"), opened(tmp_path / "b.sqlite")
    fill(store, small(), 3, 20)
    assert transfer.take_in(other, transfer.lines(store), "x") == transfer.Taken(20, 0, 0)
    assert list(transfer.lines(other)) == list(transfer.lines(store))
    store.close()
    other.close()


def test_nothing_is_invented_of_tree_files_without_a_symptom(tmp_path: Path) -> None:
    store = opened(tmp_path / "j.sqlite")
    with pytest.raises(JournalError, match="hold no symptom"):
        fill(store, load_texts({"a.yaml": "faultree: 1\ntitle: A"}))
    assert book.heads(store) == ()
