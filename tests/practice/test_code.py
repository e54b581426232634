"""The code of an exercise comes back as it was, and a slip of the pen is found."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.practice import code
from tests.practice.small import gate


@given(st.integers(1, 4), st.integers(0, code.SEEDS - 1))
def test_a_code_comes_back(level: int, seed: int) -> None:
    text = code.write(gate(), "g/still", level, seed)
    assert code.read(gate(), text) == ("g/still", level, seed)
    assert code.read(gate(), text.lower().replace("-", " ")) == ("g/still", level, seed)


@given(st.integers(0, code.SEEDS - 1), st.integers(0, 11), st.integers(0, 31))
def test_a_wrong_sign_is_found(seed: int, place: int, sign: int) -> None:
    """One sign changed by anything but 31 (first sign for last) changes the sum, or the library, or the symptom."""
    good = code.write(gate(), "g/still", 2, seed).replace("-", "")
    was = code._LETTERS.index(good[place])
    bad = good[:place] + code._LETTERS[sign] + good[place + 1 :]
    if abs(was - sign) in (0, 31):
        return
    with pytest.raises(CaseError):
        code.read(gate(), bad)


@given(st.integers(0, code.SEEDS - 1), st.integers(0, 9))
def test_two_signs_in_the_wrong_order_are_found(seed: int, place: int) -> None:
    good = code.write(gate(), "g/still", 2, seed).replace("-", "")
    bad = good[:place] + good[place + 1] + good[place] + good[place + 2 :]
    if bad == good or {good[place], good[place + 1]} == {"0", "Z"}:
        return
    with pytest.raises(CaseError):
        code.read(gate(), bad)


def test_letters_that_look_alike_are_taken_for_each_other() -> None:
    text = code.write(gate(), "g/still", 1, 0)
    assert "0" in text
    assert code.read(gate(), text.replace("0", "o")) == ("g/still", 1, 0)


def test_what_is_no_code_is_told_how_one_looks() -> None:
    with pytest.raises(CaseError, match=r"'hello' is no exercise code; one looks like \S{4}-\S{4}-\S{4}$"):
        code.read(gate(), "hello")


def test_another_library_is_named_as_the_reason() -> None:
    other = replace(gate(), digest="f" * 40)
    with pytest.raises(CaseError, match="another version of the tree files; with this one"):
        code.read(other, code.write(gate(), "g/still", 1, 7))


def test_without_a_symptom_no_code_can_be_shown() -> None:
    with pytest.raises(CaseError, match=r"is no exercise code$"):
        code.read(load_texts({"a.yaml": "faultree: 1\ntitle: A"}), "x")
