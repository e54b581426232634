"""A diagram over units: every fault set leads to the right end, and every place is asked in order."""

from __future__ import annotations

import random

import pytest

from faultree.logic.decisions import ALWAYS, NEVER, Decisions, decide, question_of
from tests.logic.minimal import producing
from tests.oracles.brute import Faults, fault_sets
from tests.oracles.random_libraries import random_library


def end(decisions: Decisions, faults: Faults) -> int:
    """Where a fault set leads."""
    place = decisions.top
    while place not in (NEVER, ALWAYS):
        split = decisions.splits[place]
        place = next((leads for cause, leads in split.bad if decisions.names[cause] in faults), split.good)
    return place


@pytest.mark.parametrize("seed", range(25))
def test_every_fault_set_leads_to_its_end(seed: int) -> None:
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        question = question_of(library, symptom)
        decisions = decide(question, 10_000)
        turned = decide(question._replace(literal=question.literal ^ 1), 10_000)
        sets = producing(library, symptom)
        for faults, _ in fault_sets(library):
            assert (end(decisions, faults) == ALWAYS) == (faults in sets)
            assert (end(turned, faults) == ALWAYS) == (faults not in sets)


@pytest.mark.parametrize("seed", range(25))
def test_places_stand_before_those_that_lead_to_them(seed: int) -> None:
    library = random_library(random.Random(seed)).library
    for symptom in library.symptoms:
        decisions = decide(question_of(library, symptom), 10_000)
        assert decisions.top in (NEVER, ALWAYS, len(decisions.splits) - 1)
        for place, split in enumerate(decisions.splits[2:], start=2):
            for leads in (split.good, *(one for _, one in split.bad)):
                assert leads < place
                assert decisions.splits[leads].group > split.group
            assert all(decisions.names[cause] in decisions.groups[split.group] for cause, _ in split.bad)
            assert any(leads != split.good for _, leads in split.bad), "a place that asks nothing"
