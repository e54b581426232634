"""A debrief that was broken off anywhere goes on at the question that has no answer yet."""

from __future__ import annotations

from faultree.journal import book
from faultree.journal.records import Flight
from faultree.journal.stage import last_walk, stage_of, unmatched, walked
from faultree.journal.store import Store


def test_each_stage_follows_from_the_record(store: Store) -> None:
    case = book.open_case(store, Flight("HM-VLA"), [], "digest")
    assert stage_of(book.read(store, case)) == "words"
    book.add_squawk(store, case, "stuck")
    book.add_squawk(store, case, "a bang")
    assert (stage_of(book.read(store, case)), unmatched(book.read(store, case))) == ("match", (1, 2))
    book.match(store, case, 2, None)
    assert unmatched(book.read(store, case)) == (1,)
    book.match(store, case, 1, "s/still")
    assert (stage_of(book.read(store, case)), walked(book.read(store, case))) == ("walk", None)
    book.add(store, case, "event", {"check": "s/look", "answer": "no", "walk": {"steps": [1]}})
    book.add(store, case, "note", {"text": "ok"})
    assert walked(book.read(store, case)) == {"steps": [1]}
    book.add(store, case, "event", {"reports": [], "walk": None})
    assert walked(book.read(store, case)) is None
    assert last_walk(book.read(store, case)) == {"steps": [1]}
    book.end(store, case, "handed over", data={}, who="")
    assert stage_of(book.read(store, case)) == "ended"
