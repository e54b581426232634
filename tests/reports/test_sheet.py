"""The sheet holds what the line needs: words as said, ranking, reasons, next steps with cautions, what is not known."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Flight, Record
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


def test_a_case_that_has_ended_proposes_nothing(mine: Store) -> None:
    record = debriefed(mine)
    book.end(mine, record.head.id, "handed over", data={}, who="")
    assert sheet(book.read(mine, record.head.id)).proposals == ()


def test_what_is_not_known_is_said(mine: Store) -> None:
    found = sheet(debriefed(mine))
    assert "Not answered: look at the supply light: cannot tell." in found.open_points
    untouched = sheet(debriefed(mine, answers=[]))
    assert "The crew was not asked: listen to the relay." in untouched.open_points
    loose = sheet(debriefed(mine, words=["coffee cold"], symptom=None))
    assert loose.open_points == ("“coffee cold” fits no symptom of the tree.",)
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
    times = [at for at, _ in sheet(book.read(later, record.head.id)).timeline]
    later.close()
    assert times[0] == "12:00"
    assert times[-1] == "2031-05-05 07:30"


def test_findings_and_deferrals_are_in_words(mine: Store) -> None:
    record = debriefed(mine)
    number = record.head.id
    book.find(mine, number, "signal/fuse", "confirmed", cause="signal/fuse-blown", how="seen", who="MB")
    book.end(
        mine, number, "deferred", due="2031-05-14", data={"category": "C", "days": 10, "found": "2031-05-04"}, who=""
    )
    found = sheet(book.read(mine, number))
    assert found.findings[0] == "confirmed: signal fuse blown, by seen (MB)"
    assert "the last day is 2031-05-14. The operator's approved list governs" in found.findings[1]
    assert ("Last day", "2031-05-14") in found.flight


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
