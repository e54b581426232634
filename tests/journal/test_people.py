"""A person can be removed from every field made for a person."""

from __future__ import annotations

from faultree.journal import book, people, practised
from faultree.journal.records import Flight
from faultree.journal.store import Store


def test_a_forgotten_person_is_named_nowhere(store: Store) -> None:
    case = book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest", who="KL")
    book.find(store, case, "s/sensor", "confirmed", who="KL")
    book.add(store, case, "note", {"text": "ok"}, who="MB")
    practised.begin(store, "KL", "K7Q2", "digest", "flaps/asymmetric", "exam")
    assert people.people(store) == ("KL", "MB")
    assert people.forget(store, "KL") == 5  # three entries (opened, squawk, finding), the finding itself, the run
    assert people.people(store) == ("MB",)
    record = book.read(store, case)
    assert {one.who for one in record.entries} == {people.GONE, "MB"}
    assert record.findings[0].who == people.GONE


def test_the_words_stay(store: Store) -> None:
    case = book.open_case(store, Flight(), ["KL said it stuck"], "digest", who="KL")
    people.forget(store, "KL")
    assert book.read(store, case).squawks[0].words == "KL said it stuck"
