"""What each kind of value refuses."""

from __future__ import annotations

import pytest

from faultree.library.model import Ref
from tests.library.texts import Broken, broken, loaded, problems


@pytest.mark.parametrize("mistake", broken("kinds"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken) -> None:
    """The exact messages are what an author works with."""
    assert problems(mistake.fragment) == mistake.messages


@pytest.mark.parametrize("word", ["yes", "Yes", "on", "true", "TRUE", '"yes"'])
def test_yes_may_be_written_in_several_ways(word: str) -> None:
    assert loaded(f"conditions:\n  c: {{title: C, usually: {word}}}").conditions["a/c"].usually is True


@pytest.mark.parametrize("word", ["yes", "no", "on", "off", "true", "1.50", "012", "1:30", "null-meridian"])
def test_a_word_is_a_text_where_a_text_is_wanted(word: str) -> None:
    """YAML's own guesses (booleans, numbers, times) never reach a text."""
    assert loaded(f"summary: {word}").systems["a"].summary == word


def test_ids_are_never_booleans() -> None:
    """`yes`, `no`, `on` and `off` are ids like any other."""
    library = loaded("causes:\n  on: {title: T, probability: 0.1}\nevents:\n  no: {title: N, any: [on, a/on]}\n")
    assert list(library.causes) == ["a/on"]
    assert library.events["a/no"].gate.operands == (Ref("a/on"), Ref("a/on"))


def test_one_value_stands_for_a_list_of_one() -> None:
    library = loaded("cautions:\n  c: {text: T}\nitems:\n  i: {title: I, cautions: c}\n")
    assert library.items["a/i"].cautions == ("a/c",)


def test_a_number_has_one_spelling() -> None:
    """Plain digits with a point and an exponent; a leading zero is not octal."""
    texts = [f"items:\n  i: {{title: I, minutes: {written}}}\n" for written in ("012", "1.2e1", "12.", "+12")]
    assert [loaded(text).items["a/i"].minutes for text in texts] == [12.0] * 4
