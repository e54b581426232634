"""The facts beside a step of a chart: what is empty is left out, and access is new or done already."""

from __future__ import annotations

from faultree.strategy.chart.value import Step
from faultree.walk.chart_facts import Access, accesses, facts_of_check, facts_of_unit
from tests.strategy.chart.by_hand import chart
from tests.walk.small import DARK, small


def test_what_a_check_has_not_is_left_out() -> None:
    """No tools, no manual and no note here."""
    assert facts_of_check(small(), "signal/supply-seen") == (("When", "power on"),)
    assert facts_of_check(small(), "signal/click") == ()


def test_a_replacement_says_where_and_what_to_repeat() -> None:
    """A cause without an item has a manual reference of its own."""
    then = "repeat the operational check and see whether it still holds: the signal lamp stays dark (5 min)"
    assert facts_of_unit(small(), [DARK], "signal/relay") == (
        ("Where", "bay shelf 2"), ("Manual", "SM 33-42"), ("Then", then),
    )  # fmt: skip
    assert facts_of_unit(small(), [DARK], "signal/wire-broken") == (("Manual", "SM 33-49"), ("Then", then))


def test_access_is_new_or_done_already() -> None:
    """What the step opens is new; what it needs besides was opened on the way."""
    step = chart().nodes[4]
    assert isinstance(step, Step)
    assert accesses(small(), step, frozenset()) == (Access("take the left panel off", 15.0, True),)
    again = Step(**{**{name: getattr(step, name) for name in step.__slots__}, "opens": ()})
    assert accesses(small(), again, frozenset({"signal/panel"})) == (Access("take the left panel off", 15.0, False),)
    assert accesses(small(), again, frozenset()) == ()
