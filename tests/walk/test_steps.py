"""Any step can be added to a case and taken out of it again."""

from __future__ import annotations

import pytest

from faultree.base.errors import Contradiction
from faultree.belief.evidence import Repair, Reply
from faultree.walk import steps
from tests.walk.small import walked

STEPS = (Reply("signal/click", "silence"), Repair("signal/fuse", gone=False), Reply("signal/voltage", None))


def test_steps_are_added_in_order() -> None:
    """Answers, replacements, and checks that could not be told."""
    case = walked().open_case
    for step in STEPS:
        case = steps.add(case, step)
    assert case.steps == STEPS


@pytest.mark.parametrize("dropped", STEPS)
def test_a_step_is_taken_out_and_the_others_stay(dropped: Reply | Repair) -> None:
    """Wherever in the case it stands."""
    case = walked().open_case
    for step in STEPS:
        case = steps.add(case, step)
    assert steps.without(case, dropped).steps == tuple(step for step in STEPS if step != dropped)


def test_what_nothing_explains_is_not_added() -> None:
    """The case does not take a contradiction in."""
    case = steps.add(walked().open_case, Reply("signal/voltage", "yes"))
    with pytest.raises(Contradiction):
        steps.add(case, Reply("signal/bench", "yes"))
