"""Practice runs are kept event by event, so that a run that was cut off can be taken up again."""

from __future__ import annotations

import pytest

from faultree.base.errors import JournalError
from faultree.journal import practised
from faultree.journal.store import Store


def begun(store: Store, learner: str = "ada") -> int:
    return practised.begin(store, learner, "K7Q2", "digest", "flaps/asymmetric", "coached")


def test_events_come_back_in_order(store: Store) -> None:
    run = begun(store)
    numbers = [practised.add_event(store, run, {"step": one}) for one in range(5)]
    assert numbers == [1, 2, 3, 4, 5]
    assert practised.events(store, run) == tuple({"step": one} for one in range(5))


def test_a_run_is_open_until_it_is_finished(store: Store) -> None:
    run = begun(store)
    (found,) = practised.runs(store)
    assert (found.finished, found.mark, found.code) == (None, None, "K7Q2")
    practised.finish(store, run, 87.5, {"minutes": 31})
    (found,) = practised.runs(store)
    assert (found.finished, found.mark, found.summary) == ("2031-05-04T12:00:00+00:00", 87.5, {"minutes": 31})


def test_learners_are_told_apart(store: Store) -> None:
    begun(store, "ada")
    begun(store, "ben")
    assert [one.learner for one in practised.runs(store)] == ["ada", "ben"]
    assert [one.learner for one in practised.runs(store, "ben")] == ["ben"]


def test_an_unknown_run_is_refused(store: Store) -> None:
    with pytest.raises(JournalError, match="no practice run 3"):
        practised.add_event(store, 3, {})
    with pytest.raises(JournalError, match="no practice run 3"):
        practised.finish(store, 3, None, {})
