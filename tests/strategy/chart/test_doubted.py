"""No end of a chart orders a repair of what is more likely sound, with every fault of the library considered."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.strategy.case import Case
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.doubted import HALF, at_fault, likeliest_ways, ranked, without_doubted
from faultree.strategy.chart.nodes import DOUBTED, Open
from faultree.strategy.chart.value import Chart, End
from tests.strategy.chart.by_hand import chart as by_hand
from tests.trees.demonstration import library
from tests.walk.small import small

OFTEN = 0.02
"""An end that so many cases come to is compared closely."""

NEAR = 0.15
"""So far the chances of a chart are from those with every fault, at such ends of the charts below."""


def charted(symptom: str) -> Chart:
    return compile_chart(library(), [symptom], limit_s=1.0)


@pytest.mark.parametrize(
    "symptom",
    [
        "spoilers/lever-held-on-ground",
        "spoilers/lever-past-stop",
        "leading-edge/device-out-in-cruise",
        "flaps/needles-apart",
        "hydraulics/quantity-2-empty",
        "air-ground/disagree-light-on",
    ],
)
def test_what_an_end_has_put_right_is_likelier_at_fault_than_not(symptom: str) -> None:
    """And where cases often end, its chances are near those of the live advice with the same answers."""
    chart, case = charted(symptom), Case.open(library(), [symptom])
    ways = likeliest_ways(chart)
    ends = [one for one in chart if isinstance(one, End) and not one.cut]
    assert ends
    for end in ends:
        live = ranked(case, ways[end.number][1])
        assert at_fault(library(), end, live) >= HALF, end.number
        if end.probability >= OFTEN:
            near = {one.cause: one.probability for one in live}
            for one in end.causes:
                assert one.probability == pytest.approx(near[one.cause], abs=NEAR), (end.number, one.cause)


def test_where_another_fault_is_likelier_the_chart_is_left() -> None:
    """The lamp lit for a sensor that has nothing to do with the report, and not for the rectifier."""
    doubted = [end for end in charted("spoilers/lever-past-stop") if isinstance(end, End) and end.doubted]
    assert ["electrical/rectifier-2" in end.units for end in doubted] == [True]
    assert all((end.ending, end.say) == ("open", DOUBTED) for end in doubted)


def test_what_is_left_is_counted_as_cut_off() -> None:
    chart = charted("spoilers/lever-past-stop")
    assert chart.cut == pytest.approx(sum(one.probability for one in chart if isinstance(one, End) and one.cut))


def test_a_chart_that_restores_stays_as_it_is() -> None:
    chart = replace(by_hand(), goal="restore")
    assert without_doubted(small(), chart) is chart


def test_all_that_is_found_must_be_likely_and_any_that_is_open() -> None:
    """Two units found together are as sure as the less likely of them."""
    one = next(end for end in by_hand() if isinstance(end, End) and len(end.units) > 1)
    chances = [Open(cause.cause, cause.item, 0.4) for cause in one.causes]
    assert at_fault(small(), replace(one, ending="found"), chances) == pytest.approx(0.4)
    assert at_fault(small(), replace(one, ending="open"), chances) == pytest.approx(0.8)
