"""The curve of a run: bits missing at the start, and after each step, over the minutes spent."""

from __future__ import annotations

from faultree.practice.curve import Moment, curve
from faultree.practice.events import Ask, PutRight
from faultree.practice.telling import missing
from faultree.strategy.case import Case
from tests.practice.small import gate
from tests.practice.test_mark import done


def test_a_curve_starts_at_the_report_and_ends_where_all_is_known() -> None:
    found = curve(done(Ask("listen"), PutRight("motor")))
    assert found[0] == Moment(0.0, missing(Case.open(gate(), ["still"])))
    assert [one.minutes for one in found] == [0.0, 2.0, 35.0]
    assert found[0].bits > found[1].bits >= found[2].bits == 0.0
