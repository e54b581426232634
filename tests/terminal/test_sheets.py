"""The greeting and the ranking as sheets: complete, within the page, and with the notice."""

from __future__ import annotations

import re

import pytest

from faultree.library.load import load_texts
from faultree.strategy.case import Case
from faultree.terminal.look import Page
from faultree.terminal.sheets import draw_greeting, draw_ranking
from faultree.walk.prompt import NOTICE, SHORT_NOTICE
from tests.terminal.drawn import as_shown, cells
from tests.trees.demonstration import library
from tests.walk.small import small


@pytest.mark.parametrize("width", [40, 80, 120])
def test_the_greeting_lists_every_report_and_says_how_to_begin(width: int) -> None:
    """With ids that can be typed behind walk."""
    drawn = as_shown(draw_greeting(small(), "trees", Page(width, True)), width=width)
    flat = " ".join(drawn.split())
    assert all(cells(line) <= width for line in drawn.splitlines())
    assert "faultree walk" in flat
    assert SHORT_NOTICE in flat
    if width > 40:
        for name, symptom in small().symptoms.items():
            assert name in drawn
            assert symptom.title[1:] in flat


def test_a_command_to_type_stands_whole_on_a_line() -> None:
    """Nobody can type what is parted over two lines."""
    drawn = as_shown(draw_greeting(library(), "trees", Page(80, True)), width=80)
    assert "  faultree walk air-ground/disagree-light-on" in drawn.splitlines()


def test_an_empty_library_still_greets() -> None:
    """There is nothing to look up, and nothing is proposed."""
    empty = load_texts({"a.yaml": "faultree: 1\ntitle: Empty"})
    drawn = as_shown(draw_greeting(empty, "a", Page(80, True)), width=80)
    assert "faultree walk" not in drawn


@pytest.mark.parametrize("width", [40, 80, 120])
def test_the_ranking_shows_suspects_and_steps_within_the_page(width: int) -> None:
    """Suspects with figures, steps with cautions flagged, the scale and the notice."""
    case = Case.open(small(), ["dark"]).answer("click", "silence")
    drawn = as_shown(draw_ranking(case, Page(width, True)), width=width)
    flat = " ".join(drawn.split())
    assert all(cells(line) <= width for line in drawn.splitlines())
    assert NOTICE in flat
    for words in ("listen to the relay: What do you hear? Nothing", "What to do next", "probable 0.01"):
        assert words in flat
    if width == 120:
        assert "Check: look at the supply light (cautions apply)" in flat


def test_faults_that_act_together_are_named() -> None:
    """Where no single fault explains the report."""
    drawn = as_shown(draw_ranking(Case.open(small(), ["doubly-bad"]), Page(120, True)), width=120)
    assert "Together: signal lamp broken with signal relay stuck open" in drawn


@pytest.mark.parametrize("page", [Page(40, True), Page(80, True, spoken=True)])
def test_where_columns_find_no_room_or_no_eyes_the_steps_are_sentences(page: Page) -> None:
    """Three columns of figures leave a narrow window no room for what they are about."""
    drawn = " ".join(as_shown(draw_ranking(Case.open(small(), ["dark"]), page), width=page.width).split())
    assert re.search(r"Check: .+?, takes \d+ min, \d+ min until fixed, \d\.\d\d bit", drawn)
