"""Two processes that write at once lose nothing and wait for each other; a folder that cannot be written to is said."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from faultree.journal import book
from tests.benchmarks.study_debrief_kills import two_writers
from tests.journal.cases import debriefed, opened


def test_two_processes_at_once_lose_nothing(tmp_path: Path) -> None:
    """For 3 s here; `tests/benchmarks/study_debrief_kills.py` does it for 60 s."""
    made, wrong, longest = two_writers(tmp_path, 3)
    assert made > 2
    assert wrong == 0
    assert longest < 20  # a writer waits no longer than the store's patience


@contextmanager
def _nobody() -> Iterator[None]:
    """As a person without the rights of root, who could write anywhere."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


@pytest.fixture
def passable() -> Iterator[Path]:
    """A folder that everybody may pass; pytest's own are for their owner alone."""
    with TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


@pytest.mark.skipif(os.name != "posix", reason="rights of folders as POSIX has them")
def test_a_folder_without_the_right_to_write_is_said(passable: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A new journal cannot be made there, an old one can be neither added to nor damaged; the message says which."""
    from tests.cli.desks import desk, run

    desk(passable, monkeypatch)
    lines = "HM-VLA\n\n\n\nlamp out\n\n0\n"
    run("debrief", lines=lines)
    run("debrief", "add", "1", "x")  # by now all that these commands import is there
    shut = passable / "shut"
    shut.mkdir()
    store = opened(shut / "old.sqlite")
    debriefed(store)
    store.close()
    before = (shut / "old.sqlite").read_bytes()
    (shut / "old.sqlite").chmod(0o444)
    shut.chmod(0o555)
    (passable / "trees").chmod(0o755)
    (passable / "trees" / "signal.yaml").chmod(0o644)
    try:
        with _nobody():
            new = run("debrief", "--journal", "shut/new.sqlite", lines=lines, code=1)
            old = run("debrief", "add", "1", "x", "--journal", "shut/old.sqlite", code=1)
            below = run("debrief", "--journal", "shut/further/new.sqlite", lines=lines, code=1)
    finally:
        shut.chmod(0o755)
    assert "shut/new.sqlite cannot be opened: its folder is not there, or you may not write in it" in new.output
    assert "shut/old.sqlite" in old.output
    assert "nothing was changed" in old.output or "you may not write in it" in old.output
    assert "the journal's folder shut/further cannot be made" in below.output
    assert (shut / "old.sqlite").read_bytes() == before
    store = opened(shut / "old.sqlite")
    assert store.problems() == []
    store.close()


def test_a_full_disk_is_said_by_the_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The database may not grow, which is how it meets a full disk: the words, and what was there stays."""
    from sqlalchemy import Engine, event, text

    from faultree.journal import store as module
    from faultree.journal.place import Where
    from tests.cli.desks import desk, run

    journal = desk(tmp_path, monkeypatch)
    store = opened(journal)
    debriefed(store)
    with store.reading() as connection:
        pages = connection.execute(text("PRAGMA page_count")).scalar_one()
    store.close()
    make = module._engine

    def full(where: Where) -> Engine:
        engine = make(where)
        event.listen(engine, "connect", lambda one, _: one.execute(f"PRAGMA max_page_count={pages}"))
        return engine

    monkeypatch.setattr(module, "_engine", full)
    done = run("debrief", "add", "1", "x" * 200_000, code=1)
    assert "the disk is full; nothing was changed" in done.output
    monkeypatch.undo()
    again = opened(journal)
    assert len(book.read(again, 1).squawks) == 1
    assert again.problems() == []
    again.close()
