"""An invented year: marked as invented, and kept out of a journal that holds real cases."""

from __future__ import annotations

from pathlib import Path

from faultree.journal import book
from tests.cli.desks import run, said
from tests.journal.cases import debriefed, opened


def test_it_fills_an_empty_journal(journal: Path) -> None:
    out = said("journal", "demo", "--cases", "12")
    assert "12 invented cases of Harrowmere Air" in out
    assert "No such airline or aircraft exists" in out
    assert {one.origin for one in book.heads(opened(journal))} == {"demonstration"}
    run("journal", "demo", "--cases", "3", "--seed", "2")
    assert len(book.heads(opened(journal))) == 15


def test_it_does_not_mix_with_real_cases_unasked(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    store.close()
    assert "holds 1 real case; name a file of its own" in said_of_refusal()
    assert len(book.heads(opened(journal))) == 1
    run("journal", "demo", "--cases", "3", "--yes")
    assert len(book.heads(opened(journal))) == 4


def said_of_refusal() -> str:
    return " ".join(run("journal", "demo", "--cases", "3", code=1).output.split())
