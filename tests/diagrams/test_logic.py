"""The logic is drawn from left to right, a panel for each system, with marks where a signal comes from another."""

from __future__ import annotations

import pytest

from faultree.diagrams.logic import SMALLEST
from faultree.diagrams.net import net_of
from faultree.diagrams.picture import Sheet
from tests.diagrams.small import door, drawn, overlaps, squeezed, words
from tests.trees.demonstration import library

SOME = ["spoilers/lever-held-on-ground", "flaps/relief-silent", "hydraulics/low-pressure-2"]


@pytest.mark.parametrize("symptom", SOME)
def test_every_title_of_the_net_is_in_the_drawing(symptom: str) -> None:
    drawing = drawn(library(), symptom, "logic")
    text = squeezed(words(drawing))
    for node in net_of(library(), symptom).nodes.values():
        if node.kind not in ("gate", "report"):
            assert squeezed(library().node(node.source).title) in text
        for row in node.rows:
            assert squeezed(library().node(row.name).title) in text
    for system in {node.system for node in net_of(library(), symptom).nodes.values()}:
        assert squeezed(library().systems[system].title) in text


@pytest.mark.parametrize("paper", [None, "a4"])
@pytest.mark.parametrize("symptom", SOME)
def test_no_line_runs_through_words_and_nothing_lies_on_anything(symptom: str, paper: str | None) -> None:
    for sheet in drawn(library(), symptom, "logic", paper=paper, answers={}).sheets:
        assert not list(overlaps(sheet))
        assert all(one.x >= 20 and one.x + one.w <= sheet.width - 20 for one in sheet.shapes)
        assert all(one.y >= 20 and one.y + one.h <= sheet.height - 20 for one in sheet.shapes)


def test_links_lead_to_the_right() -> None:
    (sheet,) = drawn(door(), "stands", "logic").sheets
    for line in sheet.lines:
        if line.tail and line.curved:
            assert line.points[0][0] < line.points[-1][0]


def marks(sheets: tuple[Sheet, ...], ending: str) -> set[str]:
    return {
        one.lines[0] for sheet in sheets for one in sheet.shapes if one.form == "triangle" and one.id.endswith(ending)
    }


def test_both_ends_of_a_signal_between_panels_have_one_mark() -> None:
    sheets = drawn(library(), "spoilers/lever-held-on-ground", "logic").sheets
    drawn_at = marks(sheets, "!mark")
    used = {one.lines[0] for sheet in sheets for one in sheet.shapes if one.form == "triangle" and ">" in one.id}
    assert drawn_at == used
    assert len(drawn_at) == 3


def test_a_large_system_is_split_so_that_it_stays_legible() -> None:
    sheets = drawn(library(), "flaps/needles-apart", "logic", paper="a4").sheets
    assert len(sheets) > 2
    least = min(one.size for sheet in sheets for one in sheet.shapes if one.lines)
    assert least >= 5.8 * SMALLEST * 0.95
    text = "".join(" ".join(one.lines) for sheet in sheets for one in sheet.shapes)
    assert "page 2" in text
    assert "(1 of " in text


def test_evidence_is_on_the_picture() -> None:
    drawing = drawn(door(), "stands", "logic", answers={"listen": "no", "measure": "yes"})
    shapes = {one.id: one for one in drawing.sheets[0].shapes}
    assert shapes["door/running"].state == "path"
    assert shapes["door/running!door/motor-dead!bar"].value > 0.99
    assert shapes["door/voltage!door/fuse!percent"].lines == ("excluded",)
    assert "seen: No; expected: Yes" in words(drawing)
    assert any(line.state == "path" for line in drawing.sheets[0].lines)


def test_values_are_those_of_a_sound_system() -> None:
    shapes = {one.id: one for one in drawn(door(), "stands", "logic").sheets[0].shapes}
    assert shapes["door/running!value"].lines == ("on",)
