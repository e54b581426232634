"""The symptom that a crew means is found by other words, other order, and words spelt wrong."""

from __future__ import annotations

import pytest

from faultree.journal.search import search
from faultree.library.load import load_texts

LIBRARY = load_texts(
    {
        "s.yaml": """
faultree: 1
title: A few reports
causes: {x: {title: x, probability: 0.1}}
events: {e: {title: e, any: [x]}}
symptoms:
  down: {title: all spoilers stay down at landing, words: [no lift dump], event: e}
  uneven: {title: the spoiler panels rise unevenly, event: e}
  lamp: {title: the amber transit light stays on after the flaps are up, event: e}
  dark: {title: the amber transit light stays dark while the flaps travel, event: e}
  slow: {title: the flaps travel slowly, words: [flaps took ages], event: e}
"""
    }
)


@pytest.mark.parametrize(
    ("words", "symptom"),
    [
        ("all spoilers stay down at landing", "s/down"),
        ("boards didn't pop up at touchdown", "s/down"),
        ("no lift dump", "s/down"),
        ("at landing, spoilers: none came up", "s/down"),
        ("spoiler panels uneven", "s/uneven"),
        ("transit lamp on with flaps up", "s/lamp"),
        ("amber lite stays on after flaps up", "s/lamp"),
        ("transit light not illuminated while flaps travel", "s/dark"),
        ("sluggish flaps", "s/slow"),
        ("flaps TOOK AGES!!", "s/slow"),
        ("falps slowly", "s/slow"),
    ],
)
def test_the_symptom_comes_first(words: str, symptom: str) -> None:
    assert search(LIBRARY, words)[0].symptom == symptom


@pytest.mark.parametrize("words", ["", "  ", "the and of", "zebra", "!!! ???", '"', "OR AND NOT NEAR(", "x" * 5000])
def test_words_of_no_use_find_nothing_and_break_nothing(words: str) -> None:
    assert search(LIBRARY, words) == ()


def test_every_title_and_phrase_finds_its_own() -> None:
    for symptom in LIBRARY.symptoms.values():
        for text in (symptom.title, *symptom.words):
            assert [one.symptom for one in search(LIBRARY, text, 1)] == [symptom.id]
