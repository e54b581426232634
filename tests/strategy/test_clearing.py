"""How far a repair clears the report: all the way where one fault is wrong, less where several may be."""

from __future__ import annotations

import pytest

from faultree.belief.evidence import Reply
from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.strategy.clearing import clearing_of
from tests.belief.small import library


def posterior(*chances: float, gate: str = "any", checks: str | None = None) -> Posterior:
    """The report that some gate over independent causes c0, c1, ... of these probabilities is true.

    With `checks`, the first two causes were looked for and the answer was that.
    """
    names = [f"c{number}" for number in range(len(chances))]
    lines = [f"  {name}: {{title: C, probability: {chance}}}" for name, chance in zip(names, chances, strict=True)]
    text = "causes:\n" + "\n".join(lines) + f"\nevents:\n  top: {{title: Top, {gate}: [{', '.join(names)}]}}\n"
    text += "checks:\n  l0: {title: L, ask: A, reads: c0}\n  l1: {title: L, ask: A, reads: c1}\n"
    frame = frame_of(library(text + "symptoms:\n  reported: {title: Reported, event: top}\n"))
    steps = () if checks is None else (Reply("s/l0", checks), Reply("s/l1", checks))
    return Posterior(frame, ("s/reported",), steps)


def units(found: Posterior) -> list[str]:
    return [root.unit for root in found.frame.prior.roots]


def test_unlikely_faults_do_not_meet() -> None:
    """Where their probabilities sum to hardly more than one, each repair counts as clearing."""
    found = posterior(0.001, 0.002, 0.003)
    assert clearing_of(found, units(found)).tolist() == [1.0, 1.0, 1.0]


def test_where_each_fault_is_enough_two_repairs_are_needed() -> None:
    """Both faults are all but certain and either shows the report, so one repair is half of what it takes."""
    found = posterior(0.9, 0.8, checks="yes")
    assert clearing_of(found, units(found)).tolist() == [0.5, 0.5]


def test_where_both_faults_are_needed_either_repair_clears() -> None:
    found = posterior(0.5, 0.4, gate="all")
    assert clearing_of(found, units(found)).tolist() == pytest.approx([1.0, 1.0], abs=1e-12)


def test_units_come_in_the_order_asked() -> None:
    """The third fault has no part in the likeliest explanation and counts as clearing."""
    found = posterior(0.9, 0.8, 0.1, checks="yes")
    assert clearing_of(found, units(found)).tolist() == [0.5, 0.5, 1.0]
    assert clearing_of(found, units(found)[::-1]).tolist() == [1.0, 0.5, 0.5]
