"""A tree over sheets: every sheet fits, both ends of a cut have one mark, and nothing is lost."""

from __future__ import annotations

import time

import pytest

from faultree.diagrams.drawing import DrawingError, Request
from faultree.diagrams.paper import SIZES
from faultree.diagrams.tree import tree_drawing
from faultree.logic.derive import fault_tree
from faultree.logic.fault_tree import FaultTree, TreeNode
from tests.diagrams.small import door, drawn, overlaps, words
from tests.oracles.synthetic_graphs import TOP, synthetic_library
from tests.trees.demonstration import library


def flat(count: int) -> FaultTree:
    """One gate with very many causes."""
    names = [f"door/c{number}" for number in range(count)]
    nodes = {"top": TreeNode("top", "gate", "the door stands still", "door/stands", "any", 0, tuple(names))}
    nodes |= {name: TreeNode(name, "undeveloped", f"part {name} is broken", name) for name in names}
    return FaultTree("door/stands", "the door stands still", None, "top", nodes)


@pytest.mark.parametrize("paper", sorted(SIZES))
def test_every_sheet_is_as_large_as_its_paper_and_holds_what_is_on_it(paper: str) -> None:
    drawing = drawn(library(), "spoilers/rise-late", paper=paper)
    for sheet in drawing.sheets:
        assert sorted((sheet.width, sheet.height)) == pytest.approx(sorted(SIZES[paper]))
        assert all(one.x >= 20 and one.x + one.w <= sheet.width - 20 for one in sheet.shapes)
        assert all(one.y >= 20 and one.y + one.h <= sheet.height - 20 for one in sheet.shapes)
        assert not list(overlaps(sheet))


def test_a_small_tree_is_not_split() -> None:
    assert len(drawn(door(), "stands", paper="a4").sheets) == 1


def test_both_ends_of_a_cut_name_each_other() -> None:
    """For every "to page n" the same mark stands on page n, beside "from page m" where m uses it first."""
    drawing = drawn(library(), "spoilers/stay-down", paper="a4")
    assert len(drawing.sheets) > 3
    marks: dict[int, set[str]] = {}
    wanted: list[tuple[int, str]] = []
    for sheet in drawing.sheets:
        table = {one.id: one for one in sheet.shapes}
        marks[sheet.number] = {one.lines[0] for one in sheet.shapes if one.id.endswith("!mark")}
        for one in sheet.shapes:
            if one.id.endswith("!note") and one.lines[-1].startswith("to page "):
                owner = table[one.id.removesuffix("!note")]
                wanted.append((int(one.lines[-1].removeprefix("to page ")), owner.lines[0]))
            if one.id.endswith("!note") and one.lines[-1].startswith("to page "):
                assert one.lines[-1] != f"to page {sheet.number}"  # what is drawn beside it is named by its letter
    assert wanted
    assert all(mark in marks[number] for number, mark in wanted)


def test_large_paper_has_larger_type() -> None:
    """A sheet twice as large is hung on a wall and read from further away."""
    sizes = {
        paper: min(
            one.size
            for one in drawn(library(), "electrical/dc-bus-1-off", paper=paper).sheets[0].shapes
            if one.id.endswith("!title")
        )
        for paper in ("a4", "a3")
    }
    assert sizes["a3"] >= 1.1 * sizes["a4"]


def test_nothing_is_lost_by_the_split() -> None:
    """Each cause and described gate of the tree on one sheet stands on some sheet of the split one."""
    whole = drawn(library(), "spoilers/ground-panels-stay-down")
    split = drawn(library(), "spoilers/ground-panels-stay-down", paper="a4")
    sources = {one.source for one in whole.sheets[0].shapes if one.source}
    found = {one.source for sheet in split.sheets for one in sheet.shapes if one.source}
    assert sources <= found


def test_a_gate_with_more_causes_than_a_page_holds_goes_on() -> None:
    drawing = tree_drawing(Request(door(), "door/stands", paper="a4"), flat(200))
    text = words(drawing)
    assert len(drawing.sheets) > 1
    assert all(f"part door/c{number} is" in text for number in range(200))
    assert "continued" in text


@pytest.mark.parametrize("causes", [300, 1000])
def test_large_trees_are_split_quickly(causes: int) -> None:
    """Within 10 s for 1,000 causes; a quiet machine takes a quarter of that."""
    big = synthetic_library(5, causes, checks=3)
    tree = fault_tree(big, TOP)
    started = time.process_time()
    drawing = tree_drawing(Request(big, TOP, paper="a3", whole=True), tree)
    assert time.process_time() - started < 10.0
    assert len(drawing.sheets) > 2
    found = {one.source for sheet in drawing.sheets for one in sheet.shapes if one.source}
    assert set(tree.causes) <= found


def test_a_tree_that_nobody_could_read_is_refused_with_a_remedy() -> None:
    with pytest.raises(DrawingError, match=r"3001 parts, more than 2000.*--depth 4"):
        tree_drawing(Request(door(), "door/stands", paper="a3"), flat(3000))
    with pytest.raises(DrawingError, match="--paper a3"):
        tree_drawing(Request(door(), "door/stands"), flat(600))


def test_the_upper_levels_of_a_large_tree_can_be_drawn() -> None:
    big = synthetic_library(5, 3000, checks=3)
    drawing = tree_drawing(Request(big, TOP, depth=3), fault_tree(big, TOP))
    assert "deeper than what is drawn" in words(drawing)


def test_a_tree_too_wide_for_one_sheet_is_cut_up_on_it() -> None:
    """No line runs across the whole sheet; both ends of each cut have one letter, and nothing is lost."""
    (sheet,) = drawn(library(), "spoilers/stay-down").sheets
    assert sheet.width < 2.2 * sheet.height
    spans = [max(x for x, _ in one.points) - min(x for x, _ in one.points) for one in sheet.lines]
    assert max(spans) < 1000
    drawn_at = {one.lines[0] for one in sheet.shapes if one.id.endswith("!mark")}
    used = {one.lines[0] for one in sheet.shapes if one.form == "triangle" and not one.id.endswith("!mark")}
    assert used - {"A"} <= drawn_at
    causes = {one.source for one in sheet.shapes if one.form == "circle"}
    assert causes >= set(fault_tree(library(), "spoilers/stay-down").causes)
    assert not list(overlaps(sheet))
