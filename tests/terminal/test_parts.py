"""The parts of a screen say the same with and without signs and colours."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.terminal.look import Page
from faultree.terminal.parts import bar, caution_rows, choice_rows, choice_table, leaves_words, move, suspect_table
from faultree.walk import events as ev
from faultree.walk.prompt import CautionLine, Choice, Leaves, SuspectLine, Suspects, Together
from tests.terminal.drawn import as_shown, cells


def _line(title: str, probability: float, before: float | None = None) -> SuspectLine:
    return SuspectLine(title, title, "", "", probability, before)


@given(st.floats(1e-9, 1.0), st.integers(1, 40), st.booleans())
def test_a_bar_fits_its_cells_and_is_never_empty(probability: float, size: int, plain: bool) -> None:
    """What is possible shows at least a trace, and certainty fills the bar."""
    drawn = bar(probability, size, plain)
    assert 1 <= len(drawn) <= size
    assert len(bar(1.0, size, plain)) == size


@given(st.floats(0.01, 1.0), st.floats(0.01, 1.0), st.booleans())
def test_a_longer_bar_means_more(one: float, other: float, plain: bool) -> None:
    """Of two suspects the likelier never has the shorter bar."""
    small, large = sorted((one, other))
    assert len(bar(small, 24, plain)) <= len(bar(large, 24, plain))


@pytest.mark.parametrize(
    ("before", "now", "plain", "words"),
    [
        (0.2, 0.6, True, "up from 20 %"),
        (0.6, 0.2, True, "down from 60 %"),
        (0.6, 0.2, False, "▼ from 60 %"),
        (0.2, 0.6, False, "▲ from 20 %"),
        (0.2, 0.2, False, "as before"),
        (None, 0.2, False, ""),
    ],
)
def test_a_move_has_a_mark_and_the_number_it_came_from(
    before: float | None, now: float, plain: bool, words: str
) -> None:
    """Never colour alone."""
    assert move(_line("x", now, before), plain).plain == words


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_no_line_of_a_table_is_wider_than_the_page_and_no_word_is_lost(width: int) -> None:
    """Long titles wrap; figures and moves keep their columns."""
    title = "left outboard flight panel actuator leaking past its return seal under load"
    table = Suspects((_line(title, 0.9995, 0.5), _line("b", 0.0001, 0.3)), 3, 0.02, None, (), 0.01)
    drawn = as_shown(suspect_table(table, Page(width, True)), width=width)
    assert all(cells(line) <= width for line in drawn.splitlines())
    for word in title.split()[1:]:
        assert word in drawn
    for figure in (">99.9 %", "<0.1 %", "up from 50 %", "down from 30 %"):
        assert figure in drawn
    assert "…" not in drawn


def test_what_is_not_listed_is_said_below_the_table() -> None:
    """How many more, faults that act together, and how far the figures can be off."""
    table = Suspects((_line("a", 0.5),), 7, 0.004, None, (Together(("a", "b"), 0.34),), 0.02)
    drawn = " ".join(as_shown(suspect_table(table, Page(80, True))).split())
    assert "and 7 more, none above 0.4 %" in drawn
    assert "Together: a with b, 34 %" in drawn
    assert "may be off by up to 2.0 %" in drawn


def test_an_exact_result_says_nothing_about_a_bound() -> None:
    """There is nothing to warn of."""
    table = Suspects((_line("a", 0.5),), 0, 0.0, None, (), 0.0)
    assert "off by" not in as_shown(suspect_table(table, Page(80, True)))


def test_a_caution_is_shown_in_full_even_where_it_was_read() -> None:
    """The instruction stands behind the hazard, so neither may be cut off."""
    lines = [CautionLine("a", "warning", "Panels move. Keep clear.", read=read) for read in (False, True)]
    drawn = as_shown(caution_rows(lines)).splitlines()
    assert drawn == ["  WARNING Panels move. Keep clear.", "  WARNING Panels move. Keep clear. (read before)"]


@pytest.mark.parametrize(
    ("leaves", "words"),
    [
        (Leaves(0.0, (), 0, 0), "would contradict what is known so far"),
        (
            Leaves(0.5, (("pump worn", 1.0),), 4, 1),
            "50 % likely; would point to pump worn (100 %), and exclude 4 suspects",
        ),
        (Leaves(0.5, (), 0, 0), "50 % likely"),
    ],
)
def test_what_an_answer_would_leave_in_words(leaves: Leaves, words: str) -> None:
    """Short, and without a claim where there is none."""
    assert leaves_words(leaves, 1) == words


def test_choices_are_numbered_on() -> None:
    """The second group of a screen goes on where the first ended."""
    choices = [Choice("check", ev.TakeUp("a"), "look", minutes=3, by="crew", cautions=True)]
    drawn = as_shown(choice_rows(choices, 4, Page(80, True)))
    assert drawn == "   4 Check: look (3 min, by crew, cautions apply)\n"


@pytest.mark.parametrize(
    ("last", "at_most", "words"),
    [
        (0.161, 0.1605, "and 66 more, the likeliest of them 16 % too"),
        (0.161, 0.12, "and 66 more, none above 12 %"),
        (0.161, 0.0005, "and 66 more, each below 0.1 %"),
    ],
)
def test_suspects_as_likely_as_the_last_one_shown_are_not_hidden(last: float, at_most: float, words: str) -> None:
    table = Suspects((_line("a", 0.4), _line("b", last)), 66, at_most, None, (), 0.0)
    assert words in as_shown(suspect_table(table, Page(80, True)))


def test_the_numbers_of_a_table_stand_below_those_of_the_choices() -> None:
    page = Page(80, True)
    choice = Choice("check", ev.TakeUp("look"), "look", minutes=2.0, bits=1.0)
    shown = as_shown(choice_rows([choice], 1, page), choice_table([choice] * 12, 2, ("Checks", "takes", "bits"), page))
    assert {
        line.index(number) for line in shown.splitlines() for number in (" 1 L", " 2 L", "12 L") if number in line
    } == {2}
