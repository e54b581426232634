"""Migrations lead to the tables of now, each in a transaction of its own, and never back."""

from __future__ import annotations

import pytest
from sqlalchemy import inspect, text

from faultree.base.errors import JournalError
from faultree.journal import migrate, tables
from faultree.journal.store import Store
from tests.journal.test_store import again


def test_the_tables_are_those_that_the_migrations_make(store: Store) -> None:
    """A table that only the code knows would fail on every journal that is older than it."""
    found = inspect(store.engine)
    for table in tables.metadata.tables.values():
        assert [one["name"] for one in found.get_columns(table.name)] == [one.name for one in table.columns]


def test_a_failed_migration_leaves_the_journal_as_it_was(store: Store) -> None:
    def breaks(connection: object) -> None:
        connection.execute(text("CREATE TABLE half (x INTEGER)"))  # type: ignore[attr-defined]
        raise ZeroDivisionError

    known = {**migrate.MIGRATIONS, "second": breaks}
    with pytest.raises(ZeroDivisionError), store.writing() as connection:
        migrate.apply(connection, "second", store.clock, known)
    with store.reading() as connection:
        assert migrate.pending(connection, known) == ["second"]
    assert not inspect(store.engine).has_table("half")


def test_a_journal_of_a_newer_version_is_not_touched(address: str, store: Store) -> None:
    with store.writing() as connection:
        connection.execute(tables.migrations.insert().values(name="from-the-future", at=""))
    with pytest.raises(JournalError, match="written by a newer faultree \\(it knows 'from-the-future'\\)"):
        again(address)
