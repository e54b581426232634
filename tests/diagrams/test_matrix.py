"""The matrix shows for each cause what each check would show, and boxes what no check tells apart."""

from __future__ import annotations

import pytest

from faultree.diagrams.drawing import Request
from faultree.diagrams.evidence import NOTHING
from faultree.diagrams.matrix import Table
from faultree.diagrams.outline import outline
from faultree.library.load import load_texts
from faultree.strategy.testability import assess
from tests.diagrams.small import door, drawn, overlaps, squeezed, words
from tests.oracles.brute import World
from tests.trees.demonstration import library

SAME = "hydraulics/low-pressure-2"
SOME = ["spoilers/stay-down", "leading-edge/transit-light-dark", "flaps/needles-apart"]


def table(symptom: str) -> Table:
    return Table(Request(library(), symptom), assess(library(), symptom))


@pytest.mark.parametrize("symptom", SOME)
def test_every_cell_is_what_the_check_would_show(symptom: str) -> None:
    """Held against the slow reference: the letter of the answer that is right with that cause alone."""
    shown = table(symptom)
    for group in shown.groups:
        for cause in group:
            for check in shown.columns:
                entry = library().checks[check]
                answers = {}
                for faults in (frozenset([cause]), frozenset[str]()):
                    world = World(library(), faults, entry.situation)
                    (answers[len(faults)],) = [
                        place for place, one in enumerate(entry.answers) if world.holds(one.when)
                    ]
                expected = "" if answers[1] == answers[0] else chr(ord("a") + answers[1])
                assert shown.cell(cause, check) == expected


@pytest.mark.parametrize("symptom", SOME)
def test_causes_in_a_box_have_equal_rows_and_others_do_not(symptom: str) -> None:
    shown = table(symptom)
    rows = [{tuple(shown.cell(cause, check) for check in shown.columns) for cause in group} for group in shown.groups]
    assert all(len(row) == 1 for row in rows)
    assert len(set.union(*rows)) == len(rows)


def test_rows_are_sorted_so_that_blocks_show() -> None:
    """In the first column all responses stand together, as in every other one within a block of the one before."""
    shown = table(SOME[0])
    first = [bool(shown.cell(group[0], shown.columns[0])) for group in shown.groups]
    assert first == sorted(first, reverse=True)


@pytest.mark.parametrize("paper", [None, "a4", "letter"])
@pytest.mark.parametrize("symptom", SOME)
def test_nothing_lies_on_anything_and_all_is_on_the_page(symptom: str, paper: str | None) -> None:
    drawing = drawn(library(), symptom, "matrix", paper=paper, answers={})
    for sheet in drawing.sheets:
        assert not list(overlaps(sheet))
        assert all(one.x >= 20 and one.x + one.w <= sheet.width - 20 for one in sheet.shapes)
        assert all(one.y >= 20 and one.y + one.h <= sheet.height - 20 for one in sheet.shapes)
    text = squeezed(words(drawing))
    shown = table(symptom)
    assert all(squeezed(library().checks[check].title) in text for check in shown.columns)
    assert all(squeezed(library().causes[cause].title) in text for group in shown.groups for cause in group)


def test_the_matrix_of_most_symptoms_fits_one_page() -> None:
    pages = [len(drawn(library(), symptom, "matrix", paper="a3").sheets) for symptom in sorted(library().symptoms)[::4]]
    assert max(pages) == 1


def test_a_matrix_larger_than_a_page_is_cut_into_bands() -> None:
    """Each cause by each check stands on one of the pages, and every page has its heads."""
    names = range(90)
    text = ["faultree: 1", "title: Row", "causes:"]
    text += [f"  c{number}: {{title: part {number} broken, probability: 0.001}}" for number in names]
    text += ["events:", f"  out: {{title: out, any: [{', '.join(f'c{number}' for number in names)}]}}", "checks:"]
    text += [f"  see{number}: {{title: look at part {number}, ask: Good?, reads: c{number}}}" for number in names]
    text += ["symptoms:", "  dark: {title: dark, event: out}"]
    drawing = drawn(load_texts({"row.yaml": "\n".join(text)}), "dark", "matrix", paper="a4")
    assert len(drawing.sheets) > 3
    for sheet in drawing.sheets:
        assert all(one.x >= 20 and one.x + one.w <= sheet.width - 20 for one in sheet.shapes)
        assert all(one.y >= 20 and one.y + one.h <= sheet.height - 20 for one in sheet.shapes)
    cells = {one.id for sheet in drawing.sheets for one in sheet.shapes}
    assert all(f"row/c{cause}>row/see{check}" in cells for cause in names for check in names)


def test_a_symptom_that_no_single_fault_produces_says_so() -> None:
    assert "No single fault produces this symptom" in words(drawn(library(), "flaps/split-not-stopped", "matrix"))


def test_the_answers_of_a_case_are_marked() -> None:
    drawing = drawn(door(), "stands", "matrix", answers={"listen": "no"})
    heads = {one.source: one.state for one in drawing.sheets[0].shapes if one.look == "mark" and one.source}
    assert heads["door/listen"] == "odd"
    assert heads["door/measure"] == ""
    assert "— answered" in words(drawing)


def test_the_matrix_as_text() -> None:
    text = outline(drawn(door(), "stands", "matrix")).splitlines()
    assert "  fuse blown                         b b" in text
    assert "  1  listen to the motor: Does it hum?" in text
    assert "       a  Yes (usual)" in text


def test_numbers_from_ten_on_do_not_run_together_in_text() -> None:
    lines = outline(drawn(library(), "spoilers/stay-down", "matrix")).splitlines()
    heads = [line.split() for line in lines if line.startswith(" " * 36) and line.strip()[:1].isdigit()]
    assert [int(number) for head in heads for number in head] == list(range(1, 1 + len(table(SOME[0]).columns)))
    assert max(map(len, lines)) <= 80


def test_a_title_of_many_words_is_whole() -> None:
    title = "low-pressure switch behind the second panel of the third frame of the system stuck closed for good and all"
    text = door(**{"title: fuse blown": f"title: {title}"})
    for paper in (None, "a4"):
        assert squeezed(title) in squeezed(words(drawn(text, "stands", "matrix", paper=paper)))
    lines = outline(drawn(text, "stands", "matrix")).splitlines()
    assert squeezed(title) in squeezed("".join(line[2:36] for line in lines[3:9]))
    assert max(map(len, lines)) <= 80


def test_the_key_says_what_is_asked() -> None:
    assert "Does it hum?" in words(drawn(door(), "stands", "matrix"))


def test_a_check_that_shares_a_column_says_its_own_answers() -> None:
    """Its letters are those of another check, with other words; none is left out."""
    for text in (words(drawn(library(), SAME, "matrix")), outline(drawn(library(), SAME, "matrix"))):
        shown = table(SAME)
        shared = [(check, other) for check in shown.columns for other in shown.same_as(check)]
        assert len(shared) > 3
        for check, other in shared:
            assert squeezed(library().checks[other].title) in squeezed(text)
            assert squeezed(shown.instead(check, other)) in squeezed(text)


def test_what_a_sharing_check_shows_is_what_it_would_show() -> None:
    shown = table(SAME)
    for check in shown.columns:
        for other in shown.same_as(check):
            entry = library().checks[other]
            for cause in shown.found.matrix.causes:
                world = World(library(), frozenset([cause]), entry.situation)
                (right,) = [one.text for one in entry.answers if world.holds(one.when)]
                letter = shown.cell(cause, check)
                assert (f"{letter} {right}" if letter else f"usual {right}") in shown.instead(check, other)


def test_suspects_that_act_only_together_are_named_beside_the_matrix() -> None:
    answers = {"pressure-gauge-2": "no", "quantity-2": "yes", "direct-gauge-2": "yes", "pump-2-pressure": "no"}
    text = words(drawn(library(), SAME, "matrix", answers=answers))
    assert "Suspects that are not here: unload valve of pump 2 stuck open" in text
    assert "Faults that act only together are not here." in words(drawn(library(), SAME, "matrix"))


def test_an_answered_check_has_its_column_also_where_another_says_the_same() -> None:
    shown = table(SAME)
    other = next(other for check in shown.columns for other in shown.same_as(check))
    answer = library().checks[other].answers[0].id
    drawing = drawn(library(), SAME, "matrix", answers={other: answer})
    heads = {one.source: one.state for one in drawing.sheets[0].shapes if one.look == "mark" and one.source}
    assert heads[other] == "odd"


def test_a_check_that_says_the_same_as_another_shares_its_column() -> None:
    shown = table("spoilers/stay-down")
    assert all(check not in shown.columns for first in shown.columns for check in shown.same_as(first))
    assert shown.asked.evidence is NOTHING
