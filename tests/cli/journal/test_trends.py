"""Trends from the command line: counted as the functions count, narrowed by aircraft, day and chapter; and a page."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from faultree.journal import book
from faultree.journal.records import Flight
from tests.cli.desks import run, said
from tests.journal.cases import debriefed, opened


@pytest.fixture(autouse=True)
def year(journal: Path) -> None:
    store = opened(journal)
    for day in (1, 5, 9):
        debriefed(store, flight=Flight("HM-VLA", f"HM {day}", f"2031-05-{day:02}"), repair="signal/fuse")
    debriefed(store, flight=Flight("HM-VLB", "HM 1", "2031-06-01"), words=["<b>odd</b>"], symptom=None)
    book.find(store, 1, "signal/relay", "not found")
    store.close()


def data(*arguments: str) -> dict[str, Any]:
    return dict(json.loads(run("journal", "trends", "--json", *arguments).output))


def test_everything_is_counted() -> None:
    found = data()
    assert found["cases"] == 4
    assert [(one["aircraft"], one["what"], one["cases"]) for one in found["repeats"]] == [
        ("HM-VLA", "signal/dark", [1, 2, 3])
    ]
    assert found["removals"][0]["share_not_found"] == 1.0
    assert found["without_tree"] == [{"words": "<b>odd</b>", "case": 4}]
    assert found["untold"] == [{"check": "signal/supply-seen", "made": 3, "untold": 3}]
    (pace,) = found["paces"]
    assert (pace["symptom"], pace["cases"]) == ("signal/dark", 3)
    assert 0 < pace["expected"]["least"] <= pace["expected"]["minutes"]


def test_they_can_be_narrowed() -> None:
    assert data("--aircraft", "HM-VLB")["cases"] == 1
    assert data("--since", "2031-05-05", "--until", "2031-05-31")["cases"] == 2
    assert data("--chapter", "33")["cases"] == 3
    assert data("--chapter", "33-40")["cases"] == 3
    assert data("--aircraft", "hm vlb")["cases"] == 1
    assert data("--count", "4")["repeats"] == []
    assert data("--window", "8")["repeats"] == []
    assert len(data("--window", "3", "--unit", "flights")["repeats"]) == 1
    assert data("--no-charts")["paces"][0]["expected"] is None


def test_for_a_person_in_words() -> None:
    out = said("journal", "trends")
    for words in (
        "HM-VLA: the signal lamp stays dark, 3 times", "signal relay: 100 % (1 of 1)", "the chart",
        "“<b>odd</b>” (case 4)", "look at the supply light: 3 of 3 times", "belong to the operator",
    ):  # fmt: skip
        assert words in out
    assert "at fault in them: signal fuse" not in out  # the repair helped, and nobody established its fault
    assert "no chart compiled" in said("journal", "trends", "--no-charts")


def test_as_a_page(tmp_path: Path) -> None:
    assert "Wrote t.html" in run("journal", "trends", "-o", "t.html").output
    page = (tmp_path / "t.html").read_text(encoding="utf-8")
    assert "<svg" in page
    assert "&lt;b&gt;odd&lt;/b&gt;" in page
    assert "<b>odd" not in page
    assert "is there already" in run("journal", "trends", "-o", "t.html", code=1).output
    run("journal", "trends", "-o", "t.html", "--force")
    assert "end it in .html" in run("journal", "trends", "-o", "t.pdf", code=2).output


@pytest.mark.parametrize("option", ["--since", "--until"])
def test_what_is_no_day_is_wrong_use(option: str) -> None:
    assert "'4 May' is no day; write it as 2031-05-04" in run("journal", "trends", option, "4 May", code=2).output


def test_what_the_cases_were_narrowed_to_is_said(tmp_path: Path) -> None:
    options = ("--aircraft", "HM-VLA", "--since", "2031-05-02", "--until", "2031-05-31", "--chapter", "33")
    named = "aircraft HM-VLA; flights from 2031-05-02 on; flights to 2031-05-31; symptoms of chapter 33"
    assert f"Only {named}." in said("journal", "trends", *options)
    assert data(*options)["narrowed"] == named.split("; ")
    run("journal", "trends", *options, "-o", "t.html")
    assert f"Only {named}." in (tmp_path / "t.html").read_text(encoding="utf-8")
    assert "Only " not in said("journal", "trends")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--aircraft", "HM-VLX"), "the journal knows no aircraft 'HM-VLX'; it knows HM-VLA, HM-VLB"),
        (("--since", "2031-06-01", "--until", "2031-05-01"), "it ends (2031-05-01) before it begins (2031-06-01)"),
        (("--chapter", "abc"), "no tree file is of chapter 'abc'; they are of 33-40"),
        (("--chapter", "3"), "no tree file is of chapter '3'"),
    ],
)
def test_a_filter_that_can_leave_nothing_is_refused(options: tuple[str, ...], words: str) -> None:
    assert words in " ".join(run("journal", "trends", *options, code=2).output.replace("│", " ").split())


def test_every_row_can_be_listed(journal: Path) -> None:
    store = opened(journal)
    debriefed(store, words=[f"odd {number}" for number in range(14)], symptom=None)
    store.close()
    short, whole = said("journal", "trends", "--no-charts"), said("journal", "trends", "--no-charts", "--all")
    assert "“odd 13”" not in short
    assert "and 3 more; --all lists them" in short
    assert "“odd 13”" in whole
    assert "--all" not in whole
