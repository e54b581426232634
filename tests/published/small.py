"""A small library written in a test, opened as a case in one line."""

from __future__ import annotations

from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.logic.cut_sets import cut_sets
from faultree.strategy.case import Case


def library_of(text: str) -> Library:
    """A one-file library; the file's id is `s`, so full ids read `s/pump`."""
    return load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"})


def listed(text: str, symptom: str = "reported") -> set[frozenset[str]]:
    """The minimal cut sets, by short cause ids; all of them."""
    found = cut_sets(library_of(text), symptom)
    assert found.complete
    return {frozenset(cause.removeprefix("s/") for cause in one) for one in found}


def opened(text: str, symptom: str = "reported") -> Case:
    """The case of one symptom of a one-file library; the file's id is `s`, so full ids read `s/pump`."""
    return Case.open(library_of(text), [symptom])


def answers(case: Case, check: str) -> dict[str, float]:
    """The probability of each answer of a check that is still open."""
    (found,) = [worth for worth in case.checks() if worth.check == f"s/{check}"]
    return dict(found.answers)


def probability(case: Case, cause: str) -> float:
    """The probability of a cause in the ranking."""
    (found,) = [suspect for suspect in case.ranking() if suspect.cause == f"s/{cause}"]
    return found.probability


def explained(case: Case) -> set[frozenset[str]]:
    """The minimal fault sets, by short cause ids."""
    return {frozenset(cause.removeprefix("s/") for cause in one.causes) for one in case.explanations(limit=1000)}
