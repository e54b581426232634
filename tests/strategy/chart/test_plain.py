"""Plain data is read field by field, and a wrong field is named with what it must be."""

from __future__ import annotations

import pytest

from faultree.base.errors import ChartError
from faultree.strategy.chart.plain import Record


def test_what_is_right_is_read() -> None:
    """Numbers may be whole; nothing may stand for no text."""
    record = Record({"a": "x", "n": 2, "none": None, "list": ["a"], "many": [{"b": "y"}]}, "here")
    assert record.text("a") == "x"
    assert record.number("n") == 2.0
    assert record.whole("n") == 2
    assert record.text_or_none("none") is None
    assert record.name("a", {"x": 1}, "thing") == "x"
    assert record.names("list", ["a", "b"], "thing") == ("a",)
    assert [one.text("b") for one in record.records("many", "part")] == ["y"]


@pytest.mark.parametrize(
    ("value", "message"),
    [("x", "must be a number"), (True, "must be a number"), (float("nan"), "must be a number"), (-0.1, "must be")],
)
def test_what_is_no_number_is_refused(value: object, message: str) -> None:
    """A truth value, or what is not a number at all, would spoil every sum."""
    with pytest.raises(ChartError, match=message):
        Record({"n": value}, "here").number("n")


def test_nothing_is_not_the_same_as_missing() -> None:
    """A field that may be empty must still stand there."""
    with pytest.raises(ChartError, match="'item' is missing"):
        Record({}, "here").text_or_none("item")


def test_an_unknown_name_is_answered_with_the_nearest() -> None:
    """As everywhere else."""
    with pytest.raises(ChartError, match=r"'a' names the unknown check 'clck'; did you mean 'click'\?"):
        Record({"a": "clck"}, "here").name("a", {"click": 1}, "check")
