"""The text of a drawing shows its structure in any terminal."""

from __future__ import annotations

from faultree.diagrams.outline import outline
from tests.diagrams.small import door, drawn


def test_a_tree_as_text() -> None:
    assert outline(drawn(door(), "stands")).splitlines()[:12] == [
        "the door stands still",
        "=====================",
        "",
        "≥1 the door stands still",
        "+- ≥1 motor not running",
        "|  +- & all of 2 inputs",
        "|  |  +- ≥1 left relay not closed",
        "|  |  |  +- (1) fuse blown (remote, p = 0.001)",
        "|  |  |  +- (o) left relay stuck open (p = 0.002)",
        "|  |  +- ≥1 right relay not closed",
        "|  |     +- (1) fuse blown (remote, p = 0.001)",
        "|  |     +- (o) right relay stuck open (p = 0.002)",
    ]


def test_evidence_stands_behind_each_suspect_and_signs_are_explained() -> None:
    text = outline(drawn(door(), "stands", answers={"measure": "yes"}))
    assert "(1) - fuse blown (excluded; remote, p = 0.001)" in text
    assert "- excluded or below 0.1 %" in " ".join(text.split())


def test_no_line_is_wider_than_asked() -> None:
    text = outline(drawn(door(**{"title: fuse blown": f"title: {'fuse ' * 60}"}), "stands"), width=60)
    assert max(map(len, text.splitlines())) <= 60


def test_it_says_who_decides() -> None:
    assert "licensed engineer decides" in " ".join(outline(drawn(door(), "stands")).split())
