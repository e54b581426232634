"""The engine agrees with a general-purpose Bayesian-network library where enumeration cannot reach."""

from __future__ import annotations

import random
from collections.abc import Sequence
from functools import cache

import pytest

from faultree.library import model
from faultree.library.load import load
from faultree.strategy.case import Case
from tests.house.source import ROOT
from tests.oracles.brute import Brute, Faults, same
from tests.oracles.held_against import CLOSE, shares
from tests.oracles.network import Network
from tests.oracles.random_libraries import Size, random_library
from tests.oracles.synthetic_graphs import TOP, hidden_faults, synthetic_library, true_answer

ANSWERED, VIEWED = 3, 3
"""Checks that are answered, and further ones whose answer probabilities are compared."""

WIDEST = 18.0
"""Bits of the largest table that the reference is given to do; beyond that it runs out of time or memory."""


@cache
def demonstration() -> model.Library:
    """The library that comes with the project."""
    return load(ROOT / "trees")


def agree(library: model.Library, symptom: str, given: Sequence[tuple[str, str]], viewed: Sequence[str]) -> None:
    """Posteriors of all causes and answer probabilities of some checks are equal on both sides."""
    case = Case.open(library, [symptom])
    for check, answer in given:
        case = case.answer(check, answer)
    assert case.bound == 0.0
    network = Network(library, [symptom], [*(check for check, _ in given), *viewed])
    network.observe(given)
    ranking = shares((one.cause, one.probability) for one in case.ranking())
    priors = {name: cause.probability for name, cause in library.causes.items()}
    assert not same(ranking, priors | network.posterior(), CLOSE)
    worths = {worth.check: worth for worth in case.checks()}
    for check in viewed:
        assert not same(worths[check].answers, network.answers(check), CLOSE), check


def agree_after_some_answers(rng: random.Random, library: model.Library, symptom: str, faults: Faults) -> None:
    """Answer some checks as the faults would, and compare; as many checks as the reference can take."""
    checks = rng.sample(list(library.checks), min(len(library.checks), ANSWERED + VIEWED))
    while Network(library, [symptom], checks).width > WIDEST:
        checks.pop()
    half = (len(checks) + 1) // 2
    given = [(check, true_answer(rng, library, check, faults)) for check in checks[:half]]
    agree(library, symptom, given, checks[half:])


@pytest.mark.parametrize("symptom", sorted(demonstration().symptoms)[::4])
def test_demonstration_symptom(symptom: str) -> None:
    """Every fourth symptom of the demonstration library, with the answers that one of its explanations gives."""
    rng = random.Random(symptom)
    library = demonstration()
    likely = Case.open(library, [symptom]).explanations(limit=5)
    faults = frozenset(rng.choices(likely, [one.probability for one in likely])[0].causes)
    assert Brute(library, [symptom]).sees(symptom, faults)
    agree_after_some_answers(rng, library, symptom, faults)


MIDDLE = Size(nodes=20, checks=8, fault_sets=2**16, situations=2)


@pytest.mark.parametrize("seed", range(5000, 5015))
def test_random_library_of_middle_size(seed: int) -> None:
    """Random libraries with up to 2^16 fault sets and with every construct."""
    rng = random.Random(seed)
    library = random_library(rng, MIDDLE).library
    for symptom in library.symptoms:
        faults = _drawn(rng, library, symptom)
        if faults is not None:
            agree_after_some_answers(rng, library, symptom, faults)


def _drawn(rng: random.Random, library: model.Library, symptom: str) -> Faults | None:
    try:
        return hidden_faults(rng, library, symptom, tries=200)
    except ValueError:
        return None


@pytest.mark.parametrize(("seed", "causes"), [(1, 30), (2, 60), (3, 100)])
def test_synthetic_graph(seed: int, causes: int) -> None:
    """Locally shared fault graphs with imperfect checks."""
    rng = random.Random(seed)
    library = synthetic_library(seed, causes)
    agree_after_some_answers(rng, library, TOP, hidden_faults(rng, library))
