"""Stores for the tests: an empty journal on each database."""

from __future__ import annotations

import importlib.util
from collections.abc import Iterator
from contextlib import ExitStack
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import pytest

from faultree.journal.place import where
from faultree.journal.store import Store, open_store
from tests.journal.servers import programs, server

NOON = datetime(2031, 5, 4, 12, 0, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def server_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a PostgreSQL server; skips where the server or its client library is not installed."""
    binaries = programs()
    if binaries is None:
        pytest.skip("no PostgreSQL server is installed here")
    if importlib.util.find_spec("psycopg") is None:
        pytest.skip("psycopg is not installed here (faultree[postgres])")
    with ExitStack() as stack:
        yield stack.enter_context(server(tmp_path_factory.mktemp("server") / "pg", binaries))


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of a journal that does not exist yet, on each database."""
    if request.param == "sqlite":
        return str(tmp_path / "journal.sqlite")
    base = request.getfixturevalue("server_address")
    import psycopg

    name = f"j{uuid4().hex}"
    with psycopg.connect(f"{base}/postgres", autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    return f"{base}/{name}"


@pytest.fixture
def store(address: str) -> Iterator[Store]:
    """An empty journal, its clock at noon."""
    opened = open_store(where(address, {}, "linux", Path("/nowhere")), lambda: NOON)
    yield opened
    opened.close()
