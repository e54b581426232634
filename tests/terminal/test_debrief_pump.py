"""The interview keeps every answer before it asks the next; the walk behind it keeps every step in words."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.base.errors import JournalError
from faultree.journal import book
from faultree.journal.records import Flight, Record
from faultree.journal.stage import walked
from faultree.journal.store import Store
from faultree.library.load import load_texts
from faultree.reports.log import said
from faultree.terminal.debrief_pump import Debrief, Interview, newest
from faultree.terminal.lines import Piped
from faultree.terminal.look import Look
from faultree.terminal.pump import Screen
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.state import Fingerprint
from tests.journal.cases import HOSTILE, opened
from tests.walk.small import DARK, LOCKED, asked, small
from tests.walk.small import walked as walk_of


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def interview(store: Store, *lines: str) -> tuple[Interview, io.StringIO]:
    out = io.StringIO()
    source = io.StringIO("".join(f"{line}\n" for line in lines))
    return Interview(store, small(), Screen(out, Look(plain=True, width=80)), Piped(source, out), "KL"), out


def test_every_answer_is_kept_before_the_next_question(mine: Store) -> None:
    """The input ends after each answer in turn: the record holds all of them."""
    lines = ("HM-VLA", "HM 412", "2031-05-04", "tax", "stuck", "a bang")
    for count in range(1, len(lines) + 1):
        talk, _ = interview(mine, *lines[:count])
        number = talk.open(Flight())
        assert number is not None
        record = book.read(mine, number)
        held = [
            record.head.flight.aircraft,
            record.head.flight.flight,
            record.head.flight.day,
            record.head.flight.phase,
        ]
        wanted = ["HM-VLA", "HM 412", "2031-05-04", "taxi"]
        assert [one for one in held if one] == wanted[:count]
        assert [one.words for one in record.squawks] == list(lines[4:count])


def test_words_are_kept_as_typed(mine: Store) -> None:
    talk, _ = interview(mine, "", "", "", "", *HOSTILE)
    number = talk.open(Flight())
    assert number is not None
    assert [one.words for one in book.read(mine, number).squawks] == list(HOSTILE)


@pytest.mark.parametrize(("typed", "phase"), [("l", "landing"), ("TAX", "taxi"), ("t", "t"), ("hover", "hover")])
def test_a_phase_may_be_shortened_or_be_any_word(mine: Store, typed: str, phase: str) -> None:
    talk, _ = interview(mine, "HM-VLA", "", "", typed, "x")
    number = talk.open(Flight())
    assert number is not None
    assert book.read(mine, number).head.flight.phase == phase


def test_a_day_is_asked_until_it_is_one(mine: Store) -> None:
    talk, out = interview(mine, "HM-VLA", "", "soon", "2999-01-01", "today", "", "x")
    number = talk.open(Flight())
    assert number is not None
    assert book.read(mine, number).head.flight.day == "2031-05-04"
    assert "'soon' is no day" in out.getvalue()
    assert "2999-01-01 is still to come" in out.getvalue()


def matched(store: Store, *lines: str) -> tuple[Record, str, bool]:
    number = book.open_case(store, Flight(), ["no landing signal"], small().digest)
    talk, out = interview(store, *lines)
    talk.case = number
    done = talk.match()
    return book.read(store, number), out.getvalue(), done


@pytest.mark.parametrize("line", ["1", "dark", DARK])
def test_a_meaning_is_chosen_by_number_or_id(mine: Store, line: str) -> None:
    record, _, done = matched(mine, line)
    assert done
    assert record.symptoms == (DARK,)


def test_other_words_look_again(mine: Store) -> None:
    record, out, done = matched(mine, "zebra", "99", "reported bad", "1")
    assert done
    assert "Nothing fits 'zebra'" in out
    assert record.symptoms == ("signal/doubly-bad",)


def test_none_of_these_is_kept_and_the_end_of_input_is_no_answer(mine: Store) -> None:
    record, out, done = matched(mine, "0")
    assert done
    assert record.symptoms == ()
    assert "for the tree's author" in out
    record, _, done = matched(mine)
    assert not done
    assert not [one for one in record.entries if one.kind == "matched"]


# --- the walk ------------------------------------------------------------------------------------


def debrief(store: Store, *lines: str, by: tuple[str, ...] | None = None) -> tuple[Debrief, io.StringIO, int]:
    number = book.open_case(store, Flight(), ["lamp out"], small().digest)
    out = io.StringIO()
    source = io.StringIO("".join(f"{line}\n" for line in lines))
    session = Debrief(start(small(), by), Screen(out, Look(plain=True, width=80)), Piped(source, out))
    session.keep_in(store, number, "KL")
    session.begin([DARK])
    return session, out, number


def test_every_step_is_an_entry_in_words(mine: Store) -> None:
    session, _, number = debrief(mine, "ok", "check click", "silence", "note seal worn", "can't duplicate", "undo")
    session.run()
    data = [
        {key: value for key, value in one.data.items() if key != "walk"} for one in book.read(mine, number).entries[2:]
    ]
    assert data == [
        {"begun": [DARK]},
        {"check": "signal/click", "answer": "silence", "title": "listen to the relay", "found": "Nothing"},
        {"note": "seal worn"},
        {"seen": False},
        {
            "taken_back": {
                "check": "signal/click",
                "answer": "silence",
                "title": "listen to the relay",
                "found": "Nothing",
            }
        },
    ]


def test_the_walk_is_taken_up_where_it_was(mine: Store) -> None:
    session, _, number = debrief(mine, "ok", "check click", "silence", "note seal worn")
    session.run()
    kept = walked(book.read(mine, number))
    assert kept is not None
    out = io.StringIO()
    again = Debrief(start(small()), Screen(out, Look(plain=True, width=80)), Piped(io.StringIO("ok\n"), out))
    again.keep_in(mine, number)
    before = len(book.read(mine, number).entries)
    again.take_up_walk(kept, [DARK])
    again.run()
    assert again.walk.open_case.steps == session.walk.open_case.steps
    assert "seal worn" in out.getvalue()
    assert len(book.read(mine, number).entries) == before  # nothing was added, so nothing is written


def test_a_further_report_is_kept_with_the_walk(mine: Store) -> None:
    session, _, number = debrief(mine, "ok", "check click", "silence")
    session.run()
    kept = walked(book.read(mine, number))
    assert kept is not None
    out = io.StringIO()
    again = Debrief(start(small()), Screen(out, Look(plain=True, width=80)), Piped(io.StringIO(), out))
    again.keep_in(mine, number)
    again.take_up_walk(kept, [DARK, "signal/button-lamp"])
    later = walked(book.read(mine, number))
    assert later is not None
    assert later["symptoms"] == [DARK, "signal/button-lamp"]
    assert later["steps"] == kept["steps"]


def test_a_step_that_cannot_be_kept_is_said_and_tried_again(mine: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """A full disk for a while: the walk goes on, and the next step carries what was missed."""
    real, failing = book.add, [True, True]

    def add(*arguments: object, **named: object) -> int:
        if failing:
            failing.pop()
            raise JournalError("the disk is full")
        return real(*arguments, **named)  # type: ignore[arg-type]

    monkeypatch.setattr(book, "add", add)
    session, out, number = debrief(mine, "ok", "check click", "silence", "note x")
    session.run()
    assert out.getvalue().count("could not be kept: the disk is full") == 1
    kept = walked(book.read(mine, number))
    assert kept is not None
    assert [one["check"] for one in kept["steps"]] == ["signal/click"]
    assert "is kept in the journal" in out.getvalue()


def test_the_crew_is_proposed_no_repair(mine: Store) -> None:
    session, out, _ = debrief(mine, "ok", "silence", "all", by=("crew",))
    session.run()
    assert "Put right" not in out.getvalue()
    assert "put right next" not in out.getvalue()
    assert session.walk.phase.name == "OVER"


def test_a_pin_that_may_be_in_is_told_before_the_step_that_needed_it_is_done() -> None:
    walk = start(load_texts({"signal.yaml": LOCKED}))
    for event in (ev.Begin((DARK,)), ev.Acknowledge(), ev.TakeUp("voltage")):
        walk = step(walk, event).walk
    assert newest(walk.fingerprint, step(walk, ev.Acknowledge()).walk) == {"locks": "take the pin of the panel out"}


def test_what_an_event_changed_is_told_by_its_kind() -> None:
    before = walk_of(*asked("click", "silence"))
    lacks = step(before, ev.NotToday("tool", "multimeter")).walk
    assert newest(before.fingerprint, lacks) == {"missing": "multimeter"}
    assert newest(before.fingerprint, before) == {}
    assert newest(Fingerprint(), before) == {"begun": [DARK]}
    repaired = step(step(step(before, ev.Replace("fuse")).walk, ev.Acknowledge()).walk, ev.Retest(False)).walk
    assert dict(newest(before.fingerprint, repaired)) | {"title": ""} == {
        "repair": "signal/fuse",
        "gone": False,
        "title": "",
    }


def test_a_report_that_comes_in_during_the_walk_is_in_the_log_and_stays() -> None:
    """So does taking it back, and whose checks were proposed."""
    first = walk_of(*asked("supply-seen", "yes"))
    more = step(first, ev.Also(("button-lamp",))).walk
    also = {"also": "signal/button-lamp", "title": "the signal stays dark in the dark"}
    assert newest(first.fingerprint, more) == also
    assert newest(more.fingerprint, step(more, ev.Undo()).walk) == {"taken_back": also}
    assert newest(first.fingerprint, step(first, ev.By(("line",))).walk) == {"by": ["line"]}
    assert said(also) == "also reported: the signal stays dark in the dark"
    assert said({"by": ["crew", "line"]}) == "checks by the crew and the line from here on"
    assert said({"by": []}) == "checks by anyone from here on"
