"""The sheet as files: each format, nothing half-written, and clear words where it cannot be."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.desks import other_tree, run
from tests.journal.cases import debriefed, opened
from tests.walk.small import DARK


@pytest.fixture(autouse=True)
def case(journal: Path) -> None:
    store = opened(journal)
    debriefed(store)
    store.close()


def test_on_the_screen_it_is_markdown() -> None:
    assert run("debrief", "sheet", "1").output.startswith("# Case 1: open\n")


@pytest.mark.parametrize(
    ("name", "begins"), [("x.html", b"<!DOCTYPE html>"), ("x.pdf", b"%PDF-"), ("x.md", b"# Case 1")]
)
def test_a_file_in_each_format(tmp_path: Path, name: str, begins: bytes) -> None:
    if name.endswith("pdf"):
        pytest.importorskip("typst", reason="PDF needs the extra faultree[pdf]")
    run("debrief", "sheet", "1", "-o", name)
    assert (tmp_path / name).read_bytes().startswith(begins)
    assert not list(tmp_path.glob(".*part*"))


def test_plain_data_can_be_read_back(tmp_path: Path) -> None:
    run("debrief", "sheet", "1", "-o", "x.json")
    data = json.loads((tmp_path / "x.json").read_text(encoding="utf-8"))
    assert data["number"] == 1
    meant = {"meant": "the signal lamp stays dark", "symptom": DARK}
    assert data["squawks"] == [{"words": "lamp out", "later": "", **meant}]
    assert data["timeline"][0] == {
        "at": "2031-05-04T12:00:00+00:00", "shown": "2031-05-04 12:00", "said": "the crew reported", "who": "KL"
    }  # fmt: skip


def test_the_drawing_can_be_left_out(tmp_path: Path) -> None:
    run("debrief", "sheet", "1", "-o", "with.html")
    run("debrief", "sheet", "1", "-o", "without.html", "--no-drawing")
    assert "<svg" in (tmp_path / "with.html").read_text(encoding="utf-8")
    assert "<svg" not in (tmp_path / "without.html").read_text(encoding="utf-8")


def test_an_ending_that_is_no_format_is_refused() -> None:
    assert "ends in no format of a sheet" in run("debrief", "sheet", "1", "-o", "x.doc", code=1).output


def test_an_empty_name_is_refused_as_such() -> None:
    assert "the name is empty" in run("debrief", "sheet", "1", "-o", "", code=2).output


def test_a_folder_that_is_not_there_is_said() -> None:
    assert (
        "there is no folder no/folder; make it, or name another"
        in run("debrief", "sheet", "1", "-o", "no/folder/x.html", code=1).output
    )


@pytest.mark.parametrize("name", ["x.html", "x.md", "x.json"])
def test_a_case_whose_report_is_gone_still_has_its_sheet(tmp_path: Path, name: str) -> None:
    """Words, flight and timeline as they were kept, and what no longer fits; with the drawing left out."""
    other_tree(tmp_path)
    run("debrief", "sheet", "1", "-o", name)
    words = " ".join((tmp_path / name).read_text(encoding="utf-8").split())
    for kept in (
        "lamp out",
        "HM-VLA",
        "listen to the relay",
        "Nothing of the walk fits the tree files as they are now",
    ):
        assert kept in words
    assert "the signal lamp stays dark" in words
    assert "<svg" not in words
