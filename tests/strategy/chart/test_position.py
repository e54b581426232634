"""Where a case stands on a chart: by its answers alone, in any order, and nowhere once it has left."""

from __future__ import annotations

import pytest

from faultree.belief.evidence import Repair, Reply
from faultree.strategy.chart.position import position
from tests.strategy.chart.by_hand import chart, repairs

SILENT, LIT = Reply("signal/click", "silence"), Reply("signal/supply-seen", "yes")


@pytest.mark.parametrize(
    ("steps", "number"),
    [
        ((), 1),
        ((SILENT,), 2),
        ((SILENT, LIT), 6),
        ((LIT, SILENT), 6),
        ((Reply("signal/click", "click"), Reply("signal/voltage", "yes")), 5),
    ],
)
def test_the_answers_lead_from_number_to_number(steps: tuple[Reply, ...], number: int) -> None:
    """The order in which they came does not count."""
    found = position(chart(), steps)
    assert found is chart().nodes[number] or found == chart().nodes[number]


@pytest.mark.parametrize(
    "steps",
    [
        (LIT,),
        (SILENT, Reply("signal/voltage", "yes")),
        (SILENT, Reply("signal/supply-seen", None)),
        (Reply("signal/click", None),),
        (SILENT, LIT, Reply("signal/bench", "no")),
        (SILENT, Repair("signal/fuse", False)),
    ],
    ids=["other order so far", "other check", "cannot tell", "cannot tell at once", "beyond the end", "replaced"],
)
def test_whoever_does_otherwise_has_left_the_chart(steps: tuple[Reply | Repair, ...]) -> None:
    """Another check, a replacement it does not ask for, or an answer that could not be told."""
    assert position(chart(), steps) is None


@pytest.mark.parametrize(("gone", "number"), [(True, 2), (False, 3), (None, None)])
def test_a_replacement_leads_on_by_what_the_operational_check_says(gone: bool | None, number: int | None) -> None:
    """Where that could not be told, the chart does not know how to go on."""
    found = position(repairs(), [Repair("signal/fuse", gone)])
    assert (found.number if found else None) == number


def test_an_answer_that_the_chart_holds_for_impossible_leaves_it() -> None:
    """It is not on the page."""
    one = chart()
    assert position(one, [Reply("signal/click", "bang")]) is None
