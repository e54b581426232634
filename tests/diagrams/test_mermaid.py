"""Mermaid text is the same for the same drawing, and authors' words cannot become its syntax."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultree.diagrams.drawing import DrawingError
from faultree.diagrams.mermaid import MOST_EDGES, mermaid
from faultree.diagrams.picture import Arc, Plain
from tests.diagrams.small import door, drawn

GOLDEN = Path(__file__).parent / "golden"


def test_a_small_tree_is_written_as_it_always_was() -> None:
    assert mermaid(drawn(door(), "stands")) == (GOLDEN / "door-tree.mmd").read_text(encoding="utf-8")


def test_evidence_gives_classes() -> None:
    text = mermaid(drawn(door(), "stands", answers={"listen": "yes"}))
    assert "classDef path" in text
    assert "classDef cleared" in text
    assert " === " in text


def test_words_cannot_end_their_quotes() -> None:
    library = door(**{"title: fuse blown": """title: '"] --> x; click n1 "javascript:1" %%{init: {}}%%'"""})
    text = mermaid(drawn(library, "stands"))
    body = [line for line in text.splitlines() if not line.startswith("%%")]
    assert not any("javascript" in line and line.strip().startswith("click") for line in body)
    assert "#34;#93; --#62; x#59; click" in text
    assert "%%{init" not in text


def test_more_edges_than_are_drawn_are_refused_with_a_remedy() -> None:
    drawing = drawn(door(), "stands")
    object.__setattr__(drawing, "plain", Plain(arcs=(Arc("a", "b"),) * (MOST_EDGES + 1)))
    with pytest.raises(DrawingError, match="depth"):
        mermaid(drawing)
