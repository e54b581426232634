"""The database: transactions that happen or do not, two writers, and clear words where it cannot be used."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import threading
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import text

from faultree.base.errors import JournalError
from faultree.journal import book, tables
from faultree.journal.backup import backup
from faultree.journal.place import where
from faultree.journal.records import Flight
from faultree.journal.store import SETTINGS, Store, look, open_store
from tests.journal.conftest import NOON


def again(address: str) -> Store:
    return open_store(where(address, {}, "linux", Path("/nowhere")), lambda: datetime(2031, 5, 4, tzinfo=UTC))


def test_what_is_raised_within_undoes_all_of_it(store: Store) -> None:
    def half() -> None:
        with store.writing() as connection:
            connection.execute(tables.migrations.insert().values(name="x", at=""))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half()
    with store.reading() as connection:
        names = connection.execute(text("SELECT name FROM migrations")).scalars().all()
    assert names == ["first-tables"]


def test_a_journal_is_opened_twice_with_the_same_content(address: str, store: Store) -> None:
    case = book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest")
    second = again(address)
    assert book.read(second, case).squawks[0].words == "stuck"
    second.close()


def test_foreign_keys_are_on(store: Store) -> None:
    row = {"case_id": 99, "number": 1, "at": "", "who": "", "kind": "note", "data": "{}"}
    with pytest.raises(JournalError), store.writing() as connection:
        connection.execute(tables.entries.insert().values(row))


def test_many_writers_lose_nothing(address: str, store: Store) -> None:
    """Four threads with connections of their own add to one case; every entry is there, numbered without a gap."""
    case = book.open_case(store, Flight(), [], "digest")

    def write(name: str) -> None:
        mine = again(address)
        for one in range(25):
            book.add(mine, case, "note", {"text": f"{name}{one}"})
        mine.close()

    threads = [threading.Thread(target=write, args=(name,)) for name in "abcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    entries = book.read(store, case).entries
    assert [one.number for one in entries] == list(range(1, 102))
    expected = {f"{name}{one}" for name in "abcd" for one in range(25)}
    assert {one.data["text"] for one in entries if one.kind == "note"} == expected


WRITER = """
import sys
from datetime import UTC, datetime
from pathlib import Path
from faultree.journal import book
from faultree.journal.place import where
from faultree.journal.store import open_store
store = open_store(where(sys.argv[1], {}, sys.platform, Path()), lambda: datetime.now(UTC))
number = 0
while True:
    number += 1
    book.add(store, int(sys.argv[2]), "note", {"text": number})
    print(number, flush=True)
"""


@pytest.mark.skipif(os.name != "posix", reason="a process is killed by a signal of POSIX")
def test_what_was_committed_survives_a_kill(address: str, store: Store) -> None:
    """A writer says each number after its commit and is killed: all that it said is there, and the file is sound."""
    case = book.open_case(store, Flight(), [], "digest")
    for stop in (3, 11, 20):
        process = subprocess.Popen(
            [sys.executable, "-c", WRITER, address, str(case)], stdout=subprocess.PIPE, text=True
        )
        assert process.stdout is not None
        said = [int(process.stdout.readline()) for _ in range(stop)]
        process.send_signal(signal.SIGKILL)
        said += [int(line) for line in process.stdout.read().split()]
        process.stdout.close()
        process.wait()
        kept = [one.data["text"] for one in book.read(store, case).entries if one.kind == "note"]
        assert set(said) <= set(kept)
    assert store.problems() == []


# --- SQLite alone --------------------------------------------------------------------------------


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "journal.sqlite"


def test_an_older_half_written_file_is_refused_in_words(file: Path) -> None:
    file.write_bytes(b"this is a letter, not a database" * 64)
    with pytest.raises(JournalError, match="is no journal of faultree; name another file"):
        again(str(file))


def test_a_folder_that_cannot_be_made_is_said(tmp_path: Path) -> None:
    (tmp_path / "plain").write_text("a file")
    with pytest.raises(JournalError, match=r"the journal's folder .*plain.* cannot be made"):
        again(str(tmp_path / "plain" / "journal.sqlite"))


def test_a_full_disk_changes_nothing(file: Path) -> None:
    """The database is not allowed another page, which is how it meets a full disk."""
    store = again(str(file))
    case = book.open_case(store, Flight(), ["stuck"], "digest")
    with store.reading() as connection:  # the one connection that the pool will give again
        pages = connection.execute(text("PRAGMA page_count")).scalar_one()
        connection.execute(text(f"PRAGMA max_page_count={pages}"))
    with pytest.raises(JournalError, match="the disk is full; nothing was changed"):
        book.add(store, case, "note", {"text": "x" * 1_000_000})
    assert len(book.read(store, case).entries) == 2
    assert store.problems() == []
    store.close()


def test_a_busy_journal_is_said_and_works_again(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("faultree.journal.store.SETTINGS", ("busy_timeout=50", *SETTINGS[1:]))
    store = again(str(file))
    case = book.open_case(store, Flight(), ["stuck"], "digest")
    other = sqlite3.connect(file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(JournalError, match="is being written to by another program; try again"):
        book.add(store, case, "note", {"text": "x"})
    assert len(book.read(store, case).entries) == 2  # reading waits for nobody
    other.execute("ROLLBACK")
    other.close()
    assert book.add(store, case, "note", {"text": "x"}) == 3
    store.close()


def test_damage_is_found(file: Path) -> None:
    store = again(str(file))
    for _ in range(40):
        book.open_case(store, Flight("HM-VLA", "HM 1", "2031-05-04", "taxi"), ["stuck"], "digest")
    assert store.problems() == []
    with store.writing() as connection:
        connection.execute(text("PRAGMA writable_schema=on"))
        connection.execute(text("DELETE FROM sqlite_master WHERE name = 'cases_by_aircraft'"))
    store.close()
    second = again(str(file))
    assert second.problems() != []
    second.close()


def test_a_backup_is_a_journal_of_its_own(file: Path, tmp_path: Path) -> None:
    store = again(str(file))
    case = book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest")
    copy = tmp_path / "copy.sqlite"
    backup(store, copy)
    book.add(store, case, "note", {"text": "later"})
    store.close()
    second = again(str(copy))
    assert len(book.read(second, case).entries) == 2
    second.close()
    assert not list(tmp_path.glob("*.part"))


def test_a_backup_replaces_an_older_one_but_never_what_is_in_use(file: Path, tmp_path: Path) -> None:
    """A log that lies beside the target would be played into the copy when it is opened."""
    store = again(str(file))
    copy = tmp_path / "copy.sqlite"
    copy.write_text("old", encoding="utf-8")
    backup(store, copy, over=True)
    assert copy.read_bytes().startswith(b"SQLite format 3")
    with pytest.raises(JournalError, match="is the journal itself; name another file"):
        backup(store, file, over=True)
    (tmp_path / "copy.sqlite-wal").write_bytes(b"something")
    with pytest.raises(JournalError, match=r"seems to be a database in use \(copy.sqlite-wal lies beside it\)"):
        backup(store, copy, over=True)
    assert sorted(one.name for one in tmp_path.glob("copy*")) == ["copy.sqlite", "copy.sqlite-wal"]


def test_a_backup_is_never_written_over(file: Path, tmp_path: Path) -> None:
    store = again(str(file))
    (tmp_path / "copy.sqlite").write_text("mine")
    with pytest.raises(JournalError, match="is there already, and is left as it is"):
        backup(store, tmp_path / "copy.sqlite")
    with pytest.raises(JournalError, match="could not be written"):
        backup(store, tmp_path / "no" / "folder.sqlite")
    assert (tmp_path / "copy.sqlite").read_text() == "mine"
    store.close()


def test_a_read_only_journal_can_still_be_read(file: Path) -> None:
    """What cannot be written can be looked at; the attempt to write is refused in words."""
    store = again(str(file))
    case = book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest")
    store.close()
    reader = again(str(file))
    with reader.reading() as connection:
        connection.execute(text("PRAGMA query_only=on"))
    assert book.read(reader, case).squawks[0].words == "stuck"
    with pytest.raises(JournalError, match="the file is read-only; nothing was changed"):
        book.add(reader, case, "note", {"text": "x"})
    reader.close()


def shut(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody may write in any folder; root may everywhere, so the question itself is answered otherwise."""
    monkeypatch.setattr(os, "access", lambda path, mode: mode != os.W_OK)


@pytest.mark.parametrize("settled", [True, False])
def test_a_journal_in_a_folder_that_is_shut_can_be_read(
    file: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, settled: bool
) -> None:
    """Nothing is made beside it; what was written last is read too, where its log still lies there."""
    store = again(str(file))
    case = book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest")
    if settled:
        store.close()
    there = {one.name for one in tmp_path.iterdir()}
    with monkeypatch.context() as patched:
        shut(patched)
        reader = again(str(file))
        assert book.read(reader, case).squawks[0].words == "stuck"
        with pytest.raises(JournalError, match="the file is read-only; nothing was changed"):
            book.add(reader, case, "note", {"text": "x"})
        reader.close()
    assert {one.name for one in tmp_path.iterdir()} == there
    store.close()


def test_a_folder_is_no_journal(tmp_path: Path) -> None:
    with pytest.raises(JournalError, match=f"{tmp_path} is a folder; name a file in it, as .*journal.sqlite"):
        again(str(tmp_path))


def test_a_look_makes_and_changes_nothing(file: Path, tmp_path: Path) -> None:
    place = where(str(file), {}, "linux", tmp_path)
    store = again(str(file))
    book.open_case(store, Flight("HM-VLA"), ["stuck"], "digest")
    store.close()
    assert look(place, lambda: NOON) == 1
    other = tmp_path / "other.sqlite"
    with closing(sqlite3.connect(other)) as connection:
        connection.execute("create table mine (x)")
    before = other.read_bytes()
    assert look(where(str(other), {}, "linux", tmp_path), lambda: NOON) is None
    assert other.read_bytes() == before
    other.write_text("no database, but long enough to be read as one" * 99, encoding="utf-8")
    with pytest.raises(JournalError, match="is no journal of faultree"):
        look(where(str(other), {}, "linux", tmp_path), lambda: NOON)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows allows no such name")
def test_any_name_of_a_file_is_that_of_the_journal(tmp_path: Path) -> None:
    """Signs that mean something in an address mean nothing in the name of a file."""
    file = tmp_path / "what?timeout=1#2%20.sqlite"
    open_store(where(str(file), {}, "linux", tmp_path), lambda: NOON).close()
    assert [one.name for one in tmp_path.iterdir()] == [file.name]


@pytest.mark.skipif(sys.platform == "win32", reason="Windows keeps rights in another way")
def test_the_folder_of_ones_own_journal_is_closed_to_others(tmp_path: Path) -> None:
    """But a folder that somebody named is made as any other."""
    open_store(where(None, {}, "linux", tmp_path), lambda: NOON).close()
    assert (tmp_path / ".local" / "share" / "faultree").stat().st_mode & 0o077 == 0
