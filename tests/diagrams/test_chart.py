"""A chart is drawn in flowchart symbols: every step, answer, caution and end is there, and connectors meet."""

from __future__ import annotations

import re
from functools import cache

import pytest

from faultree.diagrams.chart import Book, chart_drawing, facts
from faultree.diagrams.chart_block import ways
from faultree.diagrams.chart_end import rows_of
from faultree.diagrams.drawing import Drawing, DrawingError, Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.outline import outline
from faultree.strategy.case import Case
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.merge import merged
from faultree.strategy.chart.value import Chart, Step
from faultree.walk.chart_blocks import ChartPage, EndBlock, StepBlock
from faultree.walk.chart_page import page_of
from tests.diagrams.small import door, drawn, overlaps, squeezed, words
from tests.trees.demonstration import library

SYMPTOM = "flaps/needles-apart"


@cache
def chart() -> Chart:
    return compile_chart(library(), [SYMPTOM])


@cache
def drawing(paper: str | None) -> Drawing:
    return chart_drawing(Request(library(), SYMPTOM, paper=paper), chart())


@cache
def page() -> ChartPage:
    return page_of(library(), chart())


def steps() -> list[StepBlock]:
    return [one for one in page().blocks if isinstance(one, StepBlock)]


def ends() -> list[EndBlock]:
    return [one for one in page().blocks if isinstance(one, EndBlock)]


@pytest.mark.parametrize("paper", [None, "a4", "a3"])
def test_every_step_answer_and_end_is_there_with_all_that_the_bench_needs(paper: str | None) -> None:
    """What the list of the chart says of a number, the drawing says too: when, tools, access, manual, do, undo."""
    text = squeezed(words(drawing(paper)))
    for step in steps():
        for said in (step.title, step.ask, step.takes, *(words_ for _, words_ in step.facts)):
            assert squeezed(said) in text
        for way in ways(step):
            assert squeezed(way.text) in text
    for end in ends():
        assert squeezed(f"End {end.number}. {end.headline}") in text
        for said in (*(words_ for _, words_ in end.facts), end.do, *end.afterwards, end.handover):
            assert squeezed(said) in text


@pytest.mark.parametrize("paper", [None, "a4"])
def test_cautions_stand_beside_their_step_in_full(paper: str | None) -> None:
    """Whoever reads a step reads its cautions, in no smaller type than the rest."""
    shapes = {one.id: one for sheet in drawing(paper).sheets for one in sheet.shapes}
    noted = [step for step in steps() if step.cautions]
    assert noted
    for step in noted:
        note = shapes[f"note-{step.number}!text"]
        assert note.size >= shapes[f"step-{step.number}!2"].size
        beside = squeezed(" ".join(note.lines))
        for one in step.cautions:
            assert squeezed(f"{one.level.upper()}: {one.text}") in beside


@pytest.mark.parametrize("paper", [None, "a4"])
def test_cautions_of_a_repair_stand_in_its_end_before_what_is_done(paper: str | None) -> None:
    shapes = {one.id: one for sheet in drawing(paper).sheets for one in sheet.shapes}
    noted = [end for end in ends() if end.cautions]
    assert noted
    for end in noted:
        rows = [label for label, _ in rows_of(end)]
        assert max(place for place, label in enumerate(rows) if label.isupper()) < rows.index("Do")
        for place, (_, said) in enumerate(rows_of(end)):
            assert squeezed(" ".join(shapes[f"end-{end.number}!row{place}"].lines)) == squeezed(said)


def test_an_answer_that_leaves_the_chart_is_no_repair() -> None:
    """Whoever leaves the chart must not find an end there that says what to replace."""
    for step in steps():
        for way in ways(step):
            if way.to is None:
                shapes = {one.id: one for sheet in drawing("a4").sheets for one in sheet.shapes}
                assert shapes[f"end-{step.number}-leave!title"].lines == ("Leave the chart",)
                assert shapes[f"end-{step.number}-leave"].look != "end"
    text = outline(drawing(None))
    assert text.count("-> leave the chart") == sum(way.to is None for step in steps() for way in ways(step)) > 0
    assert "leave the chart and go on with 'faultree walk flaps/needles-apart'" in " ".join(text.split())


def test_an_end_is_drawn_in_full_once_and_named_by_its_number_elsewhere() -> None:
    (sheet,) = drawing(None).sheets
    whole = [one.id for one in sheet.shapes if re.fullmatch(r"end-\d+", one.id)]
    assert sorted(whole) == sorted(f"end-{end.number}" for end in ends())
    for end in ends():
        named = [one for one in sheet.shapes if re.fullmatch(rf"end-\d+-{end.number}", one.id)]
        assert len(named) == len(end.come_from)


def test_numbers_follow_each_other_down_a_column() -> None:
    book = Book(Request(library(), SYMPTOM), merged(chart()), page())
    for chain in book.chains:
        numbers = [step.number for step in chain]
        assert numbers == sorted(numbers)
    assert [step.number for step in book.chains[0]][:2] == [1, 2]


def test_where_a_step_is_come_from_names_its_page() -> None:
    sheets = drawing("a4").sheets
    at = {one.id: sheet.number for sheet in sheets for one in sheet.shapes if re.fullmatch(r"step-\d+", one.id)}
    said = [
        " ".join(one.lines)
        for sheet in sheets
        for one in sheet.shapes
        if re.fullmatch(r"(from-\d+!words|end-\d+!from)", one.id)
    ]
    assert said
    for words_ in said:
        pairs = re.findall(r"(\d+), page (\d+)", words_)
        assert pairs
        assert all(at[f"step-{number}"] == int(page_) for number, page_ in pairs)


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
    found = [one.id for one in sheet.shapes if re.fullmatch(r"step-\d+", one.id)]
    assert sorted(found) == sorted(f"step-{step.number}" for step in steps())
    joined = [(line.tail, line.head) for line in sheet.lines]
    joined += [
        (one.id, f"from-{one.lines[0]}") for one in sheet.shapes if one.id.startswith("end-") and one.form == "circle"
    ]
    joined += [
        (f"{head}!label", f"{head}!from")
        for head in {one.id for one in sheet.shapes if re.fullmatch(r"end-\d+-(\d+|leave)", one.id)}
    ]
    reached, pending = set(), ["from-1"]
    while pending:
        name = pending.pop()
        if name not in reached:
            reached.add(name)
            pending += [head for tail, head in joined if tail == name]
    assert set(found) <= reached


def test_the_way_of_a_case_is_emphasised_and_none_where_no_step_was_made() -> None:
    root = chart().root
    assert isinstance(root, Step)
    answer = root.exits[0]
    case = Case.open(library(), [SYMPTOM])
    begun = Book(Request(library(), SYMPTOM, evidence_of(case)), merged(chart()), page())
    assert begun.taken == frozenset()
    case = case.answer(root.target, answer.answer)
    book = Book(Request(library(), SYMPTOM, evidence_of(case)), merged(chart()), page())
    assert book.taken == {1, answer.to}
    made = chart_drawing(book.asked, chart())
    states = {one.id: one.state for one in made.sheets[0].shapes}
    assert states["step-1"] == "path"


def test_what_it_costs_and_how_good_that_is_stands_on_every_sheet() -> None:
    assert facts(page()).startswith("Expected ")
    proof = squeezed(page().proof)
    assert squeezed(words(drawing("a4"))).count(proof) == len(drawing("a4").sheets)


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
