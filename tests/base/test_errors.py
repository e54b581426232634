"""Every error that is raised on purpose has one base and carries what a program needs."""

from __future__ import annotations

import pytest

from faultree.base.errors import CaseError, Contradiction, FaultreeError, LibraryError, UnknownName
from faultree.base.problem import Place, Problem


@pytest.mark.parametrize("kind", [LibraryError, UnknownName, CaseError, Contradiction])
def test_one_base_class(kind: type[Exception]) -> None:
    """One `except` is enough to catch whatever faultree says on purpose."""
    assert issubclass(kind, FaultreeError)


def test_a_library_error_carries_and_says_every_problem() -> None:
    """All problems of one run are told at once."""
    problems = [Problem(Place("a.yaml", line, 1), "m", "h") for line in (1, 2)]
    error = LibraryError(problems)
    assert error.problems == tuple(problems)
    assert str(error) == "a.yaml:1:1: m; h\na.yaml:2:1: m; h"


def test_an_unknown_name_offers_what_comes_close() -> None:
    """The message shows the value and the remedy."""
    error = UnknownName("check", "spin", ["brakes/spin-left"])
    assert str(error) == "unknown check 'spin'; did you mean 'brakes/spin-left'?"


def test_an_unknown_name_far_from_all_says_where_to_look() -> None:
    """Nothing comes close: the remedy is the list."""
    assert str(UnknownName("check", "zzz", [])) == "unknown check 'zzz'; 'faultree rank REPORT --json' lists the ids"
    assert str(UnknownName("symptom", "zzz", [])) == "unknown symptom 'zzz'; 'faultree' lists them"


def test_an_ambiguous_short_id_lists_what_it_could_mean() -> None:
    """The full ids are given to copy."""
    error = UnknownName("item", "lamp", ["slats/lamp", "flaps/lamp"], ambiguous=True)
    assert str(error) == "'lamp' fits more than one item; write one of 'slats/lamp', 'flaps/lamp'"


def test_a_contradiction_carries_the_answers_to_look_at_again() -> None:
    """A program can ask for them one by one."""
    error = Contradiction("no set of faults explains this", [("a/one", "yes")])
    assert error.answers == (("a/one", "yes"),)
    assert error.steps == ()


def test_of_many_that_could_be_meant_the_others_are_counted() -> None:
    """A list that ends without saying so is taken for all."""
    names = [f"slats/lamp-{number}" for number in range(11)]
    error = UnknownName("symptom", "lamp", names, ambiguous=True)
    assert str(error).endswith("'slats/lamp-7' and 3 more")
    assert error.candidates == tuple(names)
