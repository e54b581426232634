"""The chart as drawn: numbered, within the page, plain where it is printed, cautions before the question."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.strategy.chart.value import Chart, End, Step
from faultree.terminal.chart_sheet import FORM, draw_chart, draw_form
from faultree.terminal.look import Page
from faultree.walk.chart_page import page_of
from faultree.walk.prompt import NOTICE, SHORT_NOTICE
from tests.strategy.chart.by_hand import chart, repairs
from tests.terminal.drawn import as_shown, cells
from tests.walk.small import small


def _drawn(one: Chart, width: int = 80) -> str:
    return as_shown(draw_chart(page_of(small(), one), Page(width, True)), width=width)


@pytest.mark.parametrize("one", [chart(), repairs()], ids=["checks", "repairs"])
@pytest.mark.parametrize("width", [40, 80, 120])
def test_a_chart_stays_within_the_page_and_says_who_decides(one: Chart, width: int) -> None:
    """In full at the head and in short at the foot, in plain ASCII where it is printed."""
    drawn = _drawn(one, width)
    flat = " ".join(drawn.split())
    assert all(cells(line) <= width for line in drawn.splitlines())
    assert NOTICE in flat
    assert flat.endswith(SHORT_NOTICE)
    assert drawn.isascii()


def test_a_step_reads_as_it_is_done() -> None:
    """What it takes, the cautions, the facts, then the question, then where each answer leads."""
    step = _drawn(chart()).split("\n4   ")[1].split("\n5   ")[0]
    wanted = [
        "Check: measure the voltage at the lamp",
        "25 min, 15 min of it for access; on the aircraft; from 1, 60 % of cases",
        "WARNING The terminals are live.",
        "Access     Take the left panel off (15 min)",
        "Manual     SM 33-43",
        "Is there voltage at the lamp?",
        "Yes",
        "go to 5, signal lamp",
        "go to 6, signal relay or signal",
    ]
    places = [step.find(words) for words in wanted]
    assert -1 not in places, wanted[places.index(-1)]
    assert places == sorted(places)


def test_an_end_reads_as_it_is_done() -> None:
    """What was found, the cautions, what to do, what to close again, and the line to hand over."""
    end = _drawn(chart()).split("\n5   ")[1].split("\n6   ")[0]
    wanted = [
        "End. Found: signal lamp",
        "From 4, 30 % of cases",
        "Item       Signal lamp, 100 %, left panel, SM 33-41",
        "CAUTION Broken glass cuts.",
        "Do         Replace the signal lamp.",
        "Afterwards Close what was opened: take the left panel off",
        "Hand over  Chart signal/dark; 1 One clear click, 4 Yes; found: signal lamp",
    ]
    places = [end.find(words) for words in wanted]
    assert -1 not in places, wanted[places.index(-1)]
    assert places == sorted(places)


@pytest.mark.parametrize("width", [40, 80])
def test_the_form_has_a_line_to_write_on_for_everything(width: int) -> None:
    """To the right edge, and the tree files that the chart came from."""
    drawn = as_shown(draw_form("0123456789abcdef", Page(width, True)), width=width)
    assert all(cells(line) <= width for line in drawn.splitlines())
    flat = " ".join(drawn.split())
    assert all(words in flat for words in FORM)
    assert drawn.count("_" * 8) >= len(FORM)
    assert "0123456789ab;" in flat


def test_answers_that_cannot_come_and_branches_cut_off_are_said() -> None:
    """Nobody looks for a number that is not there."""
    one = chart()
    click, supply, fuse = one.nodes[1], one.nodes[2], one.nodes[3]
    assert isinstance(click, Step)
    assert isinstance(supply, Step)
    assert isinstance(fuse, End)
    nodes = {
        **one.nodes,
        1: replace(click, exits=(replace(click.exits[0], probability=1.0),)),
        3: replace(fuse, cut=True),
    }
    drawn = " ".join(_drawn(replace(one, nodes=nodes)).split())
    assert "Not listed, because it would contradict the report: One clear click." in drawn
    assert "No 50 % leave the chart; likeliest: signal fuse blown 100 %" in drawn


def test_an_answer_that_cannot_come_is_laid_to_answers_only_where_there_are_some() -> None:
    """At the first step there is only the report; behind it, both."""
    one = chart()
    supply = one.nodes[2]
    assert isinstance(supply, Step)
    sure = replace(supply, exits=(replace(supply.exits[0], probability=1.0),))
    drawn = " ".join(_drawn(replace(one, nodes={**one.nodes, 2: sure})).split())
    assert "would contradict the report and the answers so far: No." in drawn


def test_a_chart_that_is_only_an_end_is_drawn() -> None:
    """Nothing can be told apart."""
    end = chart().nodes[6]
    assert isinstance(end, End)
    drawn = _drawn(replace(chart(), nodes={1: replace(end, number=1, probability=1.0)}))
    assert "1   End. Still open: signal relay or signal wire broken" in drawn
    assert "From" not in drawn.split("1   End.")[1].splitlines()[1]


def test_the_scale_of_ordinal_likelihoods_stands_at_the_head() -> None:
    """Where a suspect rests on one."""
    assert "probable 0.01" in " ".join(_drawn(chart()).split())
