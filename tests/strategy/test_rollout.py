"""Rollouts: what a policy takes to its end, against the same policy followed state by state, and by hand."""

from __future__ import annotations

import random
from dataclasses import dataclass, replace
from math import log2

import numpy as np
import pytest

from faultree.strategy import rollout
from faultree.strategy.rollout import Field, Moves, choose, minutes_behind, row_of_repairs

RATES = (0.0, 0.0, 1.0, 1.0, 0.1, 0.8)


def drawn(seed: int, hypotheses: int = 5, checks: int = 4) -> tuple[Field, np.ndarray]:
    """A random field, and weights that sum to 1; two hypotheses share a unit, and some access is shared."""
    rng = random.Random(seed)
    rows, outcomes = [], []
    for number in range(checks):
        yes = [rng.choice(RATES) for _ in range(hypotheses + 1)]
        rows += [yes, [1.0 - one for one in yes]]
        outcomes.append([2 * number, 2 * number + 1])
    rows.append([0.0] * (hypotheses + 1))
    units = hypotheses - 1
    made = Field(
        shows=np.array(rows),
        outcomes=np.array(outcomes, dtype=np.intp),
        check_minutes=np.array([rng.uniform(1.0, 20.0) for _ in range(checks)]),
        check_needs=np.array([[rng.random() < 0.4, rng.random() < 0.2] for _ in range(checks)]),
        owns=np.array([[float(min(h, units - 1) == u) for u in range(units)] for h in range(hypotheses)]),
        clearing=np.ones(units),
        unit_minutes=np.array([rng.uniform(10.0, 90.0) for _ in range(units)]),
        unit_needs=np.array([[rng.random() < 0.4, rng.random() < 0.2] for _ in range(units)]),
        access=np.array([12.0, 5.0]),
        beyond=70.0,
    )
    raw = [20.0 ** rng.random() for _ in range(hypotheses)] + [0.3]
    return made, np.array(raw) / sum(raw)


@dataclass(frozen=True)
class Plain:
    """The policy, one state at a time and with nothing shared: weights sum to the probability of the state."""

    field: Field

    def repairs(self, weights: list[float], opened: frozenset[int]) -> tuple[float, int]:
        """Minutes of repairs alone, and the first of them."""
        field, units = self.field, range(len(self.field.unit_minutes))
        share = [sum(w for w, row in zip(weights, field.owns, strict=False) if row[u]) for u in units]
        cost = [field.unit_minutes[u] + self.opening(field.unit_needs[u], opened) for u in units]
        order = sorted(units, key=lambda u: -share[u] / cost[u])
        left, spent = sum(weights), 0.0
        for unit in order:
            spent += cost[unit] * left if share[unit] else 0.0
            left -= share[unit]
        return float(spent + field.beyond * weights[-1]), order[0]

    def opening(self, needs: np.ndarray, opened: frozenset[int]) -> float:
        """Minutes of the access that is still closed."""
        return float(sum(self.field.access[a] for a in np.flatnonzero(needs) if a not in opened))

    def after(self, weights: list[float], check: int) -> list[list[float]]:
        """The weights after each answer."""
        rows = [self.field.shows[row] for row in self.field.outcomes[check]]
        return [[float(w * p) for w, p in zip(weights, row, strict=True)] for row in rows]

    def bits(self, weights: list[float], check: int) -> float:
        """The mutual information of answer and hypothesis."""
        total, found = sum(weights), 0.0
        for left in self.after(weights, check):
            for one, before in zip(left, weights, strict=True):
                found += one / total * log2(one / before / (sum(left) / total)) if one else 0.0
        return found

    def ask(self, check: int, opened: frozenset[int]) -> tuple[float, frozenset[int]]:
        """Minutes of a check, and what is open after it."""
        needs = self.field.check_needs[check]
        return float(self.field.check_minutes[check]) + self.opening(needs, opened), opened.union(
            np.flatnonzero(needs).tolist()
        )

    def minutes(self, weights: list[float], asked: frozenset[int], opened: frozenset[int]) -> float:
        """Minutes to the end, times the probability of the state."""
        repaired, first = self.repairs(weights, opened)
        gains = {
            check: self.bits(weights, check) / max(self.ask(check, opened)[0], 0.1)
            for check in range(len(self.field.check_minutes))
            if check not in asked and self.bits(weights, check) > 1e-9
        }
        best = {}
        for check in sorted(gains, key=lambda one: -gains[one])[: rollout.WIDTH]:
            cost, wider = self.ask(check, opened)
            best[check] = cost * sum(weights) + sum(self.repairs(left, wider)[0] for left in self.after(weights, check))
        if not best:
            return repaired
        check = min(best, key=lambda one: best[one])
        if best[check] < repaired:
            return self.asking(weights, asked, opened, check)
        return self.mending(weights, asked, opened, first)

    def asking(self, weights: list[float], asked: frozenset[int], opened: frozenset[int], check: int) -> float:
        """The same with a check next."""
        cost, wider = self.ask(check, opened)
        later = [self.minutes(left, asked | {check}, wider) for left in self.after(weights, check) if any(left)]
        return cost * sum(weights) + sum(later)

    def mending(self, weights: list[float], asked: frozenset[int], opened: frozenset[int], unit: int) -> float:
        """The same with a repair next."""
        field = self.field
        cost = field.unit_minutes[unit] + self.opening(field.unit_needs[unit], opened)
        left = [0.0 if row[unit] else w for w, row in zip(weights, field.owns, strict=False)] + weights[-1:]
        wider = opened.union(np.flatnonzero(field.unit_needs[unit]).tolist())
        return float(cost * sum(weights)) + (self.minutes(left, asked, wider) if any(left) else 0.0)


@pytest.mark.parametrize("seed", range(20))
def test_a_rollout_is_the_policy_followed_to_its_end(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every first step; with nothing cut off, all states at once give what each by itself gives."""
    monkeypatch.setattr(rollout, "RARE", 0.0)
    monkeypatch.setattr(rollout, "STATES", 100_000)
    field, weights = drawn(seed)
    plain, none = Plain(field), frozenset[int]()
    checks, units = range(len(field.check_minutes)), range(len(field.unit_minutes))
    expected = [plain.asking(weights.tolist(), none, none, check) for check in checks]
    expected += [plain.mending(weights.tolist(), none, none, unit) for unit in units]
    moves = Moves(np.arange(len(expected)) < len(checks), np.array([*checks, *units]))
    assert minutes_behind(field, weights, moves).tolist() == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("seed", range(10))
def test_what_is_cut_off_counts_with_no_less_than_its_rollout(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """One step ahead is what a policy of repairs keeps to, so improving on it further on can only lower it."""
    field, weights = drawn(seed, hypotheses=8, checks=8)
    first = Moves(np.ones(8, dtype=np.bool_), np.arange(8))
    monkeypatch.setattr(rollout, "RARE", 0.0)
    monkeypatch.setattr(rollout, "STATES", 100_000)
    whole = minutes_behind(field, weights, first)
    for rare, states in ((0.01, 128), (0.0, 16), (0.2, 16), (1.0, 0)):
        monkeypatch.setattr(rollout, "RARE", rare)
        monkeypatch.setattr(rollout, "STATES", states)
        assert (minutes_behind(field, weights, first) >= whole - 1e-9).all()


def test_the_same_field_gives_the_same_minutes() -> None:
    """To the last bit: nothing depends on a clock or on what was worked out before."""
    field, weights = drawn(3, hypotheses=8, checks=8)
    first = Moves(np.arange(15) < 8, np.array([*range(8), *range(7)]))
    again = minutes_behind(replace(field), weights.copy(), first)
    assert minutes_behind(field, weights, first).tolist() == again.tolist()


def test_a_repair_in_vain_rules_its_causes_out() -> None:
    """Two units of 10 and 40 minutes, 3 to 1, and nothing to check: the other one is certain after the first."""
    field, _ = drawn(0, hypotheses=3, checks=0)
    field = replace(
        field,
        unit_minutes=np.array([10.0, 40.0]),
        unit_needs=np.zeros((2, 2), dtype=np.bool_),
        outcomes=np.zeros((0, 0), dtype=np.intp),
        check_needs=np.zeros((0, 2), dtype=np.bool_),
    )
    moves = Moves(np.zeros(2, dtype=np.bool_), np.array([0, 1]))
    weights = np.array([0.75, 0.125, 0.125, 0.0])
    assert minutes_behind(field, weights, moves).tolist() == pytest.approx([10.0 + 0.25 * 40.0, 40.0 + 0.75 * 10.0])


def test_what_no_unit_accounts_for_takes_the_repairs_beyond() -> None:
    field, _ = drawn(0)
    spent, first = row_of_repairs(field, np.array([[0.5, 0.25]]), np.array([[10.0, 10.0]]), np.array([1.0]))
    assert spent.tolist() == pytest.approx([10.0 + 0.5 * 10.0 + 0.25 * 70.0])
    assert first.tolist() == [0]


def test_access_once_open_is_not_paid_again() -> None:
    """A check that opens the bay, then the unit behind it."""
    field, weights = drawn(1)
    state = field.begin(weights, 1)
    bay = state._replace(opened=np.array([[True, True]]))
    assert choose(field, bay).minutes[0] < choose(field, state).minutes[0]
