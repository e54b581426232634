"""What is wrong with the keys of a mapping."""

from __future__ import annotations

import pytest

from tests.library.texts import Broken, broken, loaded, problems


@pytest.mark.parametrize("mistake", broken("records"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken) -> None:
    """The exact messages are what an author works with."""
    assert problems(mistake.fragment) == mistake.messages


def test_the_authors_own_keys_are_kept() -> None:
    """Keys that begin with `x-` may stand at the top, in entries, answers and examples, with data of any form."""
    library = loaded(
        "x-owner: {team: [yes, 1, 1.5, '2', null, true], on: off}\n"
        "causes:\n  x-ray: {title: C, probability: 0.1, x-source: 7}\n"
        "checks:\n  k:\n    title: K\n    answers:\n      a: {text: A, when: x-ray, x-a: 1}\n"
        "      b: {text: B, when: otherwise}\n"
        "symptoms:\n  s: {title: S, event: x-ray}\n"
        "examples:\n  - {title: E, symptom: s, expect: {first: x-ray}, x-seen: never}\n"
    )
    own = ("yes", 1, 1.5, "2", None, True)
    assert library.systems["a"].extra == {"x-owner": {"team": own, "on": "off"}}
    assert library.causes["a/x-ray"].extra == {"x-source": 7}
    assert library.checks["a/k"].answers[0].extra == {"x-a": 1}
    assert library.examples[0].extra == {"x-seen": "never"}


def test_an_empty_section_is_none() -> None:
    """A section whose entries are still to be written does no harm."""
    library = loaded("items:\ncauses: ~\nsignals: {}\nexamples: []\n")
    assert [len(library.items), len(library.causes), len(library.signals), len(library.examples)] == [0, 0, 0, 0]


def test_a_section_that_is_written_twice_is_reported_and_nothing_else() -> None:
    """The ids of both are known, so that no reference to them seems lost."""
    text = "causes:\n  c: {title: C, probability: 0.1}\nevents:\n  e: {title: E, any: [c, d]}\n"
    assert problems(f"{text}causes:\n  d: {{title: D, probability: 0.1}}\n") == [
        "a.yaml:7:1: duplicate key 'causes', which stands on line 3 already; keep one of the two"
    ]


def test_both_contents_of_a_duplicate_key_are_read() -> None:
    """A duplicate does not hide what is wrong within it."""
    assert problems("items:\n  i: {title: I}\n  i: {titel: I}\n") == [
        "a.yaml:5:3: duplicate key 'i', which stands on line 4 already; keep one of the two",
        "a.yaml:5:3: item 'i' has no 'title'; add 'title: ...'",
        "a.yaml:5:7: unknown key 'titel' of an item; did you mean 'title'?",
    ]


def test_what_is_refused_as_yaml_is_reported_once() -> None:
    """An alias in place of an entry or a value gives no second problem about what it stands for."""
    assert problems("items:\n  i: *a\ncauses:\n  c: {title: *b, probability: 0.1, x-a: *c}\nexamples: [*d]\n") == [
        f"a.yaml:{place}: the alias '*{name}' is not allowed; write the content out where it is needed"
        for place, name in (("4:6", "a"), ("6:14", "b"), ("6:41", "c"), ("7:12", "d"))
    ]
