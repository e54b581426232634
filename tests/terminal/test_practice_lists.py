"""A list that is longer than the window comes in parts, and the numbers go on."""

from __future__ import annotations

import io

import pytest

from faultree.practice.view import Option
from faultree.terminal import practice_lists
from faultree.terminal.look import Look, Page
from faultree.terminal.practice_lists import AROUND, draw_options, fitting
from faultree.terminal.practice_pump import Practice
from faultree.terminal.pump import Screen
from tests.terminal.drawn import Script, as_shown
from tests.terminal.practised import exercise

LONG = tuple(Option(f"g/c{count}", f"look at valve {count}", 5.0, "line", count % 2 == 0) for count in range(1, 41))


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("height", [18, 24, 50])
@pytest.mark.parametrize("spoken", [False, True])
def test_no_part_is_longer_than_the_window_and_none_is_left_out(width: int, height: int, spoken: bool) -> None:
    """Heading, rows, what stands below and the place to type together; the numbers go on from part to part."""
    page, start, seen = Page(width, True, spoken, height), 0, ""
    while start < len(LONG):
        drawn = as_shown(draw_options(LONG, "Checks: all", page, start=start), width=width)
        assert len(drawn.splitlines()) + 3 <= height
        seen += drawn
        start += len(fitting(LONG, page, start))
    for count in range(1, 41):
        assert seen.count(f"valve {count} ") + seen.count(f"valve {count},") == 1


def test_a_part_says_which_one_it_is_and_how_to_go_on() -> None:
    drawn = " ".join(as_shown(draw_options(LONG, "Checks: all", Page(80, True, height=24))).split())
    assert "Checks: all, 1 to 15 of 40" in drawn
    assert "25 more: type more for them, or checks or parts and some words to shorten the list." in drawn
    last = " ".join(as_shown(draw_options(LONG, "Checks: all", Page(80, True, height=24), start=30)).split())
    assert "Checks: all, 31 to 40 of 40" in last
    assert "more: type" not in last


def test_titles_that_fold_count_as_the_lines_they_take() -> None:
    folded = tuple(Option(f"g/c{n}", "look at the valve " * 8, 5.0, "line", cautions=False) for n in range(30))
    assert len(fitting(folded, Page(80, True, height=24), 0)) < 24 - AROUND


def test_without_a_window_all_of_it_is_shown() -> None:
    """A pipe has no end of a screen."""
    assert fitting(LONG, Page(80, True), 0) == LONG
    assert "more" not in as_shown(draw_options(LONG, "Checks: all", Page(80, True)))


class Window(Screen):
    """A screen whose window has twelve lines."""

    @property
    def page(self) -> Page:
        return Page(80, True, height=12)


def _typed(*lines: str) -> str:
    record = io.StringIO()
    Practice(exercise(), Window(record, Look(True, 80)), Script(lines)).run()
    return " ".join(record.getvalue().split())


def test_more_goes_on_with_the_list_and_every_number_stays_good(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(practice_lists, "LEAST", 2)
    shown = _typed("checks all", "more", "more", "more", "1")
    assert "Checks: all, 1 to 3 of" in shown
    assert "Checks: all, 4 to" in shown
    assert "There is no more of a list; checks or parts begins one." in shown
    assert "Done:" in shown or "Before you start" in shown


def test_more_without_a_list_says_so() -> None:
    assert "There is no more of a list" in _typed("more")
