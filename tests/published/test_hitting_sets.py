"""Minimal hitting sets of a family of conflict sets, written as a library.

Source: R. Reiter, "A theory of diagnosis from first principles", Artificial Intelligence 32, 1987, the
hitting-set tree example (from memory; the result recomputed from the family).
"""

from __future__ import annotations

import pytest

from tests.published.small import explained, listed, opened

FAMILY = [{2, 4, 5}, {1, 2, 3}, {1, 3, 5}, {2, 4, 6}, {2, 4}, {2, 3, 5}, {1, 6}]
HITTING_SETS = [{1, 2}, {1, 3, 4}, {1, 4, 5}, {2, 3, 6}, {2, 5, 6}, {3, 4, 6}]


def library() -> str:
    """Each conflict set is an event that something in it explains; all of the events were seen."""
    causes = "".join(f"  c{part}: {{title: Component {part} is abnormal, probability: 0.1}}\n" for part in range(1, 7))
    members = [", ".join(f"c{part}" for part in sorted(one)) for one in FAMILY]
    events = "".join(f"  k{place}: {{title: Conflict {place}, any: [{one}]}}\n" for place, one in enumerate(members))
    seen = ", ".join(f"k{place}: yes" for place in range(len(FAMILY)))
    return f"causes:\n{causes}events:\n{events}symptoms:\n  reported: {{title: All conflicts, sees: {{{seen}}}}}\n"


def test_minimal_explanations_and_cut_sets_are_the_minimal_hitting_sets() -> None:
    expected = {frozenset(f"c{part}" for part in one) for one in HITTING_SETS}
    assert explained(opened(library())) == listed(library()) == expected


def test_heavier_explanations_come_first() -> None:
    """With equal priors of 0.1, a set of two outweighs one of three by 0.9/0.1 = 9 (by hand)."""
    found = opened(library()).explanations()
    assert [len(one.causes) for one in found] == [2, 3, 3, 3, 3, 3]
    assert found[0].probability / found[1].probability == pytest.approx(9.0, rel=1e-9)
