"""A sealed exercise comes back whole, does not show its answer, and does not forgive an edit."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from faultree.base.errors import CaseError
from faultree.practice.scenario import Scenario, scenario
from faultree.practice.sealed import seal, unseal
from tests.practice.small import gate


def made() -> Scenario:
    closed = frozenset({"g/mat"})
    return replace(scenario(gate(), "still", 2, 77), hidden=frozenset({"g/valve-shut"}), closed=closed, limit=45.0)


def test_it_comes_back_whole() -> None:
    data = json.loads(json.dumps(seal(made())))
    assert unseal(gate(), data) == made()


def test_the_answer_stands_nowhere_in_it() -> None:
    """Neither the fault, nor the seed and the code that would set the exercise again."""
    text = json.dumps(seal(made()))
    for word in ("valve-shut", "valve", "77", made().code):
        assert word not in text.replace(str(made().library), "")


@pytest.mark.parametrize(
    "change", [{"limit": 90.0}, {"words": "gate fine"}, {"words": "\ud800"}, {"sealed": "c4e"}, {"sealed": "Ä"}]
)
def test_an_edit_is_found(change: dict[str, object]) -> None:
    with pytest.raises(CaseError, match="was changed after it was sealed"):
        unseal(gate(), {**seal(made()), **change})


def test_another_library_is_refused() -> None:
    with pytest.raises(CaseError, match="another version of the tree files"):
        unseal(gate(), {**seal(made()), "library": "x"})
    with pytest.raises(CaseError, match="'exercise: 1' is missing"):
        unseal(gate(), {"title": "something else"})
