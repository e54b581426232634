"""What a person means by a few words, and when to ask back."""

from __future__ import annotations

import pytest

from faultree.base.errors import UnknownName
from faultree.walk import names
from tests.walk.small import small, walked


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("signal/lamp", "signal/lamp"),
        ("lamp", "signal/lamp"),
        ("LAMP-BROKEN", "signal/lamp-broken"),
        ("signal lamp broken", "signal/lamp-broken"),
        ("fuse", "signal/fuse"),
        ("fuse blown", "signal/fuse-blown"),
        ("wire", "signal/wire-broken"),
        ("volt", "signal/voltage"),
        ("weather", "signal/weather"),
        ("relay", "signal/relay"),
    ],
)
def test_words_that_fit_one_thing(typed: str, meant: str) -> None:
    """An id, a short id, a title, or the beginnings of its words; an item rather than its only cause."""
    assert names.in_case(walked().open_case, typed) == meant


@pytest.mark.parametrize(("typed", "ambiguous"), [("signal", True), ("zebra", False), ("!!", False)])
def test_words_that_fit_several_things_or_none_are_asked_back(typed: str, ambiguous: bool) -> None:
    """The error carries the candidates, so that a face can offer them."""
    with pytest.raises(UnknownName) as caught:
        names.in_case(walked().open_case, typed)
    assert caught.value.ambiguous is ambiguous


def test_units_are_found_among_the_likely_ones_first() -> None:
    """Replacing by words looks among the suspects, then among everything that can be replaced."""
    case = walked().open_case
    assert names.unit_in_case(case, "lamp") == "signal/lamp"
    assert names.unit_in_case(case, "wire") == "signal/wire-broken"
    with pytest.raises(UnknownName):
        names.unit_in_case(case, "signal")
    with pytest.raises(UnknownName):
        names.unit_in_case(case, "engine")


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("dark", ["signal/dark"]),
        ("stays dark", ["signal/dark", "signal/button-lamp"]),
        ("lamp out", ["signal/dark"]),
        ("doubly", ["signal/doubly-bad"]),
        ("zebra", []),
    ],
)
def test_reports_are_found_by_the_words_that_crews_use(typed: str, found: list[str]) -> None:
    """Title and id come first; the author's phrases help where those do not fit."""
    assert names.symptoms(small(), typed) == found
