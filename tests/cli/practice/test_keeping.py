"""A run in the journal: begun, kept event by event, finished, taken up; what fails is said once and stops nothing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import text

from faultree.base.errors import CaseError
from faultree.cli.practice import keeping
from faultree.journal import practised
from faultree.journal.place import where
from faultree.journal.store import Store, open_store
from faultree.practice.events import Ask, PutRight
from faultree.practice.saved import Run
from faultree.practice.scenario import scenario
from tests.journal.conftest import NOON
from tests.practice.small import gate
from tests.practice.test_mark import done


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty journal."""
    opened = open_store(where(str(tmp_path / "j.sqlite"), {}, "linux", tmp_path), lambda: NOON)
    yield opened
    opened.close()


def run() -> Run:
    return Run(scenario(gate(), "still", 2, 7), "blind", "ada")


def test_what_was_kept_is_taken_up_with_its_clock(store: Store) -> None:
    keeper = keeping.begin(store, run(), gate(), 45.0)
    assert keeper.keep(Ask("g/listen")) == ""
    kept = keeping.unfinished(store, "ada", gate())
    assert kept is not None
    assert keeping.taken_up(store, kept, gate()) == (replace(run(), events=(Ask("g/listen"),)), 45.0)


def test_the_newest_run_without_an_end_is_the_one_to_take_up(store: Store) -> None:
    """Of this learner, and of this version of the library."""
    first, second = (keeping.begin(store, run(), gate()) for _ in range(2))
    found = keeping.unfinished(store, "ada", gate())
    assert found is not None
    assert found.id == second.run
    keeping.give_up(store, found)
    found = keeping.unfinished(store, "ada", gate())
    assert found is not None
    assert found.id == first.run
    assert keeping.unfinished(store, "bo", gate()) is None
    other = replace(gate(), digest="f" * 40)
    assert keeping.unfinished(store, "ada", other) is None
    assert keeping.outdated(store, "ada", other)
    assert not keeping.outdated(store, "ada", gate())


def test_the_mark_is_kept_with_its_summary(store: Store) -> None:
    keeper = keeping.begin(store, run(), gate())
    assert keeper.finish(done(Ask("listen"), PutRight("motor"))) == ""
    (kept,) = practised.runs(store, "ada")
    assert kept.mark == pytest.approx(100.0)
    assert kept.summary["minutes"] == 35
    assert keeping.unfinished(store, "ada", gate()) is None


def test_a_journal_that_fails_is_told_once(store: Store) -> None:
    """The exercise goes on; what follows is not complained about again."""
    keeper = keeping.begin(store, run(), gate())
    with store.writing() as connection:
        connection.execute(text("DROP TABLE run_events"))
        connection.execute(text("DROP TABLE runs"))
    first = keeper.keep(Ask("g/listen"))
    assert first.startswith("This step could not be kept: the journal")
    assert keeper.keep(Ask("g/mat")) == ""
    assert keeper.finish(done(Ask("listen"), PutRight("motor"))).startswith("The mark could not be kept: ")


def test_a_run_that_was_broken_off_before_its_exercise_was_kept_is_told(store: Store) -> None:
    practised.begin(store, "ada", "", gate().digest, "g/still", "blind")
    kept = keeping.unfinished(store, "ada", gate())
    assert kept is not None
    with pytest.raises(CaseError, match="broken off before its exercise was kept"):
        keeping.taken_up(store, kept, gate())
