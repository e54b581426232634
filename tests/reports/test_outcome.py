"""How a case ended stands by itself, with every particular; what was overtaken by a later state is not said."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import State
from faultree.journal.store import Store
from faultree.reports.outcome import outcomes
from tests.journal.cases import debriefed, opened
from tests.walk.small import small


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def said(store: Store, number: int) -> list[str]:
    return [one.said for one in outcomes(small(), book.read(store, number))]


def test_an_open_case_without_a_finding_has_no_outcome(mine: Store) -> None:
    assert said(mine, debriefed(mine).head.id) == []


def test_one_day_is_one_day(mine: Store) -> None:
    number = debriefed(mine).head.id
    data = {"category": "A", "days": 1, "found": "2031-05-04"}
    book.end(mine, number, "deferred", due="2031-05-05", data=data, who="")
    assert "for 1 day, counted from the day after 2031-05-04: the last day is 2031-05-05." in said(mine, number)[0]


def test_what_a_finding_says_is_not_said_again_by_the_end(mine: Store) -> None:
    number = debriefed(mine).head.id
    book.find(mine, number, "signal/fuse", "replaced", how="operational check", who="MB")
    book.end(mine, number, "confirmed", data={"how": "operational check"}, who="MB")
    assert said(mine, number) == ["put right: signal fuse (operational check)", "the case ended: confirmed."]
    book.end(mine, number, "confirmed", data={"how": "shop report"}, who="MB")
    assert said(mine, number)[1] == "the case ended: confirmed (shop report)."


@pytest.mark.parametrize("state", ["open", "handed over"])
def test_a_deferral_whose_limit_runs_on_stays_on_the_sheet(mine: Store, state: State) -> None:
    number = debriefed(mine).head.id
    data = {"category": "C", "days": 10, "found": "2031-05-04", "reference": "list 33-40-1"}
    book.end(mine, number, "deferred", due="2031-05-14", data=data, who="TS")
    book.end(mine, number, state, due="2031-05-14", data={}, who="MB")
    words = said(mine, number)
    assert words[0].startswith("deferred under category C for 10 days")
    assert words[1:] == ([] if state == "open" else ["the case was handed over."])
    book.end(mine, number, "open", due=None, data={}, who="MB")
    assert said(mine, number) == []
