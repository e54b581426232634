"""Courses of action beside each other: simple rules never beat the chart, and partings are where they first differ."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.strategy.chart.against import RULES, Rule, beside, by_list, by_rule, left_open, posed_like
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.handout import read_handout
from faultree.strategy.chart.value import Chart, End, Step
from tests.strategy.chart.by_hand import chart
from tests.walk.small import DARK, small


def test_a_chart_does_not_part_from_itself() -> None:
    """Nothing to tell."""
    assert beside(chart(), "itself", chart()).partings == ()


def _other() -> Chart:
    """The same first step, then another check after silence and an end at once after a click."""
    one = chart()
    first, second, other = one.nodes[1], one.nodes[2], one.nodes[4]
    assert isinstance(first, Step)
    assert isinstance(second, Step)
    assert isinstance(other, Step)
    end = one.nodes[5]
    assert isinstance(end, End)
    nodes: dict[int, Step | End] = {
        1: replace(first, exits=(replace(first.exits[0], to=2), replace(first.exits[1], to=3))),
        2: replace(other, number=2, exits=(replace(other.exits[0], to=3), replace(other.exits[1], to=3))),
        3: replace(end, number=3),
    }
    return replace(one, nodes=nodes)


def test_partings_are_where_they_first_differ_likeliest_first() -> None:
    """With the way there, how often one comes there, and both nodes."""
    found = beside(chart(), "other", _other()).partings
    assert [(one.way, one.ours, one.theirs) for one in found] == [
        ((("signal/click", "click"),), 4, 3),
        ((("signal/click", "silence"),), 2, 2),
    ]
    assert [one.probability for one in found] == pytest.approx([0.6, 0.4])


@pytest.mark.parametrize("rule", list(RULES))
def test_no_simple_rule_beats_the_chart(rule: Rule) -> None:
    """The chart is proven to cost the least."""
    best = compile_chart(small(), [DARK])
    assert best.optimal
    found = by_rule(posed_like(small(), best), best, rule)
    assert found.name == RULES[rule]
    assert found.chart.expected_minutes >= best.expected_minutes - 1e-9
    assert found.chart.lower_bound == pytest.approx(best.lower_bound)


def test_a_list_is_read_in_three_ways() -> None:
    """Skipping costs no more than following literally and leaves the same open; carried on, it leaves what we do."""
    best = compile_chart(small(), [DARK])
    handout = read_handout(small(), "- weather\n- voltage\n", "mine.yaml")
    literal, skipping, onward = by_list(posed_like(small(), best), best, handout, "mine.yaml")
    assert literal.name == "mine.yaml"
    assert skipping.chart.expected_minutes == pytest.approx(literal.chart.expected_minutes - 1.0)
    assert left_open(literal.chart) == pytest.approx(left_open(skipping.chart))
    assert literal.partings[0].way == ()
    assert left_open(onward.chart) == pytest.approx(left_open(best))
    assert onward.chart.expected_minutes >= best.expected_minutes - 1e-9
    assert [one.again for one in (literal, skipping, onward)] == [False, False, True]


def test_the_problem_is_posed_as_the_chart_was() -> None:
    """For the same people and the same goal."""
    crew = compile_chart(small(), [DARK], by=["crew"])
    posed = posed_like(small(), crew)
    assert (posed.by, posed.goal) == (("crew",), "item")
    assert by_rule(posed, crew, "bits").chart.by == ("crew",)


def test_where_nothing_is_skipped_both_readings_are_one() -> None:
    """A table with the same line twice would only ask what the difference is."""
    best = compile_chart(small(), [DARK])
    posed = posed_like(small(), best)
    handout = read_handout(small(), "- voltage\n", "mine.yaml")
    assert [one.name for one in by_list(posed, best, handout, "a")] == ["a", "a, then carried on"]
    everything = read_handout(small(), "- voltage\n- supply-seen\n- click\n- bench\n", "mine.yaml")
    found = by_list(posed, best, everything, "a")
    assert left_open(found[0].chart) <= left_open(best) + 1e-9
    assert "a, then carried on" not in [one.name for one in found]
