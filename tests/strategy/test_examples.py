"""Examples of the tree files: each claim is checked, and one that fails is a problem at its place."""

from __future__ import annotations

import pytest

from faultree.base.problem import Problem
from faultree.belief.engine import Limits
from faultree.strategy.examples import run
from tests.belief.small import PUMP, library


def problems(*lines: str) -> tuple[Problem, ...]:
    """What is wrong with one example of the pump."""
    text = "".join(f"    {line}\n" for line in lines)
    return run(library(f"{PUMP}examples:\n  - title: the example\n{text}"))


HOLDS = [
    ["symptom: still", "expect: {first: valve}"],
    ["symptom: still", "expect: {first: valve, at_least: 0.57}"],
    ["symptom: still", "answers: {feel: no}", "expect: {first: leak, cleared: []}"],
    ["symptom: still", "answers: {feel: yes}", "expect: {first: valve, at_least: 1, cleared: [worn, seized, leak]}"],
    ["symptom: still", "answers: {read: no, listen: nothing}", "expect: {first: seized}"],
]


@pytest.mark.parametrize("lines", HOLDS)
def test_an_example_that_holds_is_no_problem(lines: list[str]) -> None:
    assert problems(*lines) == ()


def test_a_library_without_examples_has_no_problem() -> None:
    assert run(library(PUMP)) == ()


FAILS = {
    "another cause is first": (["expect: {first: worn}"], ["'s/worn' first", "19 %", "'s/valve' 57 %"]),
    "it is less likely": (["expect: {first: valve, at_least: 0.6}"], ["at least 0.6", "0.5725"]),
    "a cause is not cleared": (["expect: {cleared: [worn]}"], ["'s/worn' to be cleared", "19 %"]),
    "it contradicts itself": (["answers: {try: yes}", "expect: {first: valve}"], ["contradicts itself"]),
}


@pytest.mark.parametrize("claim", FAILS)
def test_a_claim_that_does_not_hold_says_what_was_found(claim: str) -> None:
    """With the example's title, its place, and a remedy."""
    lines, words = FAILS[claim]
    (found,) = problems("symptom: still", *lines)
    assert found.message.startswith("the example “the example” ")
    for word in words:
        assert word in found.message
    assert (found.place.file, found.level, found.rule) == ("s.yaml", "error", "example")
    assert found.place.line > len(PUMP.splitlines())
    assert found.hint


def test_every_claim_of_an_example_is_checked() -> None:
    found = problems("symptom: still", "expect: {first: worn, at_least: 0.9, cleared: [leak, valve]}")
    assert len(found) == 3


def test_causes_that_are_equally_likely_share_the_first_place() -> None:
    text = """
causes:
  a: {title: A, probability: 0.1}
  b: {title: B, probability: 0.1}
events:
  top: {title: Top, any: [a, b]}
symptoms:
  reported: {title: Reported, event: top}
examples:
  - {title: one, symptom: reported, expect: {first: a}}
  - {title: other, symptom: reported, expect: {first: b}}
"""
    assert run(library(text)) == ()


def test_a_certainty_that_is_off_by_rounding_is_one() -> None:
    """`at_least: 1` holds for a cause that is the only one left."""
    for leak in (0.2, 0.0000003, 0.7):
        text = f"{PUMP}examples:\n  - {{title: t, symptom: odd, expect: {{first: high, at_least: 1}}}}\n"
        assert run(library(text.replace("probability: 0.20", f"probability: {leak}"))) == ()


def test_it_makes_no_difference_whether_examples_share_an_engine() -> None:
    """Where the shared one would be too wide, each example is a case of its own, with the same words."""
    lines = [
        line for some, _ in FAILS.values() for line in ("- title: t", "  symptom: still", *(f"  {one}" for one in some))
    ]
    known = library(f"{PUMP}examples:\n" + "".join(f"  {line}\n" for line in lines))
    assert len(known.examples) == len(FAILS)
    assert len(run(known)) == len(FAILS)
    assert run(known, Limits(cells=1)) == run(known)
