"""A comparison as drawn: every course in a line of figures, then the partings, within the page."""

from __future__ import annotations

import pytest

from faultree.strategy.chart.against import Other, Parting
from faultree.terminal.chart_against_sheet import draw_against
from faultree.terminal.look import Page
from faultree.walk.chart_against import against_page
from tests.strategy.chart.by_hand import chart
from tests.terminal.drawn import as_shown, cells
from tests.walk.small import small

OTHERS = (Other("mine.yaml", chart(), (Parting((), 1.0, 1, 4),)), Other("greedy by bits", chart(), ()))


@pytest.mark.parametrize("width", [40, 80, 120])
def test_a_comparison_stays_within_the_page(width: int) -> None:
    """Names, figures with their heads, and the partings."""
    drawn = as_shown(draw_against(against_page(small(), chart(), OTHERS), Page(width, True)), width=width)
    assert all(cells(line) <= width for line in drawn.splitlines())
    flat = " ".join(drawn.split())
    wanted = ["at worst", "18.8 min", "28 min", "50 %", "Where mine.yaml parts from this chart", "At the beginning:"]
    assert [words for words in wanted if words not in flat] == []
    assert "The other (greedy by bits) does the same as this chart." in flat


def test_what_left_open_means_is_said() -> None:
    """A list that leaves much open is cheap for no good reason."""
    drawn = as_shown(draw_against(against_page(small(), chart(), OTHERS), Page(80, True)))
    assert "several things could still be at fault" in " ".join(drawn.split())


def test_partings_that_are_not_told_are_counted() -> None:
    """One as one."""
    many = Other("mine.yaml", chart(), tuple(Parting((), 1.0, 1, 4) for _ in range(5)))
    assert "and in 1 more place" in as_shown(draw_against(against_page(small(), chart(), [many]), Page(80, True)))
