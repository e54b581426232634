"""A symptom is the work of some fault, is not there without one, and has an example."""

from __future__ import annotations

import pytest

from faultree.belief.engine import Limits
from faultree.strategy.lint import reports
from faultree.strategy.lint.study import Study
from tests.strategy.lint.enumerated import Enumerated, library
from tests.strategy.lint.small import after, found, pump

MEND = "; mend what it sees, its situation or the logic below it"


@pytest.mark.parametrize("seed", range(40))
def test_symptoms_are_found_exactly_where_enumeration_finds_them(seed: int) -> None:
    brute = Enumerated(library(seed))
    study = Study(brute.library)
    never = {name for name, shown in brute.shows.items() if not any(shown.values())}
    always = {name for name, shown in brute.shows.items() if shown[frozenset()]}
    assert {one.entry.id for one in reports.no_cause(study)} == never
    assert {one.entry.id for one in reports.always_there(study)} == always


def test_a_sound_symptom_is_no_finding() -> None:
    for rule in ("no-cause", "always-there", "no-example"):
        assert found(rule, pump()) == []


def test_a_symptom_that_nothing_produces() -> None:
    """Each node could be so; both together cannot. No example of it is asked for."""
    never = after("symptoms", "never: {title: water flows from a still pump, sees: {flow: yes, turns: no}}")
    changed = pump(never)
    assert found("no-cause", changed) == [f"no causes produce symptom 'never', with all as usual{MEND}"]
    assert found("no-example", changed) == []


def test_a_symptom_that_is_there_with_nothing_wrong() -> None:
    at_rest = ("situation: running, sees: {shown: no}", "sees: {shown: no}")
    assert found("always-there", pump(at_rest)) == [
        f"symptom 'no-flow' is there with nothing wrong, with all as usual{MEND}"
    ]


def test_a_symptom_without_an_example() -> None:
    more = after("symptoms", "still: {title: the pump stands still, situation: running, sees: {turns: no}}")
    hint = "add one under 'examples': answers, and the cause that then ranks first"
    assert found("no-example", pump(more)) == [f"no example shows symptom 'still'; {hint}"]


def test_what_cannot_be_decided_is_said() -> None:
    assert found("no-cause", pump(), Limits(cells=1)) == [
        (
            "cannot be decided: whether some causes produce symptom 'no-flow';"
            " the logic is too wide: part it into narrower signals"
        )
    ]
