"""On the demonstration library faults are hidden as often as they are likely, and checks err as often as they say."""

from __future__ import annotations

import pytest

from faultree.library.load import load
from faultree.library.model import Library
from tests.house.source import ROOT
from tests.practice.fidelity import answers_agree, drawn, erring, expected, faults_agree

SYMPTOM = "leading-edge/green-light-stays-off"
"""Of all symptoms the one that most single faults can be behind."""

DRAWS = 5000


@pytest.fixture(scope="module")
def library() -> Library:
    return load(ROOT / "trees")


@pytest.mark.parametrize("level", [1, 2])
def test_faults_are_hidden_as_often_as_they_are_likely(library: Library, level: int) -> None:
    """5,000 exercises, chi-square below what chance exceeds once in a thousand times."""
    chances = expected(library, SYMPTOM, level)
    assert sum(chances.values()) == pytest.approx(1.0)
    assert len(chances) > 10
    agreement = faults_agree(drawn(library, SYMPTOM, level, DRAWS), chances)
    assert agreement.freedom > 10
    assert agreement.good, agreement


def test_checks_err_as_often_as_they_say(library: Library) -> None:
    """5,000 exercises, one check that can err in each; one cell for each error rate."""
    assert len(erring(library)) > 50
    agreement = answers_agree(library, drawn(library, SYMPTOM, 2, DRAWS))
    assert agreement.freedom >= 5
    assert agreement.good, agreement
