"""Text is never wider than its room, whatever it is."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.diagrams.metrics import clean, width, wrap
from tests.trees.demonstration import library

# Widths of DejaVu Sans in thousandths of the type size, read from its file (hmtx): the widest usual sans-serif face.
MEASURED = {
    "a": 613,
    "m": 974,
    "i": 278,
    "W": 989,
    "0": 636,
    " ": 318,
    "%": 950,
    "l": 278,
    "t": 392,
    "e": 615,
    "@": 1000,
}


@pytest.mark.parametrize(("sign", "thousandths"), MEASURED.items())
def test_no_sign_is_taken_for_narrower_than_it_is(sign: str, thousandths: int) -> None:
    assert thousandths * 0.98 <= width(sign, 1000) <= thousandths * 1.4


def test_titles_of_the_demonstration_keep_their_words() -> None:
    """Ordinary titles are broken between words, and nothing is lost."""
    for cause in library().causes.values():
        lines = wrap(cause.title, 140, 8.5)
        assert len(lines) <= 4
        assert "".join(lines).replace(" ", "") == clean(cause.title).replace(" ", "")
        assert all(width(line, 8.5) <= 140 for line in lines)


@given(st.text(max_size=120), st.floats(20, 300), st.integers(1, 8))
def test_every_line_fits(text: str, room: float, most: int) -> None:
    """No line is wider than its room, and no more lines come than are allowed."""
    lines = wrap(text, room, 8.0, most=most)
    assert len(lines) <= most
    assert all(width(line, 8.0) <= room + 1e-6 for line in lines)


def test_a_text_that_is_too_long_ends_in_an_ellipsis() -> None:
    lines = wrap("word " * 100, 60, 8.0, most=3)
    assert len(lines) == 3
    assert lines[-1].endswith("…")


def test_signs_that_turn_or_control_text_are_taken_out() -> None:
    assert clean("a\x00b\u202ec\u2066d\ud800e") == "a b c d e"


def test_a_number_stays_with_its_unit() -> None:
    for room in range(30, 120, 5):
        assert not any(line.startswith("%") for line in wrap("the share is 49 % of all 12 min", room, 8.0))
