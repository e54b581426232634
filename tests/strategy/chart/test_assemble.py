"""Charts hold together: what their nodes say adds up to what their head says."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import get_args

import pytest

from faultree.library.load import load_texts
from faultree.strategy.chart.assemble import by_unit
from faultree.strategy.chart.compile import compile_chart
from faultree.strategy.chart.value import Chart, End, Goal, Open, Step
from tests.oracles.random_puzzles import Draw, drawn, library_of
from tests.trees.demonstration import library

KINDS: dict[str, tuple[Draw, float, Goal]] = {
    "sure": (Draw(causes=7, checks=7, access=2), 0.0, "cause"),
    "erring": (Draw(causes=5, checks=6), 0.1, "item"),
    "restoring": (Draw(causes=6, checks=4, access=2, restore=True), 0.0, "restore"),
    "restoring, erring": (Draw(causes=4, checks=4, restore=True), 0.1, "restore"),
}


def charts(kind: str) -> Iterator[Chart]:
    draw, error, goal = KINDS[kind]
    for seed in range(6):
        puzzle = drawn(random.Random(seed), draw)
        one = library_of(puzzle, [error] * len(puzzle.checks))
        yield compile_chart(one, ["reported"], goal=goal, least=0.02)


def spent(chart: Chart, number: int = 1) -> float:
    """Mean minutes from a node on, by its exits."""
    node = chart.nodes[number]
    if isinstance(node, End):
        return node.minutes
    return node.minutes + sum(one.probability * spent(chart, one.to) for one in node.exits)


@pytest.mark.parametrize("kind", KINDS)
def test_minutes_and_steps_add_up(kind: str) -> None:
    for chart in charts(kind):
        steps = [node for node in chart if isinstance(node, Step)]
        assert spent(chart) == pytest.approx(chart.expected_minutes)
        assert sum(node.probability for node in steps) == pytest.approx(chart.expected_checks)
        assert chart.expected_minutes <= chart.worst_minutes + 1e-9
        assert chart.lower_bound <= chart.expected_minutes


@pytest.mark.parametrize("kind", KINDS)
def test_probabilities_add_up(kind: str) -> None:
    for chart in charts(kind):
        ends = [node for node in chart if isinstance(node, End)]
        assert sum(one.probability for one in ends) == pytest.approx(1.0)
        assert sum(one.probability for one in ends if one.cut) == pytest.approx(chart.cut)
        for node in chart:
            if isinstance(node, Step):
                assert sum(one.probability for one in node.exits) == pytest.approx(1.0)
                assert sum(one.probability for one in node.open) == pytest.approx(1.0)  # single faults here
            coming = sum(
                step.probability * one.probability
                for step in chart
                if isinstance(step, Step)
                for one in step.exits
                if one.to == node.number
            )
            assert node.number == 1 or coming == pytest.approx(node.probability)


@pytest.mark.parametrize("kind", KINDS)
def test_numbers_run_from_one_and_steps_come_before_ends(kind: str) -> None:
    for chart in charts(kind):
        assert list(chart.nodes) == list(range(1, len(chart.nodes) + 1))
        kinds = [isinstance(node, End) for node in chart]
        assert kinds == sorted(kinds)


def test_no_question_is_asked_of_which_every_answer_leaves_the_chart() -> None:
    """The cheapest question would otherwise be the way out of a branch that is nearly too unlikely."""
    draw = Draw(causes=5, checks=6)
    left = 0
    for seed in range(12):
        puzzle = drawn(random.Random(seed), draw)
        chart = compile_chart(library_of(puzzle, [0.1] * 6), ["reported"], least=0.04)
        ends = {node.number for node in chart if isinstance(node, End) and node.cut}
        assert all({one.to for one in node.exits} - ends for node in chart if isinstance(node, Step)), seed
        left += sum(node.probability >= 0.04 for node in chart if node.number in ends)
    assert left  # where nothing else can be asked, the chart is left before the question


def test_equal_parts_stand_once() -> None:
    """A chart has no two steps that do the same with the same left open and the same access."""
    for chart in charts("sure"):
        seen = [(node.target, node.opens, node.open, node.exits) for node in chart if isinstance(node, Step)]
        assert len(seen) == len(set(seen))


def test_the_same_input_gives_the_same_chart() -> None:
    one, two = list(charts("erring")), list(charts("erring"))
    assert [list(chart) for chart in one] == [list(chart) for chart in two]


CREW = """
items:
  pump: {title: Pump, manual: AMM 29-11}
causes:
  worn: {title: Pump worn, item: pump, probability: 0.02, manual: AMM 29-12}
  wire: {title: Wire broken, probability: 0.01}
  plug: {title: Plug loose, probability: 0.01}
cautions:
  hot: {text: The pump is hot., level: warning}
events:
  weak: {title: Weak, any: [worn, wire, plug]}
checks:
  ask: {title: Ask, ask: Does it hum?, reads: worn, by: crew}
  meter: {title: Measure, ask: Is there voltage?, reads: wire, by: line, cautions: [hot]}
symptoms:
  weak: {title: Weak, event: weak}
"""


def crew(by: list[str] | None) -> Chart:
    one = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{CREW}"})
    return compile_chart(one, ["weak"], by=by)


def test_the_crews_part_ends_with_who_goes_on() -> None:
    """The crew can tell the pump; wire and plug are parted on the line, with the caution of that check."""
    chart = crew(["crew"])
    found = {node.ending: node for node in chart if isinstance(node, End)}
    assert found["found"].units == ("s/pump",)
    assert found["continue"].say == "Continue on the line with: Measure."
    assert found["continue"].cautions == ("s/hot",)
    assert chart.by == ("crew",)


def test_with_everybody_nothing_is_left_to_continue() -> None:
    assert {node.ending for node in crew(None) if isinstance(node, End)} == {"found"}


@pytest.mark.parametrize(("by", "who"), [(["line"], "line"), (["shop"], "shop"), (["crew", "shop"], "shop")])
def test_what_is_replaced_is_replaced_by_those_whom_the_chart_is_for(by: list[str], who: str) -> None:
    """The tree files do not say who replaces; a chart for the shop alone has no step of the line."""
    one = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{CREW}"})
    chart = compile_chart(one, ["weak"], "restore", by)
    assert {node.by for node in chart if isinstance(node, Step) and node.action == "replace"} == {who}


def test_manuals_of_the_item_and_of_its_cause() -> None:
    pump = next(node for node in crew(None) if isinstance(node, End) and node.units == ("s/pump",))
    assert pump.manual == ("AMM 29-11", "AMM 29-12")
    assert pump.say == "Replace or repair Pump. Then repeat the operational check."


def test_causes_of_one_item_add_up() -> None:
    """.3 and .3 of one item go before .4 of another."""
    causes = (Open("s/x", "s/other", 0.4), Open("s/a", "s/item", 0.3), Open("s/b", "s/item", 0.3))
    assert by_unit(causes) == ("s/item", "s/other")


FALSE = """
items:
  pump: {title: Pump}
  valve: {title: Valve}
causes:
  worn: {title: Pump worn, item: pump, probability: 0.02}
  stuck: {title: Valve stuck, item: valve, probability: 0.01}
events:
  weak: {title: Weak, any: [worn, stuck]}
checks:
  feel: {title: Feel, ask: Is it warm?, reads: worn, false_no: 0.001, false_yes: 0.001, minutes: 1}
  press: {title: Press, ask: Is it low?, reads: weak, false_no: 0.02, false_yes: 0.02, minutes: 1}
  gauge: {title: Gauge, ask: Is it low?, reads: weak, false_no: 0.02, false_yes: 0.02, minutes: 1}
symptoms:
  weak: {title: Weak, event: weak, retest: 3, false_report: FALSE}
"""


def ends_of(chance: str, goal: Goal = "item", likely: str = "0.0") -> list[End]:
    """The ends of a chart of a report that may be false, for causes more or less likely."""
    text = FALSE.replace("FALSE", chance).replace("probability: 0.0", f"probability: {likely}")
    one = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{text}"})
    return [node for node in compile_chart(one, ["weak"], goal) if isinstance(node, End)]


def test_nothing_is_found_wrong_only_where_nothing_is_left_open() -> None:
    """Where causes were set aside as unlikely, the words say that they may still be there."""
    fine = [end for end in ends_of("0.1") if end.ending == "found" and not end.units]
    assert fine
    assert all(end.causes for end in fine)
    assert all(end.say.startswith("Nothing is likely to be wrong, though that is not certain.") for end in fine)
    for goal in get_args(Goal):
        (only,) = ends_of("0.9", goal, likely="0.00000")
        assert not only.causes
        assert only.say.startswith("Nothing is found wrong.")


def test_where_it_is_open_whether_anything_is_wrong_the_operational_check_comes_first() -> None:
    """Nobody replaces a valve that is at fault with 17 %, before the report is there again."""
    unsure = [end for end in ends_of("0.05") if end.ending == "open" and not end.cut]
    assert any(sum(one.probability for one in end.causes) < 0.5 for end in unsure)
    assert all("Repeat the operational check first" in end.say for end in unsure)


def test_the_cautions_of_an_open_access_stand_before_every_step_in_that_place() -> None:
    """The strap is worn at every unit in the bay, not only at the one for which its hatch was opened."""
    one = library()
    again = 0
    for node in compile_chart(one, ["flaps/relief-silent"], "restore"):
        if isinstance(node, Step):
            here = one.checks[node.target].access if node.action == "check" else one.items[node.target].access
            assert {name for way in here for name in one.access[way].cautions} <= set(node.cautions), node.number
            again += any(one.access[way].cautions for way in set(here) - set(node.opens))
    assert again, "no step of this chart is made in a place that is open already"
