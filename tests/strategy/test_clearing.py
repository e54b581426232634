"""How far a repair clears the report: all the way where one fault is wrong, less where several may be."""

from __future__ import annotations

import pytest

from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.strategy.clearing import MOST, clearing_of
from tests.belief.small import library


def posterior(*chances: float, gate: str = "any") -> Posterior:
    """The report that some gate over independent causes c0, c1, ... of these probabilities is true."""
    names = [f"c{number}" for number in range(len(chances))]
    lines = [f"  {name}: {{title: C, probability: {chance}}}" for name, chance in zip(names, chances, strict=True)]
    text = "causes:\n" + "\n".join(lines) + f"\nevents:\n  top: {{title: Top, {gate}: [{', '.join(names)}]}}\n"
    frame = frame_of(library(text + "symptoms:\n  reported: {title: Reported, event: top}\n"))
    return Posterior(frame, ("s/reported",), ())


def units(found: Posterior) -> list[str]:
    return [root.unit for root in found.frame.prior.roots]


def test_unlikely_faults_do_not_meet() -> None:
    """Where their probabilities sum to hardly more than one, each repair counts as clearing."""
    found = posterior(0.001, 0.002, 0.003)
    assert clearing_of(found, units(found)).tolist() == [1.0, 1.0, 1.0]


def test_a_fault_that_is_enough_by_itself_keeps_the_report() -> None:
    """P(only this one is bad / it is bad, report) = P(the other is good): 0.6 for the first, 0.5 for the second."""
    found = posterior(0.5, 0.4)
    assert clearing_of(found, units(found)).tolist() == pytest.approx([0.6, 0.5], abs=1e-12)


def test_where_both_faults_are_needed_either_repair_clears() -> None:
    found = posterior(0.5, 0.4, gate="all")
    assert clearing_of(found, units(found)).tolist() == pytest.approx([1.0, 1.0], abs=1e-12)


def test_units_come_in_the_order_asked() -> None:
    found = posterior(0.5, 0.4)
    assert clearing_of(found, units(found)[::-1]).tolist() == pytest.approx([0.5, 0.6], abs=1e-12)


def test_only_the_likeliest_units_are_worked_out() -> None:
    """The others count as clearing; so many extra worlds would make a network wide for little."""
    found = posterior(*[0.5] * (MOST + 2))
    clearing = clearing_of(found, units(found)).tolist()
    assert sum(one < 1.0 for one in clearing) == MOST
    assert clearing.count(1.0) == 2
    assert min(clearing) == pytest.approx(0.5 ** (MOST + 1), abs=1e-12)
