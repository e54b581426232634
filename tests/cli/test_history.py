"""History only when asked, said on every screen, with the number of records and the figures before and after."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from faultree.journal import book
from tests.cli.desks import desk, run, said
from tests.journal.cases import debriefed, opened

IN_USE = (
    "History is in use, from 8 cases of the same report (one may hold several findings): 6 confirmed faults, "
    "2 units with no fault found"
)
AGAIN = "History is in use, from 8 cases of the same report (one may hold several findings)"
"""What is left of it where it is recalled."""


@pytest.fixture(autouse=True)
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Eight cases of the dark lamp: the fuse six times, the lamp twice found good."""
    path = desk(tmp_path, monkeypatch)
    store = opened(path)
    for number in range(1, 9):
        debriefed(store, answers=[])
        if number <= 6:
            book.find(store, number, "signal/fuse", "confirmed", cause="signal/fuse-blown")
        else:
            book.find(store, number, "signal/lamp", "not found")
    store.close()
    return path


def test_nothing_is_learnt_unasked() -> None:
    assert "History" not in said("rank", "dark")
    assert "history" not in json.loads(run("rank", "dark", "--json").output)


def test_rank_shows_before_and_after() -> None:
    out = said("rank", "dark", "--history")
    assert out.count(IN_USE) == 2  # above the table, and beside the figures
    assert "author with history confirmed" in out
    assert out.index("Signal fuse blown") < out.index("Suspects")


def test_the_figures_are_those_of_the_formula() -> None:
    """Six confirmed of one cause, worth ten with the author's share s: (10 s + 6) / 16 without units found good."""
    data = json.loads(run("rank", "dark", "--history", "--json").output)["history"]
    assert (data["confirmed"], data["not_found"], data["strength"]) == (6, 2, 10.0)
    fuse = next(one for one in data["shares"] if one["cause"] == "signal/fuse-blown")
    assert fuse["after"] > (10 * fuse["before"] + 6) / 16  # two lamps found good speak for all the others
    assert sum(one["after"] for one in data["shares"]) == pytest.approx(1.0)


def test_the_strength_of_the_author_can_be_set() -> None:
    after = [
        next(
            one["after"]
            for one in json.loads(run("rank", "dark", "--history", "--history-strength", s, "--json").output)[
                "history"
            ]["shares"]
            if one["cause"] == "signal/fuse-blown"
        )
        for s in ("1", "10", "1000")
    ]
    assert after == sorted(after, reverse=True)
    assert "count as 1000 findings" in said("rank", "dark", "--history", "--history-strength", "1000")


def test_a_walk_says_it_at_the_notice_and_at_every_step() -> None:
    out = said("walk", "dark", "--history", lines="ok\n1\n1\n")
    before, _, steps = out.partition("Step 1")
    assert IN_USE in before
    assert IN_USE in steps
    assert IN_USE in steps.partition("Step 2")[2]
    assert "--history needs the symptoms named" in run("walk", "--history", code=2).output


def test_a_saved_case_is_taken_up_with_history() -> None:
    run("walk", "dark", lines="ok\n1\nsave mine\nquit\n")
    assert IN_USE in said("walk", "--case", "mine.yaml", "--history", lines="ok\n")


def test_a_saved_case_that_was_ranked_with_history_says_so_without_it() -> None:
    run("walk", "dark", "--history", lines="ok\n1\nsave mine\nquit\n")
    alone = said("walk", "--case", "mine.yaml", lines="ok\n")
    assert f"ranked with history (“{AGAIN}”); the figures now are the author's alone" in alone.partition("Step 2")[0]
    assert "ranked with history" not in said("walk", "--case", "mine.yaml", "--history", lines="ok\n")


def test_a_chart_with_history_is_followed_with_it_or_says_that_it_is_not() -> None:
    run("chart", "dark", "--history", "-o", "c.json")
    alone = said("walk", "--chart", "c.json", lines="ok\n")
    assert f"c.json was compiled with history (“{AGAIN}”); this walk ranks by the author's figures alone" in alone
    along = said("walk", "--chart", "c.json", "--history", lines="ok\n")
    assert "was compiled with history" not in along
    assert IN_USE in along.partition("Step 1")[2]


def test_whoever_leaves_a_chart_goes_on_with_history() -> None:
    assert "'faultree walk signal/dark --history'" in said("chart", "dark", "--history")
    assert "--history'" not in said("chart", "dark")


@pytest.mark.parametrize("command", [("rank", "dark"), ("walk", "dark"), ("chart", "dark"), ("debrief",)])
def test_a_strength_without_history_is_refused(command: tuple[str, ...]) -> None:
    assert "add --history" in run(*command, "--history-strength", "3", code=2).output


@pytest.mark.parametrize("value", ["abc", "0", "-1", "nan", "1e9"])
def test_a_strength_that_is_none_is_refused_in_words(value: str) -> None:
    out = run("rank", "dark", "--history", f"--history-strength={value}", code=2).output
    assert "is no number of findings; write one above 0, as 10" in " ".join(out.split())


def test_a_case_keeps_the_history_that_it_was_ranked_by() -> None:
    """Its sheet needs no option; a sheet without history says that the debrief had one, and which."""
    run("debrief", "--history", "--history-strength", "50", lines="HM-VLC\n\n\n\nno landing signal\n\n1\nok\nclick\n")
    kept = said("debrief", "sheet", "9")
    assert IN_USE in kept
    assert "count as 50 findings" in kept
    assert "by the author's figures alone" in kept
    alone = said("debrief", "sheet", "9", "--no-history")
    assert IN_USE not in alone
    assert "ranked with history" in alone
    assert "count as 2 findings" in said("debrief", "sheet", "9", "--history-strength", "2")
    assert "add --history" in run("debrief", "sheet", "9", "--no-history", "--history-strength", "2", code=2).output


def test_a_debrief_goes_on_with_the_history_that_it_was_begun_with() -> None:
    """And without, where that is asked for: the screen says so, and the sheet of the case follows."""
    run("debrief", "--history", "--history-strength", "50", lines="HM-VLC\n\n\n\nno landing signal\n\n1\nok\nclick\n")
    again = said("debrief", "continue", "9", lines="no\nok\n")
    assert IN_USE in again
    assert "count as 50 findings" in again
    alone = said("debrief", "continue", "9", "--no-history", lines="ok\n")
    assert IN_USE not in alone
    assert "ranked with history" in alone
    assert "by the author's figures alone" not in said("debrief", "sheet", "9")


def test_a_case_teaches_nothing_about_itself() -> None:
    """Eight cases are told of, and the sheet of one of them rests on the seven others."""
    assert "from 7 cases" in said("debrief", "sheet", "1", "--history")


def test_the_sheet_says_once_what_it_rests_on() -> None:
    run("debrief", "--history", lines="HM-VLC\n\n\n\nno landing signal\n\n1\nok\nclick\n")
    out = said("debrief", "sheet", "9")
    assert out.count("6 confirmed faults") == 1


def test_a_chart_says_it(tmp_path: Path) -> None:
    out = said("chart", "dark", "--history")
    assert out.count(IN_USE) >= 2
    run("chart", "dark", "--history", "-o", "c.json")
    assert IN_USE in json.loads((tmp_path / "c.json").read_text(encoding="utf-8"))["history"]


def test_a_debrief_says_it_and_the_record_keeps_it(journal: Path) -> None:
    out = said("debrief", "--history", lines="HM-VLC\n\n\n\nno landing signal\n\n1\nok\nclick\n")
    assert IN_USE in out.partition("Before you begin")[0]
    assert IN_USE in out.partition("The state of case 9")[2]
    store = opened(journal)
    notes = [str(one.data["text"]) for one in book.read(store, 9).entries if one.kind == "note"]
    store.close()
    assert IN_USE in notes[0]
    assert IN_USE in said("debrief", "sheet", "9", "--history")


def test_without_records_it_says_that_there_are_none() -> None:
    out = said("rank", "button-lamp", "--history")
    assert "the journal holds no finding of the same report" in out


def test_a_damaged_case_is_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "odd.yaml").write_text("case: 1\nsymptoms: [[dark]]\n", encoding="utf-8")
    assert "--history needs the symptoms named" in run("walk", "--case", "odd.yaml", "--history", code=2).output
