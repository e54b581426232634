"""Runs the examples of the tree files: each is a case, and what its ranking must say."""

from __future__ import annotations

from typing import TYPE_CHECKING

from faultree.base.errors import Contradiction
from faultree.base.problem import Problem
from faultree.base.words import percent
from faultree.belief.engine import Limits, TooWide
from faultree.belief.evidence import Reply, readings_of
from faultree.belief.frame import frame_of
from faultree.belief.plan import exact_plan, finding
from faultree.strategy.case import Case

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from faultree.belief.engine import On
    from faultree.belief.frame import Frame
    from faultree.library.model import Example, Library

TIE = 1e-12
"""Probabilities that differ by less are the same, up to rounding."""


def run(library: Library, limits: Limits = Limits()) -> tuple[Problem, ...]:
    """Every claim of an example that does not hold, as a problem at the example's place.

    Examples of the same report share an engine where that is exact within the limits. `first` must be
    the likeliest cause (or as likely as the likeliest), with a probability of `at_least`; every cause of
    `cleared` must have probability 0.
    """
    grouped: dict[tuple[str, ...], list[Example]] = {}
    for example in library.examples:
        grouped.setdefault(example.symptoms, []).append(example)
    found = [problem for group in grouped.values() for problem in _of_group(library, group, limits)]
    return tuple(sorted(found, key=lambda problem: problem.place))


def _of_group(library: Library, group: Sequence[Example], limits: Limits) -> Iterator[Problem]:
    """The examples of one report, by one engine for all that they answer where that is narrow enough."""
    frame = frame_of(library)
    findings = [_findings(frame, example) for example in group]
    try:
        plan = exact_plan(frame, [one.point for some in findings for one in some], limits)
    except TooWide:
        plan = None
    for example, some in zip(group, findings, strict=True):
        result = plan.run(some) if plan is not None else None
        if result is None or result.log_z == float("-inf"):
            yield from _of_case(library, example)
        else:
            causes = (cause for root in frame.prior.roots for cause in root.causes)
            yield from _claims(example, dict(zip(causes, result.causes.tolist(), strict=True)))


def _findings(frame: Frame, example: Example) -> list[On]:
    steps = [Reply(check, answer) for check, answer in example.answers]
    return [finding(one) for one in readings_of(frame, example.symptoms, steps)]


def _of_case(library: Library, example: Example) -> list[Problem]:
    """An example as a case of its own, which says what contradicts what."""
    try:
        case = Case.open(library, example.symptoms)
        for check, answer in example.answers:
            case = case.answer(check, answer)
    except Contradiction as contradiction:
        return [_problem(example, f"contradicts itself: {contradiction}", "change an answer, or the logic of the tree")]
    return _claims(example, {suspect.cause: suspect.probability for suspect in case.ranking()})


def _claims(example: Example, found: Mapping[str, float]) -> list[Problem]:
    return [*_first(example, found), *_cleared(example, found)]


def _first(example: Example, found: Mapping[str, float]) -> list[Problem]:
    expected = example.expect.first
    if expected is None:
        return []
    top, chance = max(found, key=found.__getitem__), found[expected]
    if chance < found[top] - TIE:
        message = f"expects '{expected}' first, but that has {percent(chance)} and '{top}' {percent(found[top])}"
    elif chance < example.expect.at_least - TIE:
        message = f"expects at least {example.expect.at_least} for '{expected}', but it has {chance:.4g}"
    else:
        return []
    return [_problem(example, message, "change the expectation, a likelihood or the logic")]


def _cleared(example: Example, found: Mapping[str, float]) -> list[Problem]:
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
