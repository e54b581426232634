"""Lists and logs of the journal on a screen of any width; every word of a crew is text."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from rich.console import RenderableType

from faultree.journal import book
from faultree.journal.store import Store
from faultree.terminal.journal_sheets import draw_cases, draw_record
from faultree.terminal.look import Look, Page
from faultree.terminal.pump import Screen
from tests.journal.cases import HOSTILE, debriefed, opened
from tests.walk.small import DARK


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
    book.find(mine, number, "signal/relay", "not found")
    data = {"category": "C", "days": 10, "found": "2031-05-04", "reference": "list 33-40-1"}
    book.end(mine, number, "deferred", due="2031-05-14", data=data, who="MB")
    out = " ".join(shown(draw_record(book.read(mine, number), Page(80, plain=True))).split())
    for words in ("Case 1: deferred", "Due 2031-05-14", "opened, with the tree files", "squawk 1: “lamp out”",
                  "squawk 1 means signal/dark", "the words of squawk 1 are now: “lamp dark”", "hurry",
                  "the checks were begun", "confirmed: signal/fuse-blown (seen)",
                  "deferred under category C for 10 days, counted from the day after 2031-05-04",
                  "the last day is 2031-05-14. Reference: list 33-40-1.", "(MB)", "no fault found: signal/relay",
                  "Log (times in UTC)", "2031-05-04 12:00 UTC",
                  "corrected to “lamp dark”", "licensed engineer"):  # fmt: skip
        assert words in out, words
