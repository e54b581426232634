"""One thing has one name, on every screen and in every file."""

from __future__ import annotations

from typing import get_args

from faultree.journal import terms
from faultree.journal.records import Result, State


def test_every_result_and_state_has_its_words() -> None:
    assert set(terms.RESULTS) == set(get_args(Result))
    assert set(terms.STATES) == set(get_args(State))


def test_a_sound_unit_is_called_as_the_state_of_such_a_case() -> None:
    assert terms.result("not found") == "no fault found"
    assert "no fault found" in get_args(State)
