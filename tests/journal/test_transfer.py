"""What is in a journal can be taken out and in again, on any machine and into either database."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.base.errors import JournalError
from faultree.journal import book, practised, transfer
from faultree.journal.place import where
from faultree.journal.records import Flight
from faultree.journal.store import Store, open_store
from faultree.journal.transfer import SHOWN, Taken
from tests.journal.conftest import NOON


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Store]:
    """Another, empty journal."""
    opened = open_store(where(str(tmp_path / "other.sqlite"), {}, "linux", Path("/nowhere")), lambda: NOON)
    yield opened
    opened.close()


def filled(store: Store) -> int:
    case = book.open_case(store, Flight("HM-VLA", "HM 1", "2031-05-04", "taxi"), ["=1+1", "stuck"], "digest", who="KL")
    book.match(store, case, 1, "s/still")
    book.find(store, case, "s/pump", "confirmed", cause="s/worn", how="swapped", who="MB")
    book.end(store, case, "deferred", due="2031-05-14", data={"category": "C"}, who="MB")
    run = practised.begin(store, "ada", "K7Q2", "digest", "s/still", "exam")
    practised.add_event(store, run, {"event": "Ask", "check": "s/look"})
    practised.finish(store, run, 77.5, {"minutes": 12})
    return case


def test_all_comes_back(store: Store, other: Store) -> None:
    case = filled(store)
    out = list(transfer.lines(store))
    assert transfer.take_in(other, out, "j.jsonl") == Taken(2, 0, 0)
    assert book.read(other, 1) == book.read(store, case)
    assert practised.runs(other) == practised.runs(store)
    assert practised.events(other, 1) == practised.events(store, 1)
    assert list(transfer.lines(other)) == out


def test_nothing_is_read_in_twice(store: Store) -> None:
    filled(store)
    out = list(transfer.lines(store))
    assert transfer.take_in(store, out, "j.jsonl") == Taken(0, 0, 2)
    assert list(transfer.lines(store)) == out


def test_what_a_copy_has_more_is_added(store: Store, other: Store) -> None:
    case = filled(store)
    transfer.take_in(other, transfer.lines(store), "j.jsonl")
    book.add(store, case, "note", {"text": "seen again"})
    book.end(store, case, "confirmed", data={}, who="")
    assert transfer.take_in(other, transfer.lines(store), "j.jsonl") == Taken(0, 1, 1)
    assert book.read(other, 1) == book.read(store, case)


def test_what_a_longer_copy_says_that_words_mean_is_taken_over(store: Store, other: Store) -> None:
    """Words that had no meaning yet when they were first read in."""
    case = book.open_case(store, Flight("HM-VLA"), ["stuck", "dark"], "digest")
    transfer.take_in(other, transfer.lines(store), "j.jsonl")
    book.match(store, case, 1, "s/still")
    assert transfer.take_in(other, transfer.lines(store), "j.jsonl") == Taken(0, 1, 0)
    assert book.read(other, 1) == book.read(store, case)
    assert book.read(other, 1).symptoms == ("s/still",)


@pytest.mark.parametrize(
    ("part", "field", "value"),
    [
        ("case", "day", "4 May"),
        ("case", "due", ""),
        ("case", "state", "well"),
        ("case", "aircraft", "\ud800"),
        ("entries", "data", "[" * 100_000),
        ("entries", "number", 10**30),
        ("entries", "kind", "rumour"),
        ("findings", "result", "guessed"),
        ("findings", "at", "noon"),
    ],
)
def test_a_field_that_has_not_its_form_is_named(
    store: Store, other: Store, part: str, field: str, value: object
) -> None:
    """What would read in, but could be used by nothing afterwards."""
    filled(store)
    data = json.loads(next(transfer.lines(store)))
    (data[part] if part == "case" else data[part][0])[field] = value
    with pytest.raises(JournalError, match=f"^j:1:1: '{field}' of '"):
        transfer.take_in(other, [json.dumps(data)], "j")


def test_json_that_is_nested_too_deeply_is_named(other: Store) -> None:
    with pytest.raises(JournalError, match=r"^j:1:1: no JSON"):
        transfer.take_in(other, ["[" * 100_000], "j")


def test_every_bad_line_is_named_and_nothing_is_read_in(store: Store, other: Store) -> None:
    filled(store)
    good = list(transfer.lines(store))
    broken = json.loads(good[0])
    broken["case"]["day"] = 7
    texts = ["{", good[0], '{"faultree": 2}', '{"faultree": 1}', json.dumps(broken), '{"faultree": 1, "case": {}}']
    with pytest.raises(JournalError) as raised:
        transfer.take_in(other, texts, "j.jsonl")
    said = str(raised.value).splitlines()
    assert [one.partition(": ")[0] for one in said] == [
        "j.jsonl:1:1", "j.jsonl:3:1", "j.jsonl:4:1", "j.jsonl:5:1", "j.jsonl:6:1", "Nothing was read in."
    ]  # fmt: skip
    assert "'day' of 'cases' is 7" in said[3]
    assert list(transfer.lines(other)) == []


def test_a_file_that_is_something_else_is_said_to_be_so_once(other: Store) -> None:
    with pytest.raises(JournalError) as raised:
        transfer.take_in(other, ["id,words", *["1,stuck"] * 200], "cases.csv")
    said = str(raised.value)
    assert said.startswith("cases.csv is no export of a journal (no JSON")
    assert "\n" not in said


def test_of_many_bad_lines_some_are_named(store: Store, other: Store) -> None:
    filled(store)
    texts = [*transfer.lines(store), *["{"] * 40]
    with pytest.raises(JournalError) as raised:
        transfer.take_in(other, texts, "j.jsonl")
    said = str(raised.value).splitlines()
    assert len(said) == SHOWN + 2
    assert said[-2:] == ["and 35 more lines", "Nothing was read in."]


def test_a_case_that_gets_another_number_is_named(store: Store, other: Store) -> None:
    """Its printed sheets carry the old one."""
    filled(store)
    book.open_case(other, Flight("HM-VLB"), ["own"], "digest")
    assert transfer.take_in(other, transfer.lines(store), "j.jsonl").renumbered == ((1, 2),)
    assert transfer.take_in(other, transfer.lines(store), "j.jsonl").renumbered == ()


def test_an_export_of_before_that_names_no_numbers_reads_in(store: Store, other: Store) -> None:
    filled(store)
    old = [
        {name: value for name, value in json.loads(one).items() if name != "number"} for one in transfer.lines(store)
    ]
    assert transfer.take_in(other, map(json.dumps, old), "j.jsonl") == Taken(2, 0, 0)


@pytest.mark.parametrize(("here", "coming"), [("debrief", "demonstration"), ("demonstration", "debrief")])
def test_invented_cases_and_real_ones_come_together_only_on_purpose(
    store: Store, other: Store, here: str, coming: str
) -> None:
    book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest", origin=coming)
    book.open_case(other, Flight("HM-VLB"), ["dark"], "digest", origin=here)
    with pytest.raises(JournalError, match="would come among them"):
        transfer.take_in(other, transfer.lines(store), "j.jsonl")
    assert len(book.heads(other)) == 1
    assert transfer.take_in(other, transfer.lines(store), "j.jsonl", mixed=True).new == 1


def test_a_mixed_journal_can_be_taken_into_an_empty_one(store: Store, other: Store) -> None:
    for origin in ("debrief", "demonstration"):
        book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest", origin=origin)
    assert transfer.take_in(other, transfer.lines(store), "j.jsonl").new == 2


def test_a_spreadsheet_has_the_words_of_the_screens(store: Store) -> None:
    case = filled(store)
    book.find(store, case, "s/valve", "not found")
    rows = list(csv.DictReader(io.StringIO(transfer.table_csv(store, "findings"))))
    assert [one["result"] for one in rows] == ["confirmed", "no fault found"]


def test_a_table_for_a_spreadsheet(store: Store) -> None:
    filled(store)
    rows = list(csv.DictReader(io.StringIO(transfer.table_csv(store, "squawks"))))
    assert [row["words"] for row in rows] == ["'=1+1", "stuck"]
    assert [row["symptom"] for row in rows] == ["s/still", ""]
    with pytest.raises(JournalError, match="there is no table 'x'; choose one of cases, squawks, entries"):
        transfer.table_csv(store, "x")
