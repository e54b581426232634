"""On the demonstration library: the best strategy has 100 whatever is hidden, and habits are ranked.

All 40 symptoms: `python -m tests.benchmarks.study_practice` (figures in docs/benchmarks.md); here a few, to be quick.
"""

from __future__ import annotations

import pytest

from faultree.library.load import load
from faultree.library.model import Library
from faultree.practice.mark import mark
from faultree.practice.reference import reference
from faultree.practice.scenario import scenario
from tests.benchmarks.study_practice import marks, ranked
from tests.house.source import ROOT

FEW = (
    "air-ground/disagree-light-on",
    "electrical/dc-bus-1-off",
    "flaps/split-not-stopped",
    "hydraulics/low-pressure-2",
    "leading-edge/in-on-reserve",
    "spoilers/stay-down",
)


@pytest.fixture(scope="module")
def library() -> Library:
    return load(ROOT / "trees")


@pytest.mark.parametrize("symptom", FEW)
def test_the_best_strategy_has_100_at_every_level(library: Library, symptom: str) -> None:
    for level in (1, 3, 4):
        assert mark(reference(library, scenario(library, symptom, level, 11))).mark == pytest.approx(100.0)


def test_habits_are_ranked_as_an_instructor_would(library: Library) -> None:
    """At one symptom, where replacing at once takes twice what asking first does."""
    found = marks(library, "leading-edge/device-out-in-cruise", 2)
    assert ranked(found) == []
    assert found.swap > 1.5
    assert found.capped


def test_every_symptom_can_be_practised_at_every_level(library: Library) -> None:
    """Also those that one fault alone never shows."""
    for symptom in library.symptoms:
        for level in (1, 2, 3, 4):
            made = scenario(library, symptom, level, 1)
            assert made.hidden or not made.there
