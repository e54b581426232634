"""Trends on a screen: every figure with its count, what was narrowed, and every row for whoever asks for it."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from rich.console import RenderableType

from faultree.journal.pace import Expected, Pace
from faultree.journal.store import Store
from faultree.journal.trends import Removals, Repeat, Untold
from faultree.reports.trends_page import COMPARED, Trends
from faultree.terminal.look import Look, Page
from faultree.terminal.pump import Screen
from faultree.terminal.trends_sheet import MOST, draw_trends
from tests.journal.cases import debriefed, opened
from tests.walk.small import DARK, small


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def shown(part: RenderableType) -> str:
    out = io.StringIO()
    Screen(out, Look(plain=True, width=80)).show(part)
    return " ".join(out.getvalue().split())


def trends(store: Store) -> Trends:
    return Trends(
        "3 within 15 days",
        (debriefed(store, origin="demonstration"),),
        (
            Repeat("HM-VLA", "signal/fuse", "unit", (1, 2, 3), "2031-05-01", "2031-05-09"),
            Repeat("HM-VLB", DARK, "symptom", (4, 5, 6), "2031-05-01", "2031-05-09", (("signal/fuse", 2),)),
        ),
        (Removals("signal/relay", 1, 0, 3), Removals("signal/fuse", 2, 0, 0)),
        tuple((f"words {number}", number) for number in range(MOST + 3)),
        (Untold("signal/click", 5, 2),),
        (Pace(DARK, 3, 40.0, Expected(30.0, 25.0)), Pace("signal/button-lamp", 1, 12.0, None)),
        ("aircraft HM-VLA",),
    )


def test_every_trend_with_its_figures(mine: Store) -> None:
    out = shown(draw_trends(small(), trends(mine), Page(80, plain=True)))
    for words in (
        "Only aircraft HM-VLA.",
        "1 of them is invented",
        "HM-VLA: signal fuse, 3 times from 2031-05-01 to 2031-05-09 (cases 1, 2, 3)",
        "(cases 4, 5, 6); at fault in them: signal fuse (2 of 3)",
        "signal relay: 75 % (3 of 4)",
        "40 min in 3 cases; the chart 30 min (none below 25 min)",
        "12 min in 1 case; no chart compiled",
        "listen to the relay: 2 of 5 times",
    ):
        assert words in out, words
    assert "signal fuse: 0" not in out


def test_a_mean_below_the_chart_is_explained_where_one_is_shown(mine: Store) -> None:
    found = trends(mine)
    assert COMPARED in shown(draw_trends(small(), found, Page(80, plain=True)))
    without = shown(draw_trends(small(), Trends(found.rule, (), (), (), (), (), ()), Page(80, plain=True)))
    assert COMPARED not in without
    assert without.count("none") == 5


def test_every_row_can_be_had(mine: Store) -> None:
    found = trends(mine)
    assert "and 3 more; --all lists them" in shown(draw_trends(small(), found, Page(80, plain=True)))
    assert f"“words {MOST + 2}”" in shown(draw_trends(small(), found, Page(80, plain=True), None))
