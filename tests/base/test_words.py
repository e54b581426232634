"""Names and numbers as a person reads them."""

from __future__ import annotations

import pytest

from faultree.base.words import did_you_mean, listing, minutes, near, percent


@pytest.mark.parametrize("probability", [1e-12, 1e-4, 0.00099, 0.5, 0.9951, 0.999, 0.9999, 1 - 1e-12])
def test_percent_never_claims_a_certainty(probability: float) -> None:
    """A cause that can still be present is never shown as 0 %, and one that may be absent never as 100 %."""
    assert percent(probability) not in {"0 %", "0.0 %", "100 %", "100.0 %"}


def test_percent_never_falls_as_the_probability_grows() -> None:
    """A longer bar never has a smaller figure beside it."""

    def value(text: str) -> float:
        return float(text.strip("<> %"))

    figures = [value(percent(step / 10_000)) for step in range(10, 9_991)]
    assert figures == sorted(figures)


def test_percent_at_the_ends() -> None:
    """What is certain is said as certain."""
    assert (percent(0.0), percent(1.0)) == ("0 %", "100 %")


@pytest.mark.parametrize(
    ("value", "words"),
    [(0, "0 min"), (0.2, "<1 min"), (1, "1 min"), (119.4, "119 min"), (120, "2 h"), (121, "2 h 1 min")],
)
def test_minutes(value: float, words: str) -> None:
    """Short times stay in minutes, and no time that costs something is shown as none."""
    assert minutes(value) == words


def test_near_ignores_case_and_gives_the_closest_first() -> None:
    """People type ids in any case."""
    assert near("LEFT-SENSER", ["right-sensor", "left-sensor", "pump"])[0] == "left-sensor"


def test_a_name_far_from_all_gets_the_other_remedy() -> None:
    """A wild guess is worse than none."""
    assert did_you_mean("zzz", ["left-sensor"], "list them") == "list them"


@pytest.mark.parametrize(
    ("names", "words"), [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")]
)
def test_listing(names: list[str], words: str) -> None:
    """Names stand in a sentence as a person would write them."""
    assert listing(names) == words
