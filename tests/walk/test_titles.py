"""A step in words: an answer that says little by itself stands behind its question."""

from __future__ import annotations

import pytest

from faultree.belief.evidence import Repair, Reply
from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.walk import titles

LAMP = """
faultree: 1
title: A lamp
causes:
  broken: {title: lamp broken, probability: 0.02}
  loose: {title: plug loose, probability: 0.02}
checks:
  bare: {title: look at the lamp, ask: Does it stay dark?, reads: broken}
  told: {title: look at the lamp, ask: Does it stay dark?, reads: broken, yes: It stays dark, no: It is lit}
  mute: {title: look at the lamp, reads: broken}
  which:
    title: look at lamp and plug
    ask: Which of them is bad?
    answers:
      both: {text: Both, when: {all: [broken, loose]}}
      one: {text: One of them at most, when: otherwise}
symptoms:
  dark: {title: the lamp is dark, sees: {broken: yes}}
"""


@pytest.fixture(scope="module")
def lamp() -> Library:
    return load_texts({"lamp.yaml": LAMP})


@pytest.mark.parametrize(
    ("check", "answer", "words"),
    [
        ("bare", "no", "look at the lamp: Does it stay dark? No"),
        ("told", "no", "look at the lamp: It is lit"),
        ("mute", "no", "look at the lamp: No"),
        ("which", "both", "look at lamp and plug: Which of them is bad? Both"),
        ("which", "one", "look at lamp and plug: One of them at most"),
        ("bare", None, "look at the lamp: cannot tell"),
    ],
)
def test_an_answer_of_a_word_or_two_stands_behind_its_question(
    lamp: Library, check: str, answer: str | None, words: str
) -> None:
    assert titles.sentence(lamp, Reply(f"lamp/{check}", answer)) == words


def test_a_repair_says_what_came_of_it(lamp: Library) -> None:
    assert titles.sentence(lamp, Repair("lamp/broken", gone=True)) == "Put right: lamp broken: the symptom is gone"
