"""What lies behind a number of a chart: every way that leads there counts."""

from __future__ import annotations

from faultree.walk.chart_trail import Trail, trails
from tests.strategy.chart.by_hand import chart


def test_one_way_is_told_answer_by_answer() -> None:
    """With what was opened and the cautions met, in their order."""
    assert trails(chart())[5] == Trail(
        come_from=(4,),
        answers=((1, "One clear click"), (4, "Yes")),
        opened=("signal/panel",),
        cautions=("signal/probe", "signal/live", "signal/dazzle", "signal/edges"),
        sure=frozenset({"signal/panel", "signal/probe", "signal/live", "signal/dazzle", "signal/edges"}),
    )


def test_where_several_ways_meet_only_what_all_share_is_sure() -> None:
    """The panel is off on one of the two ways; the terminals are live on both."""
    found = trails(chart())[6]
    assert set(found.come_from) == {2, 4}
    assert found.answers is None
    assert found.opened == ("signal/panel",)
    assert found.sure == {"signal/live"}


def test_the_beginning_has_nothing_behind_it() -> None:
    assert trails(chart())[1] == Trail()
