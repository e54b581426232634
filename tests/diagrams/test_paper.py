"""Paper has the sizes of the standards, in points."""

from __future__ import annotations

import pytest

from faultree.diagrams.paper import MARGIN, SIZES, ways

# ISO 216, and the North American sizes in inches (from memory).
MILLIMETRES = {"a4": (210, 297), "a3": (297, 420), "letter": (8.5 * 25.4, 11 * 25.4), "legal": (8.5 * 25.4, 14 * 25.4)}


@pytest.mark.parametrize("name", sorted(SIZES))
def test_sizes_are_those_of_the_standards(name: str) -> None:
    assert SIZES[name] == pytest.approx([side / 25.4 * 72 for side in MILLIMETRES[name]])


def test_the_room_is_what_the_margins_leave() -> None:
    paper = ways("a4")[1]
    assert paper.room == (paper.width - 2 * MARGIN, paper.height - 2 * MARGIN)
