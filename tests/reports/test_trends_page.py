"""The page of trends shows every trend, as a table too, and no word of a crew becomes markup."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.journal.pace import Expected, Pace
from faultree.journal.store import Store
from faultree.journal.trends import Removals, Repeat, Untold
from faultree.reports.trends_page import Trends, trends_html
from faultree.walk.prompt import NOTICE
from tests.journal.cases import HOSTILE, debriefed, opened
from tests.walk.small import DARK, small


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def test_everything_is_on_the_page(mine: Store) -> None:
    trends = Trends(
        "3 within 15 days",
        (debriefed(mine, origin="demonstration"), debriefed(mine)),
        (Repeat("HM-VLA", DARK, "symptom", (1, 2, 3), "2031-05-01", "2031-05-09", (("signal/fuse", 2),)),),
        (Removals("signal/relay", 1, 0, 3), Removals("signal/fuse", 2, 0, 0)),
        tuple((words, 7) for words in HOSTILE),
        (Untold("signal/click", 5, 2),),
        (Pace(DARK, 3, 40.0, Expected(30.0, 25.0)), Pace("signal/button-lamp", 1, 12.0, None)),
        ("aircraft HM-VLA",),
    )
    page = trends_html(small(), trends, "2031-05-04 12:00 UTC")
    for words in ("Trends of 2 cases", "1 of these cases is invented", "3 within 15 days", "1, 2, 3", "75 % (3 of 4)",
                  "signal fuse (2 of 3)", "Only aircraft HM-VLA.", "may lie below what no chart can go below",
                  '<td data-head="from" class="day">2031-05-01</td>',
                  "no chart compiled", "30 min", "2031-05", NOTICE, "listen to the relay"):  # fmt: skip
        assert words in page, words
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert page.count("<svg") == 3


def test_an_empty_journal_is_said_to_be_empty() -> None:
    page = trends_html(small(), Trends("3 within 15 days", (), (), (), (), (), ()), "now")
    assert "Trends of 0 cases" in page
    assert "None." in page
