"""Commands that read make no journal; those that begin a record do."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.base.errors import JournalError
from faultree.cli.record import is_new, new_journal, open_journal


def test_a_name_that_was_mistyped_makes_no_journal(tmp_path: Path) -> None:
    file = tmp_path / "typo.sqlite"
    with pytest.raises(JournalError, match=r"there is no journal .*typo\.sqlite \(decided by the option --journal\)"):
        open_journal(str(file))
    assert is_new(str(file))
    assert not file.exists()


def test_a_record_that_begins_makes_its_journal(tmp_path: Path) -> None:
    file = tmp_path / "new.sqlite"
    new_journal(str(file)).close()
    assert not is_new(str(file))
    open_journal(str(file)).close()


def test_a_server_is_never_new() -> None:
    assert not is_new("postgresql://host/name")
