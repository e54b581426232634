"""Answers that overlap or leave a gap are found exactly, with a smallest fault set that shows it."""

from __future__ import annotations

import pytest

from faultree.belief.engine import Limits
from faultree.strategy.lint import answers
from faultree.strategy.lint.study import Study
from tests.strategy.lint.enumerated import Enumerated, library
from tests.strategy.lint.small import found, pump

LET = "; let their 'when' exclude each other"
WIDEN = "; widen a 'when', or let the last answer say 'when: otherwise'"
FULL, NOTHING = "when: flow", "when: otherwise"


@pytest.mark.parametrize("seed", range(60))
def test_a_check_is_found_exactly_where_enumeration_finds_it(seed: int) -> None:
    """No sampling: every set of causes that can be together counts, and no other."""
    brute = Enumerated(library(seed))
    study = Study(brute.library)
    counts = {name: [sum(answers) for answers in by_set.values()] for name, by_set in brute.right.items()}
    assert {one.entry.id for one in answers.overlap(study)} == {name for name, some in counts.items() if max(some) > 1}
    assert {one.entry.id for one in answers.gap(study)} == {name for name, some in counts.items() if min(some) == 0}


def test_the_random_checks_are_of_every_kind() -> None:
    counts = [sum(one) for seed in range(60) for by in Enumerated(library(seed)).right.values() for one in by.values()]
    assert {0, 1, 2} <= set(counts)


def test_sound_answers_are_no_finding() -> None:
    for rule in ("answers-overlap", "answers-gap"):
        assert found(rule, pump()) == []
        assert found(rule, pump((NOTHING, "when: {not: flow}"))) == []


def test_an_overlap_names_the_answers_and_the_faults() -> None:
    assert found("answers-overlap", pump((NOTHING, "when: leak"), (FULL, "when: turns"))) == [
        f"answers 'full' and 'nothing' of check 'outlet' are right at once with 'leak', in situation 'running'{LET}"
    ]
    assert found("answers-overlap", pump((NOTHING, "when: turns"))) == [
        (
            "answers 'full' and 'nothing' of check 'outlet' are right at once with nothing wrong,"
            f" in situation 'running'{LET}"
        )
    ]


def test_a_gap_names_the_faults_and_two_where_it_takes_two() -> None:
    assert found("answers-gap", pump((NOTHING, "when: seized"))) == [
        f"no answer of check 'outlet' is right with 'leak', in situation 'running'{WIDEN}"
    ]
    both = pump((FULL, "when: {not: leak}"), (NOTHING, "when: {not: low}"))
    assert found("answers-gap", both) == [
        f"no answer of check 'outlet' is right with 'leak' and 'low' together, in situation 'running'{WIDEN}"
    ]


def test_causes_of_one_item_never_make_an_overlap() -> None:
    """A pump is not worn and seized at once, so these two answers exclude each other."""
    changes = [(FULL, "when: worn"), (NOTHING, "when: seized")]
    assert found("answers-overlap", pump(*changes)) == []
    assert len(found("answers-gap", pump(*changes))) == 1


def test_the_situation_counts() -> None:
    """With the pump off nothing flows, and the answers are the same whatever is wrong."""
    at_rest = ("    situation: running\n    manual: PM 4\n    answers", "    manual: PM 4\n    answers")
    assert found("answers-gap", pump(at_rest, (NOTHING, "when: turns"))) == [
        f"no answer of check 'outlet' is right with nothing wrong, with all as usual{WIDEN}"
    ]


def test_a_fault_of_another_file_is_named_in_full() -> None:
    other = "faultree: 1\ntitle: Other\ncauses:\n  dark: {title: dark, probability: 0.1}\n"
    assert found("answers-gap", pump((NOTHING, "when: {all: [{not: flow}, {not: other/dark}]}"), other=other)) == [
        "no answer of check 'outlet' is right with 'other/dark' and 'leak' together, in situation 'running'" + WIDEN
    ]


def test_what_cannot_be_decided_is_said() -> None:
    """Nothing is claimed either way."""
    too_narrow = Limits(cells=1)
    assert found("answers-overlap", pump((NOTHING, "when: leak")), too_narrow) == [
        (
            "cannot be decided: whether two answers of check 'outlet' can be right at once;"
            " the logic is too wide: part it into narrower signals"
        )
    ]
    assert found("answers-gap", pump((NOTHING, "when: leak")), too_narrow) == [
        (
            "cannot be decided: whether check 'outlet' always has a right answer;"
            " the logic is too wide: part it into narrower signals"
        )
    ]
