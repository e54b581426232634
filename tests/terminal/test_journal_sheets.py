"""Lists, logs and trends of the journal on a screen of any width; every word of a crew is text."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from rich.console import RenderableType

from faultree.journal import book
from faultree.journal.pace import Expected, Pace
from faultree.journal.store import Store
from faultree.journal.trends import Removals, Repeat, Untold
from faultree.reports.trends_page import Trends
from faultree.terminal.journal_sheets import MOST, draw_cases, draw_record, draw_trends
from faultree.terminal.look import Look, Page
from faultree.terminal.pump import Screen
from tests.journal.cases import HOSTILE, debriefed, opened
from tests.walk.small import DARK, small


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def shown(part: RenderableType, width: int = 80) -> str:
    out = io.StringIO()
    Screen(out, Look(plain=True, width=width)).show(part)
    assert max(map(len, out.getvalue().splitlines())) <= width
    return out.getvalue()


def test_cases_fit_any_width(mine: Store) -> None:
    records = [debriefed(mine, words=HOSTILE), debriefed(mine, words=[], symptom=None)]
    for width in (60, 80, 120):
        out = shown(draw_cases(records, Page(width, plain=True)), width)
        assert "<script>" in " ".join(out.split())
        assert "(no words yet)" in " ".join(out.split())


def test_a_log_tells_every_kind_of_entry(mine: Store) -> None:
    number = debriefed(mine).head.id
    book.add(mine, number, "corrected", {"squawk": 1, "words": "lamp dark"})
    book.add(mine, number, "note", {"text": "hurry"})
    book.add(mine, number, "event", {"begun": [DARK]})
    book.find(mine, number, "signal/fuse", "confirmed", cause="signal/fuse-blown", how="seen", who="MB")
    book.end(mine, number, "deferred", due="2031-05-14", data={"category": "C"}, who="MB")
    out = " ".join(shown(draw_record(book.read(mine, number), Page(80, plain=True))).split())
    for words in ("Case 1: deferred", "Due 2031-05-14", "opened, with the tree files", "squawk 1: “lamp out”",
                  "squawk 1 means signal/dark", "the words of squawk 1 are now: “lamp dark”", "hurry",
                  "the checks were begun", "confirmed: signal/fuse-blown (seen)",
                  "the case is deferred: category C", "(MB)",
                  "corrected to “lamp dark”", "licensed engineer"):  # fmt: skip
        assert words in out, words


def test_trends_in_words(mine: Store) -> None:
    many = tuple((f"words {number}", number) for number in range(MOST + 3))
    trends = Trends(
        "3 within 15 days",
        (debriefed(mine),),
        (Repeat("HM-VLA", "signal/fuse", "unit", (1, 2, 3), "2031-05-01", "2031-05-09"),),
        (Removals("signal/relay", 1, 0, 3), Removals("signal/fuse", 2, 0, 0)),
        many,
        (Untold("signal/click", 5, 2),),
        (Pace(DARK, 3, 40.0, Expected(30.0, 25.0)), Pace("signal/button-lamp", 1, 12.0, None)),
    )
    out = " ".join(shown(draw_trends(small(), trends, Page(80, plain=True))).split())
    for words in ("1 case", "HM-VLA: signal fuse, 3 times from 2031-05-01 to 2031-05-09 (cases 1, 2, 3)",
                  "signal relay: 3 of 4 times (75 %)", "40 min in 3 cases; the chart 30 min (none below 25 min)",
                  "12 min in 1 case; no chart compiled", "and 3 more",
                  "listen to the relay: 2 of 5 times"):  # fmt: skip
        assert words in out, words
    assert "signal fuse: 0 of" not in out


def test_an_empty_record_of_trends_says_none() -> None:
    out = shown(draw_trends(small(), Trends("3 within 15 days", (), (), (), (), (), ()), Page(80, plain=True)))
    assert out.count("none") == 5
