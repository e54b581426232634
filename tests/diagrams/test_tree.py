"""A fault tree's drawing shows every title, likelihood, state and observation, and nothing on top of anything."""

from __future__ import annotations

import pytest

from faultree.logic.derive import fault_tree
from tests.diagrams.small import SVG, door, drawn, overlaps, parsed, squeezed, words
from tests.trees.demonstration import library


@pytest.mark.parametrize("symptom", sorted(library().symptoms)[::4])
def test_every_title_of_the_tree_is_in_the_drawing(symptom: str) -> None:
    """Drawn whole, each described gate, cause and house event is there in full, with its id."""
    drawing = drawn(library(), symptom, whole=True)
    text = squeezed(words(drawing))
    sources = {one.get("data-id") for sheet in drawing.sheets for one in parsed(sheet).iter(f"{SVG}g")}
    for node in fault_tree(library(), symptom):
        if node.gate != "not":
            assert squeezed(node.title) in text
            assert not node.source or node.source in sources


@pytest.mark.parametrize("symptom", sorted(library().symptoms)[1::4])
def test_nothing_lies_on_anything(symptom: str) -> None:
    for sheet in drawn(library(), symptom, answers={}).sheets:
        assert not list(overlaps(sheet))
        assert all(one.x >= 0 and one.x + one.w <= sheet.width for one in sheet.shapes)
        assert all(one.y >= 0 and one.y + one.h <= sheet.height for one in sheet.shapes)


def test_suspects_have_bars_and_excluded_causes_say_so() -> None:
    drawing = drawn(door(), "stands", answers={"listen": "no", "measure": "yes"})
    shapes = {one.id: one for one in drawing.sheets[0].shapes}
    bar = shapes["door/motor-dead!bar"]
    assert 0.99 < bar.value <= 1.0
    assert shapes["door/fuse!percent"].lines == ("excluded",)
    assert shapes["door/fuse"].state == "cleared"
    assert shapes["door/motor-dead"].state == "path"
    assert "seen: motor not running, not as expected" in words(drawing)
    assert {line.state for line in drawing.sheets[0].lines} >= {"path", "cleared", ""}


def test_a_branch_of_another_system_is_named() -> None:
    assert "from: Air/ground, wheel-speed and radio-height sensing" in words(
        drawn(library(), "spoilers/lever-held-on-ground")
    )


def test_house_and_undeveloped_events_say_what_they_are() -> None:
    text = words(drawn(library(), "flaps/relief-silent")) + words(drawn(library(), "spoilers/fault-lamp-on"))
    assert "not developed further" in text
    assert "on in this situation" in text


def test_what_was_seen_is_said_of_the_signal_and_not_of_the_box_that_denies_it() -> None:
    """The gauge showed pressure while parked: below "not under pressure" that is not "seen: Yes"."""
    drawing = drawn(library(), "hydraulics/low-pressure-2", answers={"direct-gauge-2": "yes"})
    (entry,) = [one for one in drawing.plain.outline if one.words == "system 2 not under pressure"]
    assert "): system 2 under pressure, as expected" in entry.note
    assert entry.note.startswith("seen (parked")


def test_what_was_observed_other_than_expected_keeps_its_sign_on_the_heavy_way() -> None:
    for view in ("tree", "logic"):
        drawing = drawn(door(), "stands", view, answers={"listen": "no", "measure": "yes"})
        shapes = {one.id: one for one in drawing.sheets[0].shapes}
        (odd,) = [name for name in shapes if name.endswith("!odd") and "door/running" in name]
        assert shapes[odd.removesuffix("!odd")].state == "path"
        assert any("double frame" in " ".join(one.lines) for one in shapes.values())
