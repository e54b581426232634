"""Layouts of a tree: nothing lies on anything, and of several layouts none beats another in both directions."""

from __future__ import annotations

from itertools import pairwise

import pytest

from faultree.diagrams.blocks import Layout
from faultree.diagrams.evidence import NOTHING
from faultree.diagrams.parts import unfolded
from faultree.diagrams.picture import Sheet
from faultree.logic.derive import fault_tree
from tests.diagrams.small import door, overlaps
from tests.trees.demonstration import library

SOME = ["spoilers/lever-held-on-ground", "leading-edge/transit-light-stays-on", "flaps/needles-apart"]


@pytest.mark.parametrize("symptom", SOME)
def test_in_no_layout_does_anything_overlap(symptom: str) -> None:
    """No two texts lie on each other and no line runs through a text, in the widest and the narrowest layout."""
    root = unfolded(fault_tree(library(), symptom), NOTHING)
    choices = Layout().choices(root)
    for block in (choices[0], choices[len(choices) // 2], choices[-1]):
        group = block.group()
        sheet = Sheet(1, "", group.w, group.h, group.shapes, group.lines)
        assert not list(overlaps(sheet))
        assert all(one.x >= -1 and one.x + one.w <= block.w + 1 for one in group.shapes)
        assert all(one.y >= -1 and one.y + one.h <= block.h + 1 for one in group.shapes)


def test_no_layout_beats_another_in_both_directions() -> None:
    choices = Layout().choices(unfolded(fault_tree(library(), SOME[0]), NOTHING))
    assert len(choices) > 3
    for one, other in pairwise(choices):
        assert one.w < other.w
        assert one.h > other.h


def test_every_input_hangs_from_its_gate() -> None:
    root = unfolded(fault_tree(door(), "stands"), NOTHING)
    group = Layout().best(root, 1.4, 1.0).group()
    joined = {(line.tail.removesuffix("!gate"), line.head.removesuffix("!gate")) for line in group.lines}
    for part in root:
        assert {(part.id, kid.id) for kid in part.kids} <= joined


def test_a_wide_room_gives_a_flat_tree_and_a_narrow_one_a_tall_tree() -> None:
    layout = Layout()
    root = unfolded(fault_tree(library(), SOME[1]), NOTHING)
    flat, tall = layout.best(root, 5.0, 1.0), layout.best(root, 1.0, 5.0)
    assert flat.w > tall.w
    assert flat.h < tall.h
