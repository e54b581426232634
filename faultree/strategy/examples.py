"""Runs the examples of the tree files: each is a case, and what its ranking must say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from faultree.base.errors import Contradiction
from faultree.base.problem import Problem
from faultree.base.words import percent
from faultree.strategy.case import Case

if TYPE_CHECKING:
    from faultree.library.model import Example, Library

TIE = 1e-12
"""Causes whose probabilities differ by less share a place in the ranking."""


def run(library: Library) -> tuple[Problem, ...]:
    """Every claim of an example that does not hold, as a problem at the example's place.

    `first` must be the likeliest cause (or as likely as the likeliest), with a probability of
    `at_least`; every cause of `cleared` must have probability 0.
    """
    return tuple(problem for example in library.examples for problem in _problems(library, example))


def _problems(library: Library, example: Example) -> list[Problem]:
    try:
        case = Case.open(library, example.symptoms)
        for check, answer in example.answers:
            case = case.answer(check, answer)
    except Contradiction as contradiction:
        return [_problem(example, f"contradicts itself: {contradiction}", "change an answer, or the logic of the tree")]
    return _first(case, example) + _cleared(case, example)


def _first(case: Case, example: Example) -> list[Problem]:
    expected, ranking = example.expect.first, case.ranking()
    if expected is None:
        return []
    top = ranking[0]
    found = next(suspect.probability for suspect in ranking if suspect.cause == expected)
    if found < top.probability - TIE:
        message = (
            f"expects '{expected}' first, but that has {percent(found)} and '{top.cause}' {percent(top.probability)}"
        )
        return [_problem(example, message, "change the expectation, a likelihood or the logic")]
    if found < example.expect.at_least:
        message = f"expects at least {example.expect.at_least} for '{expected}', but it has {found:.4g}"
        return [_problem(example, message, "change the expectation, a likelihood or the logic")]
    return []


def _cleared(case: Case, example: Example) -> list[Problem]:
    found = {suspect.cause: suspect.probability for suspect in case.ranking()}
    return [
        _problem(
            example,
            f"expects '{cause}' to be cleared, but it has {percent(found[cause])}",
            "change the expectation or the logic",
        )
        for cause in example.expect.cleared
        if found[cause] > 0.0
    ]


def _problem(example: Example, message: str, hint: str) -> Problem:
    return Problem(example.at, f"the example “{example.title}” {message}", hint, rule="example")
