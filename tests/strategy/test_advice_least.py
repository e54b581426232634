"""Following the advice to the end, against the least minutes there are (dynamic programming, all answers)."""

from __future__ import annotations

import random
from statistics import fmean

import pytest

from faultree.strategy import advice
from faultree.strategy.case import Case
from tests.benchmarks.bench_advice import KINDS, Followed, Kind, advised, drawn, library_of
from tests.oracles.least_minutes import least_minutes

PERFECT = [kind for kind in KINDS if not kind.error]
ERRING = Kind("3 checks that err", looks=3, error=0.2)


def ratios(kind: Kind, count: int, seed: int = 7) -> list[float]:
    """Minutes of the advice over the least ones, for some random instances."""
    rng = random.Random(seed)
    made = [drawn(rng, kind) for _ in range(count)]
    return [Followed(one, advised).minutes() / least_minutes(one) for one in made]


@pytest.mark.parametrize("kind", PERFECT, ids=[kind.title for kind in PERFECT])
def test_the_advice_is_near_the_least_minutes(kind: Kind) -> None:
    """Of twelve causes one is present: within 1 % on average, 4 % at worst, where checks tell little as well."""
    found = ratios(kind, 5)
    assert fmean(found) < 1.01
    assert max(found) < 1.04


def test_the_advice_is_near_the_least_minutes_where_checks_err() -> None:
    found = ratios(ERRING, 2)
    assert fmean(found) < 1.015


def test_looking_only_one_step_ahead_is_worse(monkeypatch: pytest.MonkeyPatch) -> None:
    """What the rollout is for: instances where several checks are needed to single a cause out."""
    few = next(kind for kind in KINDS if kind.reads == (2, 4))
    ahead = fmean(ratios(few, 5))
    monkeypatch.setattr(advice, "foresight", lambda *_: None)
    assert fmean(ratios(few, 5)) > ahead + 0.01


@pytest.mark.parametrize("seed", range(6))
def test_the_minutes_advised_are_kept_to(seed: int) -> None:
    """They are those of a simple policy behind the first step; advice at every step is that or a little better."""
    instance = drawn(random.Random(seed), KINDS[0])
    promised = Case.open(library_of(instance), ["reported"]).advice()[0].expected_minutes
    assert 0.98 * promised < Followed(instance, advised).minutes() < promised + 0.01


def test_the_same_case_has_the_same_advice() -> None:
    """To the last bit, from a case made anew."""
    instance = drawn(random.Random(3), KINDS[2])
    first, again = (Case.open(library_of(instance), ["reported"]).answer("k1", "no").advice() for _ in range(2))
    assert first == again
