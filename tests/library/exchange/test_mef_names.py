"""Names of the format and ids of tree files: legal ones stay, others become legal and distinct."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.library.exchange.mef_names import Taken, is_name, is_path, name_from, new_id
from faultree.library.values import is_id


@pytest.mark.parametrize("name", ["a", "G1", "_x", "a-b-c", "a-1", "Ü", "pump_2", "हिन्दी"])
def test_names(name: str) -> None:
    assert is_name(name)


@pytest.mark.parametrize("name", ["", "1a", "-a", "a-", "a--b", "a.b", "a b", "a:b", "a/b", "a\n", "²a", "'a'"])
def test_no_names(name: str) -> None:
    assert not is_name(name)


@given(st.text(st.sampled_from("aZ_-.1é "), max_size=8))
def test_names_follow_the_pattern_of_the_schema(text: str) -> None:
    r"""NCName, and `[^\-.]+(-[^\-.]+)*`."""
    expected = re.fullmatch(r"[^\-.]+(-[^\-.]+)*", text) and re.match("[a-zA-Z_é]", text) and " " not in text
    assert is_name(text) == bool(expected)


def test_a_path_is_names_with_dots() -> None:
    assert is_path("FT.A.BE-1")
    assert not is_path("FT.")
    assert not is_path(".a")


@given(st.text())
def test_any_text_becomes_a_name_and_an_id(text: str) -> None:
    """A legal one stays as it is."""
    assert is_name(name_from(text))
    assert is_id(new_id(text, "event"))
    assert name_from(name_from(text)) == name_from(text)
    if is_name(text):
        assert name_from(text) == text
    if is_id(text):
        assert new_id(text, "event") == text


@given(st.lists(st.sampled_from(["a", "a-2", "a-3", "b"]), max_size=12))
def test_names_handed_out_are_distinct(wanted: list[str]) -> None:
    taken = Taken(["a-2"])
    found = [taken.free(one) for one in wanted]
    assert len({*found, "a-2"}) == len(found) + 1
