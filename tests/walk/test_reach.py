"""What a check can see is what its answers are built from."""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.strategy.case import Case
from faultree.walk.reach import seen_by_checks
from tests.walk.small import SIGNAL, small


def test_a_check_sees_the_causes_below_its_answers() -> None:
    """Through signals and events, and through answers of their own; the weather sees none."""
    short = {
        check.partition("/")[2]: {cause.partition("/")[2] for cause in causes}
        for check, causes in seen_by_checks(small()).items()
    }
    assert short == {
        "voltage": {"fuse-blown", "relay-open", "wire-broken"},
        "supply-seen": {"fuse-blown"},
        "click": {"fuse-blown", "relay-open"},
        "bench": {"fuse-blown", "relay-open"},
        "weather": set(),
    }


def test_a_cause_that_a_check_does_not_see_cannot_change_its_answer() -> None:
    """Held against the engine: with such a cause made much likelier, the answers stay as likely as they were."""
    likelier = load_texts({"signal.yaml": SIGNAL.replace("probability: 0.02", "probability: 0.2")})
    assert "signal/lamp-broken" not in seen_by_checks(likelier)["signal/bench"]
    # For a report that the lamp has no part in, so that it stands for itself alone.
    before, after = (
        {one.check: one.answers for one in Case.open(library, ["button-lamp"]).checks()}["signal/bench"]
        for library in (small(), likelier)
    )
    assert 0.5 < before["yes"] < 1.0
    assert after == pytest.approx(before)
