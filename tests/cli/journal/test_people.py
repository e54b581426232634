"""A person is removed on request, and only after a question."""

from __future__ import annotations

from pathlib import Path

from tests.cli.desks import run
from tests.journal.cases import debriefed, opened


def test_who_is_named_and_the_removal(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    store.close()
    assert run("journal", "forget").output == "KL\n"
    assert "cannot be undone" in run("journal", "forget", "KL", lines="n\n", code=1).output
    assert run("journal", "forget").output == "KL\n"
    assert "Removed from" in run("journal", "forget", "KL", "--yes").output
    assert run("journal", "forget").output == "Nobody is named.\n"
    assert "KL" not in run("journal", "export").output
    assert "Nobody is named 'KL'" in run("journal", "forget", "KL", "--yes").output
