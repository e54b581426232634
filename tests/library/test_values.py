"""Words of a file are read as numbers, yes or no, or an author's own data by our rules alone."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.library.values import control, flag, is_id, number, own, shown, whole


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_every_number_is_read_back_as_it_was_written(value: float) -> None:
    assert number(repr(value)) == value


@pytest.mark.parametrize(
    "text", ["", ".", "e5", "1e", "0x10", "1_0", "1 0", "١", "inf", "-.inf", ".nan", "1:30", "1,5"]
)
def test_nothing_else_is_a_number(text: str) -> None:
    """Neither what YAML 1.1 takes for numbers nor what Python does."""
    assert number(text) is None
    assert own(text, plain=True) == (text or None)


def test_digits_without_end_raise_nothing() -> None:
    """Python refuses to make an integer of more than 4,300 digits; a hostile file may hold more."""
    assert number("9" * 5000) == math.inf
    assert whole("9" * 5000) is None
    assert own("9" * 5000, plain=True) == math.inf


@pytest.mark.parametrize("text", ["y", "n", "1", "0", "ja", "yes ", ""])
def test_only_six_words_mean_yes_or_no(text: str) -> None:
    assert flag(text) is None


@pytest.mark.parametrize("text", ["", "-a", "_a", "1a", "a b", "a.b", "a/b", "é", "a\n", "aé"])
def test_what_is_no_id(text: str) -> None:
    assert not is_id(text)


@pytest.mark.parametrize(
    "character", ["\x1b", "\x00", "\x7f", "\x9b", "\u202e", "\u2066", "\u2028", "\ud800", "\ufeff"]
)
def test_what_could_disturb_a_screen_is_found_and_never_shown(character: str) -> None:
    """Escape sequences, changes of the writing direction, halves of characters."""
    assert control(f"a{character}b") == character
    assert shown(f"a{character}b") == f"a\\u{ord(character):04x}b"


@given(st.text())
def test_a_shown_value_is_one_short_line(text: str) -> None:
    """Five characters of an escaped one may stand for each."""
    assert control(shown(text)) is None
    assert "\n" not in shown(text)
    assert len(shown(text)) <= 40 * 6
