"""The logic is drawn from left to right, a panel for each system, with marks where a signal comes from another."""

from __future__ import annotations

from itertools import pairwise

import pytest

from faultree.diagrams.logic import SMALLEST
from faultree.diagrams.net import net_of
from faultree.diagrams.picture import Sheet
from tests.diagrams.small import along, door, drawn, overlaps, squeezed, words
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
            assert squeezed(net_of(library(), symptom).says(row)) in text
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


@pytest.mark.parametrize("symptom", [*SOME, "leading-edge/transit-light-stays-on", "spoilers/stay-down"])
def test_each_input_of_a_box_ends_at_a_place_of_its_own(symptom: str) -> None:
    """A ring, an arrow and a dashed line at one place do not say which of the inputs is turned."""
    (sheet,) = drawn(library(), symptom, "logic").sheets
    ends: dict[str, list[float]] = {}
    for line in sheet.lines:
        if line.tail and line.curved:
            ends.setdefault(line.head, []).append(line.points[-1][1])
    for found in ends.values():
        places = sorted(found)
        assert all(high - low >= 6.0 for low, high in pairwise(places))


def test_what_takes_away_ends_with_a_ring_beside_its_own_words() -> None:
    """Of three lines into "pressure at the hydraulic flap motor" only the alternate switch takes it away."""
    net = net_of(library(), "leading-edge/transit-light-stays-on")
    (sheet,) = drawn(library(), "leading-edge/transit-light-stays-on", "logic").sheets
    lines = [line for line in sheet.lines if line.head == "flaps/motor-pressure"]
    assert sorted(line.ending for line in lines) == ["arrow", "arrow", "ring"]
    (ring,) = [line for line in lines if line.ending == "ring"]
    (row,) = [row for row in net.nodes["flaps/motor-pressure"].rows if row.tail]
    assert row.tail == ring.tail
    words = next(one for one in sheet.shapes if one.id == f"flaps/motor-pressure!{row.name}!words")
    assert words.y <= ring.points[-1][1] <= words.y + words.h


def test_an_excluded_cause_is_crossed_out_and_a_free_one_has_its_figure() -> None:
    drawing = drawn(door(), "stands", "logic", answers={"listen": "no", "measure": "yes"})
    shapes = {one.id: one for one in drawing.sheets[0].shapes}
    assert shapes["door/voltage!door/fuse"].lines == ("×",)
    assert shapes["door/running!door/motor-dead"].lines == ()
    turned = door(**{"lost_if: [jammed]": "lost_if: [{all: [jammed, running]}]"})
    shapes = {one.id: one for one in drawn(turned, "stands", "logic", answers={}).sheets[0].shapes}
    assert any(name.startswith("cause-") and name.endswith("!percent") for name in shapes)


def test_the_report_is_on_the_first_sheet() -> None:
    first = drawn(library(), "spoilers/stay-down", "logic", paper="a4").sheets[0]
    assert any(one.id == "spoilers/stay-down" for one in first.shapes)


@pytest.mark.parametrize("symptom", ["leading-edge/transit-light-stays-on", "flaps/needles-apart"])
def test_no_sheet_of_paper_has_smaller_type_than_the_least(symptom: str) -> None:
    """A system of many boxes above each other is split too, and a sheet with room to spare is drawn larger."""
    for sheet in drawn(library(), symptom, "logic", paper="a4").sheets:
        assert min(one.size for one in sheet.shapes if one.lines and one.form == "text") >= 7.0 * SMALLEST * 0.99


def legend(symptom: str) -> set[str]:
    (sheet,) = drawn(library(), symptom, "logic").sheets
    return {one.lines[0] for one in sheet.shapes if one.id.startswith("sample-") and one.lines}


def test_the_legend_holds_the_gates_that_are_drawn_and_no_others() -> None:
    for name in ("flaps/needles-apart", "spoilers/lever-held-on-ground", "electrical/dc-bus-1-off"):
        signs = {node.sign for node in net_of(library(), name).nodes.values()} - {""}
        known = {sign if sign in ("&", "≥1", "=1") else "≥m" for sign in signs}
        assert legend(name) & {"&", "≥1", "≥m", "=1"} == known


def test_the_legend_of_one_system_explains_triangles_where_its_pieces_use_them() -> None:
    for paper in (None, "a4"):
        for sheet in drawn(library(), "electrical/dc-bus-1-off", "logic", paper=paper).sheets:
            used = any(one.form == "triangle" and not one.id.startswith("sample-") for one in sheet.shapes)
            explained = any(one.form == "triangle" and one.id.startswith("sample-") for one in sheet.shapes)
            assert explained or not used


@pytest.mark.parametrize("symptom", [*SOME, "spoilers/stay-down"])
def test_no_line_runs_through_a_box(symptom: str) -> None:
    for sheet in drawn(library(), symptom, "logic", paper="a4").sheets:
        boxes = [one for one in sheet.shapes if one.form in ("box", "round") and one.look in ("gate", "top")]
        for line in sheet.lines:
            points = along(line.points) if line.curved else []
            for box in boxes:
                if box.id not in (line.tail, line.head):
                    assert not any(
                        box.x + 1 < x < box.x + box.w - 1 and box.y + 1 < y < box.y + box.h - 1 for x, y in points
                    )
