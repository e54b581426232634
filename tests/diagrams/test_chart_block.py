"""A step's exits to the same place are one, and what it is come from is said with its pages."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.diagrams.chart_block import Places, facts_of, sources, step_block, ways
from faultree.walk.chart_blocks import OpenLine, StepBlock, Way

STEP = StepBlock(
    number=1,
    come_from=(),
    probability=1.0,
    replaces=False,
    title="listen",
    takes="2 min",
    by="line",
    cautions=(),
    facts=(("When", "button held"), ("Manual", "P 5")),
    open=OpenLine((), 0),
    ask="Does it hum?",
    ways=(Way("Yes", 0.25, 2, ""), Way("No", 0.25, 3, ""), Way("A little", 0.5, 2, "")),
    never=("Loudly",),
)
PLACES = Places({2: "Found: door motor"}, {2: 4}, frozenset())


def test_answers_with_the_same_end_share_an_exit() -> None:
    assert [(way.text, way.probability) for way in ways(STEP)] == [("Yes / A little", 0.75), ("No", 0.25)]


def test_a_step_says_when_how_long_who_and_where_it_is_written() -> None:
    assert list(facts_of(STEP)) == [
        "2 min; on the aircraft",
        "When: button held",
        "Manual: P 5",
        "Not listed, as it goes against the answers so far: Loudly",
    ]


@pytest.mark.parametrize(
    ("to", "words"), [(2, "End 2, page 4 Found: door motor"), (3, "to step 3"), (None, "Leave the chart fuse 63 %")]
)
def test_an_exit_leads_to_an_end_a_step_or_out_of_the_chart(to: int | None, words: str) -> None:
    step = replace(STEP, ways=(Way("Yes", 1.0, to, "fuse 63 %"),))
    shapes = step_block(step, ways(step), None, PLACES).group.shapes
    name = f"end-1-{'leave' if to is None else to}!"
    assert " ".join(" ".join(one.lines) for one in shapes if one.id.startswith(name) and one.lines) == words


def test_what_it_is_come_from_is_counted_where_it_is_much() -> None:
    assert sources((), PLACES.page) == ""
    assert sources((2,), PLACES.page) == "from step 2, page 4"
    assert sources((2, 3, 5), PLACES.page, most=2) == "from steps 2, page 4, 3 and 1 more"
