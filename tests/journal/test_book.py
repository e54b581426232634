"""Cases: what was entered stays as it was entered, numbered within its case, on both databases."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from faultree.base.errors import JournalError, Overtaken
from faultree.journal import book
from faultree.journal.records import Flight, Found, Squawk
from faultree.journal.store import Store

FLIGHT = Flight("HM-VLA", "HM 412", "2031-05-04", "landing")
WORDS = "boards didn't pop up,\n  “twice” – ok?"


def opened(store: Store) -> int:
    return book.open_case(store, FLIGHT, [WORDS, "amber light"], "digest", who="KL")


def test_the_words_are_kept_as_typed(store: Store) -> None:
    """Line ends, blanks and signs of the crew's words are not touched."""
    record = book.read(store, opened(store))
    assert record.squawks == (Squawk(1, WORDS, None), Squawk(2, "amber light", None))
    assert (record.head.flight, record.head.state, record.head.library) == (FLIGHT, "open", "digest")
    assert record.head.opened == "2031-05-04T12:00:00+00:00"


def test_every_act_leaves_an_entry(store: Store) -> None:
    case = opened(store)
    book.match(store, case, 1, "ground-spoilers/stay-down", who="KL")
    book.add(store, case, "event", {"event": "AnswerCheck", "answer": "no"}, who="KL")
    book.find(store, case, "s/sensor", "confirmed", cause="s/sensor-dead", how="swapped", who="MB")
    book.end(store, case, "confirmed", data={"by": "ops check"}, who="MB")
    record = book.read(store, case)
    kinds = ["opened", "squawk", "squawk", "matched", "event", "finding", "state"]
    assert [one.kind for one in record.entries] == kinds
    assert [one.number for one in record.entries] == [1, 2, 3, 4, 5, 6, 7]
    assert record.entries[4].data == {"event": "AnswerCheck", "answer": "no"}
    assert record.symptoms == ("ground-spoilers/stay-down",)
    assert (record.findings[0].unit, record.findings[0].cause, record.findings[0].who) == (
        "s/sensor",
        "s/sensor-dead",
        "MB",
    )
    assert record.head.state == "confirmed"


def test_cases_are_numbered_apart(store: Store) -> None:
    first, second = opened(store), opened(store)
    book.add(store, second, "note", {"text": "seen again"})
    assert [one.number for one in book.read(store, first).entries] == [1, 2, 3]
    assert [one.number for one in book.read(store, second).entries] == [1, 2, 3, 4]
    assert book.add_squawk(store, first, "and a bang") == 3


def test_the_flight_can_be_said_later_and_the_log_keeps_it(store: Store) -> None:
    case = book.open_case(store, Flight(), ["stuck"], "digest")
    book.describe(store, case, Flight("HM-VLA"))
    book.describe(store, case, FLIGHT)
    record = book.read(store, case)
    assert record.head.flight == FLIGHT
    assert [one.data["aircraft"] for one in record.entries if one.kind == "flight"] == ["HM-VLA", "HM-VLA"]


def test_a_deferral_has_a_last_day(store: Store) -> None:
    case = opened(store)
    book.end(store, case, "deferred", due="2031-05-14", data={"category": "C"}, who="")
    assert book.read(store, case).head.due == "2031-05-14"


def test_lists_are_newest_first_and_can_be_narrowed(store: Store) -> None:
    first = opened(store)
    second = book.open_case(store, Flight("HM-VLB"), ["x"], "digest")
    book.end(store, first, "no fault found", data={}, who="")
    assert [one.id for one in book.heads(store)] == [second, first]
    assert [one.id for one in book.heads(store, aircraft="HM-VLB")] == [second]
    assert [one.id for one in book.heads(store, state="no fault found")] == [first]


def test_an_unknown_case_or_squawk_is_refused_with_what_is_there(store: Store) -> None:
    with pytest.raises(JournalError, match="the journal has no case 7; it holds no case yet"):
        book.read(store, 7)
    case = opened(store)
    with pytest.raises(JournalError, match=f"the journal has no case {case + 1}; the newest is {case}"):
        book.add(store, case + 1, "note", {"text": "x"})
    with pytest.raises(JournalError, match=f"case {case} has no squawk 9"):
        book.match(store, case, 9, None)


def test_a_refused_act_leaves_nothing(store: Store) -> None:
    """An entry and what it speaks of are one transaction."""
    case = opened(store)
    with pytest.raises(JournalError):
        book.match(store, case, 9, "a/b")
    assert len(book.read(store, case).entries) == 3


def test_case_numbers_begin_at_one_and_only_grow(store: Store) -> None:
    assert [opened(store), opened(store)] == [1, 2]


def test_whole_cases_come_oldest_first_and_by_what_they_mean(store: Store) -> None:
    first, second = opened(store), book.open_case(store, Flight("HM-VLB"), ["x"], "digest")
    book.match(store, first, 2, "s/still")
    assert [one.head.id for one in book.records(store)] == [first, second]
    assert [one.head.id for one in book.records(store, ["s/still", "s/other"])] == [first]
    assert list(book.records(store, ["s/other"])) == []
    assert next(book.records(store)) == book.read(store, first)


def test_corrections_stand_beside_the_words(store: Store) -> None:
    case = opened(store)
    book.add(store, case, "corrected", {"squawk": 2, "words": "amber lamp"})
    book.add(store, case, "corrected", {"squawk": 2, "words": "amber transit lamp"})
    record = book.read(store, case)
    assert record.corrected(2) == ("amber lamp", "amber transit lamp")
    assert record.corrected(1) == ()
    assert record.squawks[1].words == "amber light"
    assert not record.invented


# --- mistakes, and two at one case ---------------------------------------------------------------


def test_what_is_withdrawn_stays_in_the_record_and_counts_for_nothing(store: Store) -> None:
    case = opened(store)
    book.find(store, case, "s/sensor", "confirmed", who="KL")
    book.withdraw(store, case, "finding", 1, because="the other one", who="MB")
    book.withdraw(store, case, "squawk", 2)
    record = book.read(store, case)
    assert (record.findings, [one.unit for one in record.former_findings]) == ((), ["s/sensor"])
    assert [one.words for one in record.squawks] == [WORDS]
    assert [one.words for one in record.former_squawks] == ["amber light"]
    assert record.entries[-2].data == {"finding": 1, "because": "the other one"}
    assert book.add_squawk(store, case, "a bang") == 3
    with pytest.raises(JournalError, match=f"case {case} has no finding 1"):
        book.withdraw(store, case, "finding", 1)
    with pytest.raises(JournalError, match=f"case {case} has no squawk 7"):
        book.withdraw(store, case, "squawk", 7)


def test_what_another_wrote_in_the_meantime_keeps_a_step_out(store: Store) -> None:
    """Each names the newest entry that it has read; who comes second writes nothing."""
    case = opened(store)
    read = book.read(store, case).last
    mine = book.add(store, case, "event", {"answer": "yes"}, who="SP", after=read)
    with pytest.raises(Overtaken) as caught:
        book.add(store, case, "event", {"answer": "no"}, who="MB", after=read)
    assert caught.value.last == mine
    with pytest.raises(Overtaken):
        book.match(store, case, 1, "a/b", after=read)
    with pytest.raises(Overtaken):
        book.end(store, case, "confirmed", data={}, who="MB", after=read, found=[Found("s/x", "confirmed")])
    record = book.read(store, case)
    assert (record.last, record.findings, record.symptoms, record.head.state) == (mine, (), (), "open")


def test_an_end_and_what_was_found_are_one_act(store: Store) -> None:
    case = opened(store)
    book.end(store, case, "confirmed", data={}, who="MB", found=[Found("s/pump", "confirmed", "s/worn", "swapped")])
    record = book.read(store, case)
    assert (record.findings[0].cause, record.findings[0].who, record.head.state) == ("s/worn", "MB", "confirmed")
    with pytest.raises(RuntimeError):
        book.end(store, case, "open", data={}, who="", found=_breaking())
    assert book.read(store, case) == record


def _breaking() -> Iterator[Found]:
    yield Found("s/other", "confirmed")
    raise RuntimeError


def test_a_new_meaning_and_what_it_makes_of_the_walk_are_one_act(store: Store) -> None:
    case = opened(store)
    book.match(store, case, 1, "a/b", event={"reports": ["a/b"], "walk": {"symptoms": ["a/b"]}})
    record = book.read(store, case)
    assert [one.kind for one in record.entries[-2:]] == ["matched", "event"]
    with pytest.raises(TypeError):
        book.match(store, case, 1, "a/c", event={"walk": object()})
    assert book.read(store, case) == record


@pytest.mark.parametrize("typed", ["HM-VLA", "hm-vla", "HM VLA", " hmvla"])
def test_an_aircraft_is_found_however_its_registration_was_typed(store: Store, typed: str) -> None:
    case = opened(store)
    book.open_case(store, Flight("HM-VLB"), ["x"], "digest")
    assert [one.id for one in book.heads(store, aircraft=typed)] == [case]
    assert book.read(store, case).head.flight.aircraft == "HM-VLA"


def test_the_crew_is_there_until_it_is_said_to_have_left(store: Store) -> None:
    case = opened(store)
    assert not book.read(store, case).crew_left
    book.add(store, case, "crew", {"left": True})
    assert book.read(store, case).crew_left
    book.add(store, case, "crew", {"left": False})
    assert not book.read(store, case).crew_left
    assert book.read(store, book.open_case(store, FLIGHT, ["x"], "digest", origin="demonstration")).crew_left
