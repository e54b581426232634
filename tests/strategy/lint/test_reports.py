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


def test_a_phrase_belongs_to_one_symptom_only() -> None:
    """Capitals and signs make no difference; a phrase twice at one symptom is no matter."""
    words = (
        "no-flow: {title: no flow is shown,",
        "no-flow: {title: no flow is shown, words: [No water!, no  water, dry],",
    )
    still = after("symptoms", "still: {title: the pump stands still, words: [no-water], sees: {turns: no}}")
    hint = "let it say what tells the two apart, or leave it to the one that is meant more often"
    assert found("same-words", pump(words)) == []
    assert found("same-words", pump(words, still)) == [
        f"symptom 'no-flow' lists the phrase 'No water!', which 'still' lists too; {hint}"
    ]


def test_a_phrase_of_another_file_is_called_by_its_full_name() -> None:
    other = "faultree: 1\ntitle: B\nsymptoms:\n  quiet: {title: it is quiet, words: [dry], sees: {pump/turns: no}}\n"
    words = ("no-flow: {title: no flow is shown,", "no-flow: {title: no flow is shown, words: [dry],")
    (said,) = found("same-words", pump(words, z=other))
    assert said.startswith("symptom 'quiet' lists the phrase 'dry', which 'pump/no-flow' lists too")
