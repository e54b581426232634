"""The best strategy does the best step each time and comes to an end."""

from __future__ import annotations

import pytest

from faultree.practice.mark import best_at
from faultree.practice.reference import event_of, reference
from faultree.practice.scenario import scenario
from tests.practice.small import gate
from tests.practice.trainees import run, the_best


@pytest.mark.parametrize("level", [1, 2, 3, 4])
def test_it_is_the_best_step_each_time(level: int) -> None:
    for seed in range(8):
        made = scenario(gate(), "still", level, seed)
        assert reference(gate(), made) == run(gate(), made, the_best)


def test_it_reads_its_cautions() -> None:
    assert not any(
        one.skipped for seed in range(20) for one in reference(gate(), scenario(gate(), "still", 2, seed)).steps
    )


def test_at_a_wrong_report_it_hands_over() -> None:
    made = next(one for one in (scenario(gate(), "still", 4, seed) for seed in range(50)) if not one.there)
    done = reference(gate(), made)
    assert (done.ending, [one.action for one in done.steps]) == ("handed over", ["look"])
    assert event_of(best_at(done)).__class__.__name__ == "HandOver"
