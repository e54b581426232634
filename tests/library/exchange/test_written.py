"""Plain data becomes a tree file that reads back as it was, whatever its texts hold."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.base.problem import Place, Problem
from faultree.library.exchange import written
from faultree.library.exchange.written import listed, tree_text
from faultree.library.load import load_texts
from faultree.library.writer import write

texts = st.text(st.characters(codec="utf-8"), max_size=30)
values = st.recursive(
    texts | st.integers(-(10**14), 10**14) | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(texts, inner, max_size=3),
    max_leaves=8,
)


def _back(value: object) -> object:
    """What the reader should give: lists as tuples, whole numbers as such."""
    if isinstance(value, float):
        return int(value) if value.is_integer() and abs(value) < 1e15 else value
    if isinstance(value, list):
        return tuple(_back(one) for one in value)
    return {key: _back(one) for key, one in value.items()} if isinstance(value, dict) else value


@given(values)
def test_any_data_reads_back(value: object) -> None:
    found = tree_text({"faultree": 1, "title": "T", "items": {"i": {"title": "I", "x-own": value}}}, "f", "f.xml")
    assert found.text is not None, found.problems
    assert load_texts({"f.yaml": found.text}).items["f/i"].extra["x-own"] == _back(value)


def test_the_file_is_laid_out_as_tidy_would() -> None:
    data = {"faultree": 1, "title": "T: a", "causes": {"c": {"title": "C", "probability": 1e-5}}, "events": {}}
    text = tree_text(data, "f", "f.xml").text
    assert text == "faultree: 1\ntitle: 'T: a'\n\ncauses:\n  c: {title: C, probability: 1e-05}\n"
    assert write(text, "f.yaml").text == text


def test_what_would_not_read_is_told_of_the_file_that_it_came_from() -> None:
    """Nothing is handed out that does not load."""
    found = tree_text({"faultree": 1, "title": "T", "causes": {"c": {"title": "C"}}}, "f", "f.xml")
    assert found.text is None
    assert str(found.problems[0]).startswith("f.xml: the tree file made of it would not read (its line 4): ")


def test_a_tree_file_that_would_be_too_large_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(written, "MAX_BYTES", 20)
    found = tree_text({"faultree": 1, "title": "T"}, "f", "f.xml")
    assert found.text is None
    assert str(found.problems[0]) == "f.xml: the tree file would have 21 bytes; at most 20 are read; split the model"


def test_of_very_many_problems_the_first_are_listed() -> None:
    """Each once, in the order of the file."""
    many = [Problem(Place("f.xml", line), "wrong", "mend it") for line in range(900, 0, -1)]
    found = listed([*many, *many])
    assert len(found) == 501
    assert [one.place.line for one in found] == list(range(1, 502))
    assert str(found[-1]) == "f.xml:501:0: more problems from here on; mend those above first"
    assert listed(many[:2]) == (many[1], many[0])
