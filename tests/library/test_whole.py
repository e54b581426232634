"""What the files of a library demand of each other."""

from __future__ import annotations

import math

import pytest

from faultree.library import whole
from faultree.library.model import BANDS
from tests.library.texts import Broken, broken, loaded, problems


@pytest.mark.parametrize("mistake", broken("whole"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken) -> None:
    """The exact messages are what an author works with."""
    assert problems(mistake.fragment) == mistake.messages


def test_one_file_sets_the_scale_of_the_whole_library() -> None:
    library = loaded(
        "likelihoods: {frequent: 0.2, probable: 0.05}\n", "causes:\n  c: {title: C, likelihood: frequent}\n"
    )
    assert library.bands == {**BANDS, "frequent": 0.2, "probable": 0.05}
    assert library.causes["b/c"].probability == 0.2
    assert library.causes["b/c"].likelihood.band == "frequent"


def test_two_files_that_disagree_on_the_scale() -> None:
    assert problems(
        "likelihoods: {frequent: 0.2, probable: 0.1}\n", "likelihoods: {frequent: 0.3, probable: 0.1}\n"
    ) == ["b.yaml:3:15: 'frequent' is 0.3 here and 0.2 in a.yaml; give the scale in one file"]


def test_a_probability_from_a_rate() -> None:
    """It is 1 - exp(-r h), with every digit for small rates: the naive difference loses most of them."""
    library = loaded(
        "causes:\n  c: {title: C, rate: 1e-12}\n  d: {title: D, rate: 1e-4, hours: 5000}\n"
        "  e: {title: E, rate: 0.5, hours: 2}\n"
    )
    assert library.causes["a/c"].probability == pytest.approx(1e-12 - 5e-25, rel=1e-15)
    assert library.causes["a/d"].probability == pytest.approx(1 - 1 / math.sqrt(math.e), rel=1e-14)
    assert library.causes["a/e"].probability == pytest.approx(1 - 1 / math.e, rel=1e-14)


def test_an_item_whose_causes_stand_in_several_files() -> None:
    """Causes of one item exclude each other wherever they are written."""
    cause = "causes:\n  c: {title: C, probability: 0.5, item: a/i}\n"
    found = problems(f"items:\n  i: {{title: I}}\n{cause}", cause)
    message = "the probabilities of the causes of item 'i' add up to 1"
    assert found == [f"a.yaml:4:3: {message}; they exclude each other: lower them to a sum below 1"]


def test_a_cycle_across_files_is_named_as_its_author_sees_it() -> None:
    """Ids of the first file are short, those of other files full."""
    assert problems("signals:\n  x: {title: X, follows: b/y}\n", "signals:\n  y: {title: Y, lost_if: a/x}\n") == [
        "a.yaml:4:3: cycle: x -> b/y -> x; no signal or event may depend on itself: break it at one of them"
    ]


def test_a_long_cycle_is_shortened_and_a_long_chain_is_no_problem() -> None:
    """No recursion: 5,000 signals in a row are read like 5."""
    chain = "".join(f"  s{i}: {{title: S, follows: s{i + 1}}}\n" for i in range(4999))
    assert len(loaded(f"signals:\n{chain}  s4999: {{title: S}}\n").signals) == 5000
    (message,) = problems(f"signals:\n{chain}  s4999: {{title: S, follows: s0}}\n")
    assert message.startswith("a.yaml:4:3: cycle: s0 -> s1 -> ")
    assert "(4977 more)" in message
    assert message.endswith("s4999 -> s0; no signal or event may depend on itself: break it at one of them")


def test_situations_cannot_fill_the_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    """A chain of n situations over n conditions would hold n squared settings."""
    monkeypatch.setattr(whole, "MOST_SETTINGS", 5)
    conditions = "conditions:\n" + "".join(f"  c{i}: {{title: C}}\n" for i in range(3))
    chain = "".join(f"  s{i}: {{title: S, sets: {{c{i}: yes}}, extends: s{i + 1}}}\n" for i in range(2))
    situations = f"situations:\n{chain}  s2: {{title: S, sets: {{c2: no}}}}\n"
    assert problems(conditions + situations) == [
        "a.yaml:8:3: the situations hold more than 5 settings with what they inherit; extend fewer of them"
    ]


def test_the_answers_of_a_check_that_is_wrong_itself_are_not_held_against_an_example() -> None:
    """One mistake gives one message."""
    found = problems(
        "causes:\n  c: {title: C, probability: 0.1}\nsymptoms:\n  s: {title: S, event: c}\n"
        "checks:\n  k: {title: K, answers: none}\n"
        "examples:\n  - {title: E, symptom: s, answers: {k: high}, expect: {first: c}}\n"
    )
    hint = "write the id of each answer as a key, with its fields below it and no '-'"
    assert found == [f"a.yaml:8:26: 'answers' must be a mapping, not 'none'; {hint}"]
