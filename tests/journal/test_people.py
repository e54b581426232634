"""A person can be removed from every field made for a person."""

from __future__ import annotations

from pathlib import Path

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


def test_capitals_make_no_other_person(store: Store) -> None:
    case = book.open_case(store, Flight("HM-VLA"), [], "digest", who="KL")
    book.add(store, case, "note", {"text": "ok"}, who="Kl")
    assert people.forget(store, " kl ") == 2
    assert people.people(store) == ()


def test_what_stands_for_a_person_has_no_brackets_of_its_own(store: Store) -> None:
    """A log shows initials in brackets; early versions wrote some into the field, and those name nobody either."""
    assert "(" not in people.GONE
    book.open_case(store, Flight("HM-VLA"), [], "digest", who="(removed)")
    assert people.people(store) == ()


def test_the_words_stay(store: Store) -> None:
    case = book.open_case(store, Flight(), ["KL said it stuck"], "digest", who="KL")
    people.forget(store, "KL")
    assert book.read(store, case).squawks[0].words == "KL said it stuck"


def test_a_learner_is_removed_from_the_events_of_early_versions(store: Store) -> None:
    """They kept the name a second time, in the first event of a run."""
    run = practised.begin(store, "Ada Example", "K7Q2", "digest", "flaps/asymmetric", "exam")
    practised.add_event(store, run, {"run": 1, "learner": "Ada Example"})
    practised.add_event(store, run, {"event": "Ask", "check": "flaps/needles"})
    people.forget(store, "Ada Example")
    assert practised.events(store, run) == (
        {"run": 1, "learner": people.GONE}, {"event": "Ask", "check": "flaps/needles"}
    )  # fmt: skip


def test_nothing_of_a_forgotten_name_is_left_in_the_files(store: Store, tmp_path: Path) -> None:
    """Neither in free pages of the database nor in its log."""
    if store.where.file is None:
        return  # what a server keeps in its files is the server's own matter
    book.open_case(store, Flight(), ["stuck"], "digest", who="Ada Example")
    practised.begin(store, "Ada Example", "K7Q2", "digest", "flaps/asymmetric", "exam")
    people.forget(store, "Ada Example")
    files = list(tmp_path.glob("journal.sqlite*"))
    assert files
    assert not any(b"Ada Example" in one.read_bytes() for one in files)
