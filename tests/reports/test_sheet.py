"""The sheet holds what the line needs: words as said, ranking, reasons, next steps with cautions, what is not known."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Flight, Record, State
from faultree.journal.store import Store
from faultree.library.load import load_texts
from faultree.reports.sheet import DebriefSheet, debrief_sheet
from faultree.strategy.case import Case
from faultree.walk.prompt import NOTICE
from tests.journal.cases import HOSTILE, debriefed, opened
from tests.walk.small import DARK, SIGNAL, small
from tests.walk.test_reported import LAMP

MADE = datetime(2031, 5, 4, 13, 0, tzinfo=UTC)


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def sheet(record: Record) -> DebriefSheet:
    return debrief_sheet(small(), record, MADE)


def test_the_words_stand_as_they_were_said(mine: Store) -> None:
    found = sheet(debriefed(mine, words=HOSTILE))
    assert [one.words for one in found.squawks] == list(HOSTILE)
    assert {one.meant for one in found.squawks} == {"the signal lamp stays dark"}


def test_the_ranking_is_the_engines(mine: Store) -> None:
    found = sheet(debriefed(mine))
    case = Case.open(small(), [DARK]).answer("click", "silence")
    first = next(one for one in case.ranking() if one.implicated)
    assert found.suspects[0].title == small().causes[first.cause].title
    assert found.suspects[0].probability == first.probability
    before = {one.cause: one.probability for one in Case.open(small(), [DARK]).ranking()}
    assert found.suspects[0].before == before[first.cause]


def test_what_a_repair_takes_says_what_is_in_it(mine: Store) -> None:
    """The operational check behind it; a check has none."""
    found = sheet(debriefed(mine, answers=[("voltage", "yes")]))
    takes = {one.title: one.takes for one in found.proposals}
    assert takes["Put right: signal lamp"] == "25 min with the operational check"
    assert not any("operational" in words for title, words in takes.items() if not title.startswith("Put right"))


def test_what_is_excluded_has_its_reason(mine: Store) -> None:
    """Voltage at the lamp clears everything before it."""
    found = sheet(debriefed(mine, answers=[("voltage", "yes")]))
    reasons = {one.title: one.reason for one in found.excluded}
    assert "signal fuse blown" in reasons
    assert "measure the voltage at the lamp" in reasons["signal fuse blown"]


def test_the_next_steps_are_for_the_line_with_cautions_first(mine: Store) -> None:
    found = sheet(debriefed(mine, answers=[]))
    assert found.proposals
    assert {one.by for one in found.proposals} <= {"line", "shop"}
    assert any(one.cautions for one in found.proposals)
    levels = [["warning", "caution", "note"].index(care.level) for care in found.proposals[0].cautions]
    assert levels == sorted(levels)


@pytest.mark.parametrize("state", ["confirmed", "no fault found"])
def test_a_case_that_has_ended_proposes_nothing(mine: Store, state: State) -> None:
    """What was likely is not led with any more: how it ended stands before it, under another heading."""
    record = debriefed(mine, answers=[])
    book.end(mine, record.head.id, state, data={}, who="")
    found = sheet(book.read(mine, record.head.id))
    assert found.proposals == ()
    assert not any("The crew was not asked" in one for one in found.open_points)
    assert (found.findings_title, found.suspects_title) == ("How it ended", "What the checks alone leave likely")


@pytest.mark.parametrize("state", ["deferred", "handed over"])
def test_whoever_takes_a_case_over_finds_the_next_steps_and_the_crews_questions(mine: Store, state: State) -> None:
    record = debriefed(mine, answers=[])
    before = sheet(record)
    book.end(mine, record.head.id, state, data={}, who="")
    found = sheet(book.read(mine, record.head.id))
    assert found.proposals == before.proposals != ()
    assert "The crew was not asked: listen to the relay." in found.open_points
    assert found.suspects_title == "Likeliest causes"


def test_what_is_not_known_is_said(mine: Store) -> None:
    found = sheet(debriefed(mine))
    assert "Not answered: look at the supply light: cannot tell." in found.open_points
    untouched = sheet(debriefed(mine, answers=[]))
    assert "The crew was not asked: listen to the relay." in untouched.open_points
    loose = sheet(debriefed(mine, words=["coffee cold"], symptom=None))
    assert loose.open_points == ("“coffee cold”: fits no symptom of the tree.",)
    assert loose.squawks[0].meant == "fits no symptom of the tree"
    assert loose.suspects == ()


def test_a_squawk_that_was_added_later_is_not_forgotten(mine: Store) -> None:
    record = debriefed(mine)
    number = book.add_squawk(mine, record.head.id, "dark in the dark")
    book.match(mine, record.head.id, number, "signal/button-lamp")
    found = sheet(book.read(mine, record.head.id))
    assert "Not looked into yet: the signal stays dark in the dark." in found.open_points


def test_the_timeline_tells_days_apart(tmp_path: Path) -> None:
    store = opened(tmp_path / "j.sqlite")
    record = debriefed(store)
    store.close()
    later = replace(opened(tmp_path / "j.sqlite"), clock=lambda: datetime(2031, 5, 5, 7, 30, tzinfo=UTC))
    book.add(later, record.head.id, "note", {"text": "seen again"}, who="MB")
    lines = sheet(book.read(later, record.head.id)).timeline
    later.close()
    assert [one.shown for one in lines] == ["2031-05-04 12:00", "12:00", "12:00", "2031-05-05 07:30"]
    assert lines[-1].at == "2031-05-05T07:30:00+00:00"
    assert (lines[-1].said, lines[-1].who) == ("seen again", "MB")


def test_findings_and_deferrals_are_in_words(mine: Store) -> None:
    """With time, initials and reference, in words and each by itself."""
    record = debriefed(mine)
    number = record.head.id
    book.find(mine, number, "signal/fuse", "confirmed", cause="signal/fuse-blown", how="seen", who="MB")
    data = {"category": "C", "days": 10, "found": "2031-05-04", "reference": "list 33-40-1"}
    book.end(mine, number, "deferred", due="2031-05-14", data=data, who="TS")
    found = sheet(book.read(mine, number))
    first, last = found.findings
    assert (first.said, first.when, first.who) == (
        "confirmed: signal fuse blown (seen)", "2031-05-04 12:00 UTC", "MB"
    )  # fmt: skip
    assert last.said == (
        "deferred under category C for 10 days, counted from the day after 2031-05-04: the last day is 2031-05-14. "
        "Reference: list 33-40-1. The operator's approved list governs."
    )
    assert (last.category, last.days, last.found, last.due, last.reference, last.who) == (
        "C", 10, "2031-05-04", "2031-05-14", "list 33-40-1", "TS"
    )  # fmt: skip
    assert ("Last day", "2031-05-14") in found.flight
    assert found.timeline[-1].said == "the case was deferred (reference: list 33-40-1)"


@pytest.mark.parametrize("state", ["confirmed", "no fault found", "handed over"])
def test_the_reference_of_an_end_is_on_the_sheet(mine: Store, state: State) -> None:
    record = debriefed(mine)
    book.end(mine, record.head.id, state, data={"reference": "SM 33-41 rev 7"}, who="MB")
    (found,) = sheet(book.read(mine, record.head.id)).findings
    assert found.said.endswith("Reference: SM 33-41 rev 7.")
    assert (found.result, found.who, found.when) == (state, "MB", "2031-05-04 12:00 UTC")


def test_a_case_that_was_opened_again_is_not_deferred_any_more(mine: Store) -> None:
    record = debriefed(mine)
    data = {"category": "C", "days": 10, "found": "2031-05-04"}
    book.end(mine, record.head.id, "deferred", due="2031-05-14", data=data, who="")
    book.end(mine, record.head.id, "open", data={}, who="")
    found = sheet(book.read(mine, record.head.id))
    assert found.findings == ()
    assert [one.said for one in found.timeline][-2:] == ["the case was deferred", "the case was opened again"]


def test_a_suspect_says_what_was_found_of_it(mine: Store) -> None:
    """A unit in which no fault was found may still be the likeliest by the checks: the bar says what came of it."""
    record = debriefed(mine)
    book.find(mine, record.head.id, "signal/fuse", "not found", who="MB")
    book.find(mine, record.head.id, "signal/relay", "confirmed", cause="signal/relay-open", who="MB")
    became = {one.title: one.found for one in sheet(book.read(mine, record.head.id)).suspects}
    assert became["signal fuse blown"] == "no fault found"
    assert became["signal relay stuck open"] == "confirmed"
    assert set(became.values()) == {"no fault found", "confirmed", ""}


def test_with_history_every_bar_says_what_it_would_be_without(mine: Store) -> None:
    fuse = small().causes["signal/fuse-blown"]
    taught = replace(
        small(),
        causes={**small().causes, fuse.id: replace(fuse, probability=0.2)},
        history="History is in use, from 3.",
    )
    record = debriefed(mine, answers=[])
    found = debrief_sheet(taught, record, MADE, small())
    alone = {one.title: one.said for one in sheet(record).suspects}
    assert [one.alone for one in found.suspects[:3]] == [
        f"{alone[one.title]} by the author's figures alone" for one in found.suspects[:3]
    ]
    assert "by the same figures" in found.mark_said
    assert "by the same figures" not in sheet(record).mark_said


def test_words_that_nobody_was_asked_about_are_not_said_to_fit_nothing(mine: Store) -> None:
    record = debriefed(mine)
    book.add_squawk(mine, record.head.id, "gear horn")
    book.add(mine, record.head.id, "corrected", {"squawk": 2, "words": "gear warning horn"})
    found = sheet(book.read(mine, record.head.id))
    assert found.squawks[1].meant == "nobody has said yet what this means in the tree"
    assert "“gear warning horn”: nobody has said yet what this means in the tree." in found.open_points


def test_authority_scale_and_notice_are_on_every_sheet(mine: Store) -> None:
    found = sheet(debriefed(mine))
    assert found.notice == NOTICE
    assert found.authority == ("SM 33, invented",)
    assert "Likelihood bands" in found.scale
    assert not found.invented
    assert sheet(debriefed(mine, origin="demonstration")).invented


def test_a_tree_that_changed_is_said(mine: Store) -> None:
    changed = load_texts({"signal.yaml": SIGNAL.replace("title: listen to the relay", "title: hear the relay")})
    found = debrief_sheet(changed, debriefed(mine), MADE)
    assert any("changed" in one for one in found.open_points)
    gone = load_texts(
        {"signal.yaml": SIGNAL.replace("  dark:\n", "  darker:\n").replace("symptom: dark", "symptom: darker")}
    )
    assert debrief_sheet(gone, debriefed(mine, answers=[]), MADE).suspects == ()


def test_plain_data_is_safe_for_json(mine: Store) -> None:
    data = json.loads(json.dumps(sheet(debriefed(mine)).to_dict()))
    assert data["suspects"][0]["said"].endswith("%")


def test_reports_that_contradict_each_other_have_a_sheet_before_any_check(mine: Store) -> None:
    """The ranking is that of the first; the other is named as left out."""
    library = load_texts({"lamp.yaml": LAMP})
    number = book.open_case(mine, Flight("HM-VLA"), ["dark", "lit"], library.digest)
    for place, symptom in enumerate(("lamp/dark", "lamp/lit"), 1):
        book.match(mine, number, place, symptom)
    found = debrief_sheet(library, book.read(mine, number), MADE)
    assert [one.title for one in found.suspects] == ["bulb burnt"]
    assert "Left out, as it cannot be true together with the rest: the lamp is lit." in found.open_points
