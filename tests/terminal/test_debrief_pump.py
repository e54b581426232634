"""The walk of a debrief keeps every step in words before the next is asked, and gives way to what others wrote."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest

from faultree.base.errors import JournalError
from faultree.journal import book
from faultree.journal.records import Flight
from faultree.journal.stage import walked
from faultree.journal.store import Store
from faultree.library.load import load_texts
from faultree.reports.log import said
from faultree.terminal.debrief_pump import Debrief, newest
from faultree.terminal.lines import Piped
from faultree.terminal.look import Look
from faultree.terminal.pump import Screen
from faultree.walk import events as ev
from faultree.walk.machine import start, step
from faultree.walk.state import Fingerprint
from tests.journal.cases import opened
from tests.walk.small import DARK, LOCKED, SIGNAL, asked, small
from tests.walk.small import walked as walk_of

BRIGHT = "  bright: {title: the lamp shines, situation: testing, sees: {lit: yes}}\n"


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


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
    answer = {
        "check": "signal/click", "answer": "silence", "title": "listen to the relay", "found": "Nothing",
        "asked": "What do you hear?",
    }  # fmt: skip
    assert data == [{"begun": [DARK]}, answer, {"note": "seal worn"}, {"seen": False}, {"taken_back": answer}]


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


def test_the_help_of_a_crew_names_no_repair(mine: Store) -> None:
    session, out, _ = debrief(mine, "ok", "help", by=("crew",))
    session.run()
    assert "put right the likeliest item" not in out.getvalue()
    assert "the check cannot be answered" in out.getvalue()
    session, out, _ = debrief(mine, "ok", "help")
    session.run()
    assert "put right the likeliest item" in out.getvalue()


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


# --- two at one case -----------------------------------------------------------------------------


def beside(store: Store, number: int, act: Callable[[], object], *lines: str) -> tuple[Debrief, str]:
    """A walk taken up in a case; before its last line is read, somebody else writes."""
    kept = walked(book.read(store, number))
    assert kept is not None
    out = io.StringIO()
    source = Before(lines, out, act)
    session = Debrief(start(small()), Screen(out, Look(plain=True, width=80)), source)
    session.keep_in(store, number, "MB")
    session.take_up_walk(kept, [DARK])
    session.run()
    return session, " ".join(out.getvalue().split())


class Before(Piped):
    """Lines; before the last one somebody else acts."""

    def __init__(self, lines: Sequence[str], output: io.StringIO, act: Callable[[], object]) -> None:
        super().__init__(io.StringIO("".join(f"{line}\n" for line in lines)), output)
        self.left, self.act = len(lines), act

    def read(self, ask: str) -> str | None:
        self.left -= 1
        if self.left == 0:
            self.act()
        return super().read(ask)


def other(store: Store, number: int, *lines: str) -> Callable[[], object]:
    """Somebody else, who takes the case up and types these lines."""

    def act() -> None:
        kept = walked(book.read(store, number))
        assert kept is not None
        out = io.StringIO()
        source = io.StringIO("".join(f"{line}\n" for line in lines))
        session = Debrief(start(small()), Screen(out, Look(plain=True, width=80)), Piped(source, out))
        session.keep_in(store, number, "SP")
        session.take_up_walk(kept, [DARK])
        session.run()

    return act


@pytest.fixture
def shared(mine: Store) -> int:
    session, _, number = debrief(mine, "ok", "note begun")
    session.run()
    return number


def steps(store: Store, number: int) -> list[tuple[str, str, str]]:
    return [
        (str(one.data["check"]), str(one.data["answer"]), one.who)
        for one in book.read(store, number).entries
        if "check" in one.data
    ]


def test_an_answer_somebody_else_gave_meanwhile_stands_and_is_shown(mine: Store, shared: int) -> None:
    """Two terminals, the same check, two answers: the second is not kept, and says why."""
    act = other(mine, shared, "ok", "check click", "silence")
    session, out = beside(mine, shared, act, "ok", "check click", "click")
    assert steps(mine, shared) == [("signal/click", "silence", "SP")]
    assert "Meanwhile somebody else wrote in case 1: - listen to the relay: Nothing (SP)" in out
    assert "Your last step is not kept." in out
    assert "listen to the relay" in out.partition("Your last step is not kept.")[2]
    assert [one[0] for one in session.walk.open_case.steps] == ["signal/click"]


def test_the_next_step_rests_on_what_the_other_found(mine: Store, shared: int) -> None:
    act = other(mine, shared, "ok", "check click", "silence")
    kept = walked(book.read(mine, shared))
    assert kept is not None
    out = io.StringIO()
    lines = Before(("ok", "check supply-seen", "ok", "yes", "check supply-seen", "yes"), out, lambda: None)
    lines.left, lines.act = 4, act
    session = Debrief(start(small()), Screen(out, Look(plain=True, width=80)), lines)
    session.keep_in(mine, shared, "MB")
    session.take_up_walk(kept, [DARK])
    session.run()
    assert steps(mine, shared) == [("signal/click", "silence", "SP"), ("signal/supply-seen", "yes", "MB")]


def test_the_same_answer_twice_is_one(mine: Store, shared: int) -> None:
    act = other(mine, shared, "ok", "check click", "silence")
    _, out = beside(mine, shared, act, "ok", "check click", "silence")
    kept = walked(book.read(mine, shared))
    assert kept is not None
    assert [one["check"] for one in kept["steps"]] == ["signal/click"]
    assert "is not kept" not in out


def test_what_does_not_touch_the_walk_is_shown_and_keeps_nothing_out(mine: Store, shared: int) -> None:
    """A squawk that is added while somebody walks is told; the answer is kept."""
    act = lambda: book.add_squawk(mine, shared, "a bang", who="KL")  # noqa: E731 - one expression
    _, out = beside(mine, shared, act, "ok", "check click", "silence")
    assert steps(mine, shared) == [("signal/click", "silence", "MB")]
    assert "squawk 2: “a bang” (KL)" in out


def test_a_case_that_was_ended_meanwhile_takes_no_step(mine: Store, shared: int) -> None:
    act = lambda: book.end(mine, shared, "confirmed", data={}, who="SP")  # noqa: E731 - one expression
    session, out = beside(mine, shared, act, "ok", "check click", "silence")
    assert steps(mine, shared) == []
    assert "The case is confirmed: your last step is not kept." in out
    assert session.walk.phase.name == "CLOSED"
    assert not session.over


def test_a_case_without_a_report_any_more_takes_no_step(mine: Store, shared: int) -> None:
    act = lambda: book.add(mine, shared, "event", {"reports": [], "walk": None})  # noqa: E731 - one expression
    _, out = beside(mine, shared, act, "ok", "check click", "silence")
    assert "The case is left without a report: your last step is not kept." in out


def test_who_has_not_read_the_notice_reads_it_still(mine: Store, shared: int) -> None:
    act = other(mine, shared, "ok", "check click", "silence")
    session, _ = beside(mine, shared, act, "note early")
    assert session.walk.phase.name == "NOTICE"


def test_a_report_that_the_answers_exclude_can_be_taken_up(mine: Store, shared: int) -> None:
    """A meaning that was corrected against an answer: the answer is kept, and the case is no dead end."""
    library = load_texts({"signal.yaml": SIGNAL.replace("  button-lamp:", f"{BRIGHT}  button-lamp:")})
    other(mine, shared, "ok", "check voltage", "ok", "no")()
    kept = {**(walked(book.read(mine, shared)) or {}), "library": library.digest}
    out = io.StringIO()
    session = Debrief(start(library), Screen(out, Look(plain=True, width=80)), Piped(io.StringIO(), out))
    session.keep_in(mine, shared)
    session.take_up_walk(kept, ["signal/bright"])
    assert session.walk.open_case.symptoms == ("signal/bright",)
    assert [one.data["check"] for one in session.walk.unfit] == ["signal/voltage"]
