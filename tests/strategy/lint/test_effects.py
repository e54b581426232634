"""Causes without an effect, and causes with the effect of another one, are found exactly."""

from __future__ import annotations

import pytest

from faultree.belief.engine import Limits
from faultree.strategy.lint import effects
from faultree.strategy.lint.study import Study
from tests.strategy.lint.enumerated import Enumerated, library
from tests.strategy.lint.small import after, found, pump

MEND = "; look at what it stands in: that comes out the same whether the cause is there or not"
JOIN = "; add a check that tells them apart, or make them one cause"


@pytest.mark.parametrize("seed", range(60))
def test_causes_are_found_exactly_where_enumeration_finds_them(seed: int) -> None:
    """Of causes that do the same, all but the first in the files."""
    brute = Enumerated(library(seed))
    study = Study(brute.library)
    acting = [name for name in brute.library.causes if brute.acts(name)]
    idle = {one.entry.id for one in effects.no_effect(study)}
    assert idle <= set(brute.library.causes) - set(acting)
    twins = {two for place, two in enumerate(acting) if any(brute.alike(one, two) for one in acting[:place])}
    assert {one.entry.id for one in effects.same_effect(study)} == twins


def test_sound_causes_are_no_finding() -> None:
    assert found("no-effect", pump()) == []
    assert found("same-effect", pump()) == []


def test_a_cause_that_others_settle() -> None:
    """It stands below a check, and in no state changes anything."""
    rust = after("causes", "rust: {title: rust, probability: 0.1, manual: PM 1}")
    absorbed = ("lost_if: [worn, leak]", "lost_if: [worn, leak, {all: [leak, rust]}]")
    assert found("no-effect", pump(rust, absorbed)) == [
        f"cause 'rust' changes nothing that a symptom or a check sees{MEND}"
    ]


def test_a_cause_that_conditions_always_settle() -> None:
    """In no situation that anything is seen in could it matter."""
    changes = [
        after("causes", "rust: {title: rust, probability: 0.1, manual: PM 1}"),
        after("conditions", "hot: {title: hot}"),
        ("lost_if: [worn, leak]", "lost_if: [worn, leak, {all: [hot, rust]}]"),
    ]
    assert found("no-effect", pump(*changes)) == [f"cause 'rust' changes nothing that a symptom or a check sees{MEND}"]


def test_a_cause_that_nothing_names_is_left_to_the_rule_for_that() -> None:
    assert found("no-effect", pump(after("causes", "rust: {title: rust, probability: 0.1}"))) == []


@pytest.mark.parametrize("item", ["", "item: pump, "])
def test_two_causes_that_nothing_tells_apart(item: str) -> None:
    """Be they of one item or not."""
    rust = after("causes", f"rust: {{title: rust, {item}probability: 0.1}}")
    same = ("lost_if: [worn, leak]", "lost_if: [worn, leak, rust]")
    first, second = ("rust", "worn")
    assert found("same-effect", pump(rust, same)) == [
        f"cause '{second}' does the same as '{first}' to every symptom and check{JOIN}"
    ]
    seen = after("checks", "colour: {title: look at the colour, reads: rust, manual: PM 4}")
    assert found("same-effect", pump(rust, same, seen)) == []


def test_a_difference_that_takes_another_two_faults_is_a_difference() -> None:
    """Alone, and beside any one fault, rust and dirt look the same; beside two they do not."""
    changes = [
        after("causes", "dirt: {title: dirt, probability: 0.1}", "rust: {title: rust, probability: 0.1}"),
        ("lost_if: [worn, leak]", "lost_if: [worn, leak, rust, dirt]"),
    ]
    assert len(found("same-effect", pump(*changes))) == 2
    hidden = ("lost_if: [low]", "lost_if: [low], forced_if: [{all: [leak, low, rust]}]")
    assert found("same-effect", pump(*changes, hidden)) == [
        f"cause 'worn' does the same as 'dirt' to every symptom and check{JOIN}"
    ]


def test_of_three_that_do_the_same_two_are_named() -> None:
    three = [
        after("causes", "dirt: {title: dirt, probability: 0.1}", "rust: {title: rust, probability: 0.1}"),
        ("lost_if: [worn, leak]", "lost_if: [worn, leak, rust, dirt]"),
    ]
    assert [one.partition(" to every")[0] for one in found("same-effect", pump(*three))] == [
        "cause 'rust' does the same as 'dirt'",
        "cause 'worn' does the same as 'dirt'",
    ]


def test_what_cannot_be_decided_is_said() -> None:
    """The engine is asked only where neither the simulation nor the form of the logic answers."""
    wide = "the logic is too wide: part it into narrower signals"
    rust = after("causes", "dirt: {title: dirt, probability: 0.1}", "rust: {title: rust, probability: 0.1}")
    idle = ("lost_if: [worn, leak]", "lost_if: [worn, leak, dirt, {all: [rust, {not: turns}]}]")
    assert found("no-effect", pump(rust, idle)) == [
        f"cause 'rust' changes nothing that a symptom or a check sees{MEND}"
    ]
    assert found("no-effect", pump(rust, idle), Limits(cells=1)) == [
        f"cannot be decided: whether cause 'rust' changes anything; {wide}"
    ]
    changes = [rust, ("lost_if: [worn, leak]", "lost_if: [worn, leak, rust, dirt]")]
    hidden = ("lost_if: [low]", "lost_if: [low], forced_if: [{all: [leak, low, rust]}]")
    assert found("same-effect", pump(*changes, hidden), Limits(cells=1)) == [
        f"cannot be decided: whether cause 'rust' does the same as 'dirt'; {wide}",
        f"cause 'worn' does the same as 'dirt' to every symptom and check{JOIN}",
    ]
