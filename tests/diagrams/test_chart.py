"""A chart is drawn in flowchart symbols: every step, answer, caution and end is there, and connectors meet."""

from __future__ import annotations

import re
from functools import cache

import pytest

from faultree.diagrams.chart import Book, chart_drawing, facts
from faultree.diagrams.chart_block import end_words, ways
from faultree.diagrams.drawing import Drawing, DrawingError, Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.outline import outline
from faultree.strategy.case import Case
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.value import Chart, End, Step
from tests.diagrams.small import door, drawn, overlaps, squeezed, words
from tests.trees.demonstration import library

SYMPTOM = "flaps/needles-apart"


@cache
def chart() -> Chart:
    return compile_chart(library(), [SYMPTOM])


@cache
def drawing(paper: str | None) -> Drawing:
    return chart_drawing(Request(library(), SYMPTOM, paper=paper), chart())


@pytest.mark.parametrize("paper", [None, "a4", "a3"])
def test_every_step_answer_and_end_is_there(paper: str | None) -> None:
    text = squeezed(words(drawing(paper)))
    for node in chart():
        if isinstance(node, End):
            continue
        assert squeezed(node.title) in text
        assert squeezed(node.ask) in text
        for way in ways(chart(), node):
            assert squeezed(way.words) in text
            if isinstance(way.to, End):
                assert squeezed(end_words(library(), way.to)) in text


@pytest.mark.parametrize("paper", [None, "a4"])
def test_cautions_stand_beside_their_step_in_full(paper: str | None) -> None:
    """Whoever reads a step reads its cautions: each caution of a step is in the bracket of that step."""
    shapes = {one.id: one for sheet in drawing(paper).sheets for one in sheet.shapes}
    noted = [node for node in chart() if isinstance(node, Step) and node.cautions]
    assert noted
    for node in noted:
        beside = squeezed(" ".join(shapes[f"note-{node.number}!text"].lines))
        for name in node.cautions:
            caution = library().cautions[name]
            assert squeezed(f"{caution.level.upper()}: {caution.text}") in beside


@pytest.mark.parametrize("paper", [None, "a4"])
def test_cautions_of_a_repair_stand_in_its_end_or_beside_it(paper: str | None) -> None:
    """An end has its cautions in full, or names them by codes that stand in full on the same sheet, left of it."""
    ends = 0
    for sheet in drawing(paper).sheets:
        shapes = {one.id: one for one in sheet.shapes}
        for name in [one.id for one in sheet.shapes if re.fullmatch(r"end-\d+-\d+", one.id) and one.form == "round"]:
            _, step, number = name.split("-")
            node = chart().nodes[int(number)]
            assert isinstance(node, End)
            if not node.cautions:
                continue
            ends += 1
            care = " ".join(shapes[f"{name}!care"].lines)
            beside = squeezed(" ".join(shapes[f"care-{step}"].lines)) if f"care-{step}" in shapes else ""
            codes = re.findall(r"C\d+", care) if care.startswith("Before this") else []
            assert len(codes) in (0, len(node.cautions))
            for place, one in enumerate(node.cautions):
                caution = library().cautions[one]
                words_ = f"{codes[place]} " if codes else ""
                full = squeezed(f"{words_}{caution.level.upper()}: {caution.text}")
                assert full in (beside if codes else squeezed(care))
    assert ends > 10


@pytest.mark.parametrize("paper", [None, "a4", "legal"])
def test_nothing_lies_on_anything(paper: str | None) -> None:
    for sheet in drawing(paper).sheets:
        assert not list(overlaps(sheet))
        assert all(one.x >= 20 and one.x + one.w <= sheet.width - 20 for one in sheet.shapes)
        assert all(one.y >= 20 and one.y + one.h <= sheet.height - 20 for one in sheet.shapes)


def test_connectors_have_the_same_number_at_both_ends_and_name_the_right_page() -> None:
    sheets = drawing("a4").sheets
    begins = {
        one.lines[0]: sheet.number
        for sheet in sheets
        for one in sheet.shapes
        if one.id.startswith("from-") and one.form == "circle"
    }
    leads = [
        (one, sheet) for sheet in sheets for one in sheet.shapes if one.id.startswith("end-") and one.form == "circle"
    ]
    assert leads
    for circle, sheet in leads:
        (words_,) = [one.lines[0] for one in sheet.shapes if one.id == f"{circle.id}!to"]
        found = re.fullmatch(r"to step (\d+), page (\d+)", words_)
        assert found, words_
        assert found[1] == circle.lines[0]
        assert begins[found[1]] == int(found[2])


def test_every_step_is_drawn_once_and_can_be_come_to() -> None:
    """Following lines and connectors from the start leads to every step."""
    (sheet,) = drawing(None).sheets
    steps = [one.id for one in sheet.shapes if re.fullmatch(r"step-\d+", one.id)]
    assert sorted(steps) == sorted(f"step-{node.number}" for node in chart() if isinstance(node, Step))
    joined = [(line.tail, line.head) for line in sheet.lines]
    joined += [
        (one.id, f"from-{one.lines[0]}") for one in sheet.shapes if one.id.startswith("end-") and one.form == "circle"
    ]
    joined += [
        (f"{head}!label", f"{head}!from")
        for head in {one.id for one in sheet.shapes if re.fullmatch(r"end-\d+-\d+", one.id)}
    ]
    reached, pending = set(), ["from-1"]
    while pending:
        name = pending.pop()
        if name not in reached:
            reached.add(name)
            pending += [head for tail, head in joined if tail == name]
    assert set(steps) <= reached


def test_the_way_of_a_case_is_emphasised() -> None:
    root = chart().root
    assert isinstance(root, Step)
    answer = root.exits[0]
    case = Case.open(library(), [SYMPTOM]).answer(root.target, answer.answer)
    book = Book(Request(library(), SYMPTOM, evidence_of(case)), chart())
    assert book.taken == {1, answer.to}
    made = chart_drawing(book.asked, chart())
    states = {one.id: one.state for one in made.sheets[0].shapes}
    assert states["step-1"] == "path"


def test_what_it_costs_and_how_good_that_is_stands_on_every_sheet() -> None:
    assert facts(chart()).startswith("expected ")
    assert words(drawing("a4")).count("no chart costs less") == len(drawing("a4").sheets)


def test_a_chart_as_text_names_cautions_before_the_step() -> None:
    text = " ".join(outline(drawing(None)).split())
    step = next(node for node in chart() if isinstance(node, Step) and node.cautions)
    caution = library().cautions[step.cautions[0]]
    before = text.index(" ".join(f"!! {caution.level.upper()}: {caution.text}".split())[:60].replace("  ", " "))
    assert before < text.index(f"[{step.number}] {step.title[:20]}")


def test_a_chart_too_large_to_follow_is_refused() -> None:
    big = Chart(**{**vars(chart()), "nodes": {number: chart().root for number in range(1, 700)}})
    with pytest.raises(DrawingError, match="699 steps and ends"):
        chart_drawing(Request(library(), SYMPTOM), big)


def test_a_small_chart_starts_with_a_terminator() -> None:
    shapes = {one.id: one for one in drawn(door(), "stands", "chart").sheets[0].shapes}
    assert shapes["from-1"].form == "round"
    assert shapes["ask-1"].form == "diamond"
    assert shapes["step-1"].form == "box"
