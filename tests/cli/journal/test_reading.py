"""The list of cases and one of them, for a person and as plain data; what is invented says so."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.records import Flight
from tests.cli.desks import run, said
from tests.journal.cases import debriefed, opened


def test_an_empty_journal_says_so(journal: Path) -> None:
    opened(journal).close()
    assert "holds no such case" in run("journal", "list").output


@pytest.mark.parametrize("typed", ["hm-vlb", "HM VLB", "hmvlb"])
def test_an_aircraft_is_found_however_it_was_typed(journal: Path, typed: str) -> None:
    store = opened(journal)
    debriefed(store)
    debriefed(store, flight=Flight("HM-VLB"), words=["stuck"])
    store.close()
    out = said("journal", "list", "--aircraft", typed)
    assert "stuck" in out
    assert "lamp out" not in out


def test_a_squawk_that_was_never_asked_about_is_shown_as_that(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    book.add_squawk(store, 1, "gear horn")
    book.add_squawk(store, 1, "smoke")
    book.match(store, 1, 3, None)
    book.add_squawk(store, 1, "undo")
    book.withdraw(store, 1, "squawk", 4, because="no squawk")
    store.close()
    out = said("journal", "show", "1")
    assert "“gear horn” not asked yet what it means" in out
    assert "“smoke” none of the library's symptoms" in out
    assert "“undo” withdrawn" in out
    assert "squawk 4 was withdrawn: no squawk" in out


def test_a_finding_that_was_withdrawn_is_shown_as_that(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    book.find(store, 1, "signal/fuse", "confirmed", cause="signal/fuse-blown", how="seen")
    book.withdraw(store, 1, "finding", 1, because="misread", who="MB")
    store.close()
    out = said("journal", "show", "1")
    assert "Findings 1 confirmed: signal fuse blown (seen) withdrawn" in out
    assert "finding 1 was withdrawn: misread (MB)" in out


def test_the_list_can_be_narrowed(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    debriefed(store, flight=Flight("HM-VLB"), words=["stuck"], symptom=None)
    book.end(store, 1, "handed over", data={}, who="")
    store.close()
    out = said("journal", "list")
    assert out.index("stuck") < out.index("lamp out")
    assert "stuck" not in said("journal", "list", "--aircraft", "HM-VLA")
    assert "lamp out" not in said("journal", "list", "--state", "open")
    assert "invented" not in out
    data = json.loads(run("journal", "list", "--json").output)
    assert [one["id"] for one in data["cases"]] == [2, 1]


def test_a_case_with_its_log_in_words(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    store.close()
    out = said("journal", "show", "1")
    for words in ("Case 1: open", "HM 412", "“lamp out”", "squawk 1 means the signal lamp stays dark",
                  "listen to the relay: Nothing",
                  "look at the supply light: cannot tell (KL)"):  # fmt: skip
        assert words in out
    data = json.loads(run("journal", "show", "1", "--json").output)
    assert data["squawks"][0]["words"] == "lamp out"
    assert "no case 7" in run("journal", "show", "7", code=1).output


def test_invented_cases_say_so(journal: Path) -> None:
    store = opened(journal)
    debriefed(store, origin="demonstration")
    store.close()
    for arguments in (("journal", "list"), ("journal", "show", "1"), ("journal", "trends"), ("debrief", "sheet", "1")):
        assert "nvented for demonstration" in said(*arguments), arguments


def test_a_case_is_shown_in_the_words_of_the_library(journal: Path) -> None:
    """Titles for ids; where the library does not read, its ids are better than nothing."""
    store = opened(journal)
    debriefed(store)
    book.find(store, 1, "signal/lamp", "confirmed", how="shop report")
    book.end(store, 1, "confirmed", data={}, who="KL")
    store.close()
    out = said("journal", "show", "1")
    assert "squawk 1 means the signal lamp stays dark" in out
    assert "confirmed: signal lamp (shop report)" in out
    assert "the case ended: confirmed (KL)" in out
    assert "signal/" not in out
    assert "squawk 1 means signal/dark" in said("journal", "show", "1", "--library", "gone")


def test_a_state_that_no_case_can_have_is_wrong_use() -> None:
    run("journal", "list", "--state", "opne", code=2)
