"""Minutes of a case are those that the tree gives its steps, and only of cases that got there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from faultree.journal.pace import Expected, minutes_of, paces
from faultree.journal.store import Store
from tests.journal.cases import debriefed, opened
from tests.walk.small import DARK, small


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def test_minutes_by_hand(mine: Store) -> None:
    """Click 3 min, supply light 3 min, the fuse 5 min, and the operational check 5 min after it."""
    assert minutes_of(small(), debriefed(mine, repair="signal/fuse")) == 3 + 3 + 5 + 5


def test_cases_that_did_not_get_there_do_not_count(mine: Store) -> None:
    assert minutes_of(small(), debriefed(mine)) is None
    assert minutes_of(small(), debriefed(mine, answers=[])) is None
    assert minutes_of(small(), debriefed(mine, symptom=None)) is None


def test_the_mean_is_set_beside_the_chart_for_the_most_frequent(mine: Store) -> None:
    some = [
        debriefed(mine, repair="signal/fuse"),
        debriefed(mine, answers=[], repair="signal/fuse"),
        debriefed(mine, answers=[], repair="signal/fuse", symptom="signal/button-lamp"),
    ]
    found = paces(small(), some, lambda name: Expected(7.0, 6.0), most=1)
    assert found[0] == (DARK, 2, (16 + 10) / 2, Expected(7.0, 6.0))
    assert (found[1].symptom, found[1].expected) == ("signal/button-lamp", None)
