"""The dearer figures are the case's own, worked out once."""

from __future__ import annotations

from faultree.walk import figures
from faultree.walk.today import Today
from tests.walk.small import asked, walked


def test_figures_are_those_of_the_case() -> None:
    """Remembering changes nothing."""
    case = walked().open_case
    assert figures.advice(case) == case.advice()
    assert figures.checks(case, Today(("crew",))) == case.checks(("crew",))
    assert figures.outlook(case, "signal/voltage") == case.outlook("voltage")


def test_equal_cases_share_their_figures() -> None:
    """A case is a value: two that say the same are asked once, and one step more asks anew."""
    assert figures.advice(walked().open_case) is figures.advice(walked().open_case)
    assert figures.advice(walked().open_case) != figures.advice(walked(*asked("click", "click")).open_case)
