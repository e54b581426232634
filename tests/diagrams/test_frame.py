"""Every sheet says what it shows, from which library and when, that it is a training aid, and what its signs mean."""

from __future__ import annotations

import pytest

from faultree.diagrams.draw import draw
from faultree.diagrams.drawing import Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.frame import NOTICE, Block, Frame, sample, sheet, used
from faultree.diagrams.paper import ways
from faultree.diagrams.picture import Group
from faultree.strategy.case import Case
from tests.diagrams.small import door, drawn, overlaps, words
from tests.trees.demonstration import library


@pytest.mark.parametrize("paper", [None, "a4"])
def test_the_title_block_says_what_is_shown(paper: str | None) -> None:
    drawing = drawn(library(), "spoilers/lever-held-on-ground", paper=paper)
    for part in (
        "the spoiler lever is held at its in-flight stop during taxi",
        "Flight and ground spoilers",
        "chapter 27-60",
        "situation: taxi with both engines running",
        library().digest[:10],
        "faultree 0.1.0",
        "2026-11-25",
        "Likelihood bands",
        NOTICE,
    ):
        assert words(drawing).count(part) >= len(drawing.sheets), part


def test_the_answers_of_the_case_stand_in_the_title_block() -> None:
    assert "Answer: measure at the relays: " in words(drawn(door(), "stands", answers={"measure": "yes"}))


def test_of_many_answers_the_last_ones_are_shown() -> None:
    frame = Frame(Block("title", "view", steps=tuple(f"step {number}: yes" for number in range(20))))
    text = " ".join(line for shape in frame.above(600, 1, 1).shapes for line in shape.lines)
    assert "After 8 earlier answers:" in text
    assert "Answer: step 19" in text
    assert "Answer: step 8:" in text
    assert "step 7:" not in text


def test_the_other_reports_of_a_case_stand_on_its_drawing() -> None:
    """The probabilities rest on them as well."""
    text = "symptoms:\n  quiet: {situation: closing, title: the motor is quiet, sees: {running: no}}\n"
    two = door(**{"symptoms:\n": text})
    evidence = evidence_of(Case.open(two, ["stands", "quiet"]))
    for view in ("tree", "logic", "matrix"):
        drawing = draw(Request(two, "door/stands", evidence), view)
        assert "Reported too: the motor is quiet" in words(drawing)
    chart = draw(Request(two, "door/stands", evidence), "chart")
    assert "the door stands still and the motor is quiet" in words(chart)
    assert "Reported too" not in words(chart)


def test_a_long_title_is_whole() -> None:
    title = "a title of many words that go on and on " * 7
    shapes = Frame(Block(title, "view")).above(600, 1, 1).shapes
    assert " ".join(" ".join(one.lines) for one in shapes).count("and on") == 7


def test_the_legend_holds_what_the_drawing_uses() -> None:
    text = words(drawn(door(), "stands"))
    assert "basic event, with its likelihood" in text
    assert "same number: same event" in text
    assert "undeveloped event" not in text
    assert "probability now" not in text
    assert "probability now" in words(drawn(door(), "stands", answers={}))


def test_a_frame_without_a_legend_takes_no_room_for_it() -> None:
    assert Frame(Block("title", "view")).below(500).h == 0


@pytest.mark.parametrize("count", [3, 30])
def test_the_frame_fits_any_width(count: int) -> None:
    """Long words and many signs are broken into rows, and nothing lies on anything."""
    samples = used((True, sample("box", f"meaning of sign number {number}")) for number in range(count))
    frame = Frame(Block("a long title " * 12, "view", "system", "situation", "version", None, ("a: b",) * 4), samples)
    for paper in (None, ways("a4")[1]):
        made = sheet(frame, Group(100, 100), 1, 3, paper)
        assert not list(overlaps(made))
        assert all(one.x + one.w <= made.width - 25 for one in made.shapes)
        assert frame.height(made.width) < 400
