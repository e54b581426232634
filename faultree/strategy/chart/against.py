"""Two charts of the same reports beside each other: what each costs, what each leaves open, and where they part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from faultree.strategy.chart.assemble import Assembly
from faultree.strategy.chart.compile import DOUBT, LEAST, posed_chart
from faultree.strategy.chart.listed import carried_on, listed_chart
from faultree.strategy.chart.policies import Followed, Rules
from faultree.strategy.chart.search import Search
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.value import Chart, End, Step

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.chart.handout import Handout
    from faultree.strategy.chart.pose import Posed

Rule = Literal["bits", "bits-per-minute", "likelihood"]

SAME = 1e-9
"""Minutes, or chances, by which two readings of a list differ at most where they are the same."""

RULES: dict[Rule, str] = {
    "bits": "greedy by bits",
    "bits-per-minute": "greedy by bits a minute",
    "likelihood": "by likelihood alone",
}
"""The simple rules that a chart can be held against, and what they are called."""

Way = tuple[tuple[str, str], ...]
"""Steps made and their answers: (target, answer id) pairs."""


@dataclass(frozen=True, slots=True)
class Parting:
    """Where two charts first do something different.

    `way` leads there on both, `probability` is P(a walk comes here), `ours` and `theirs` are the numbers of the two
    nodes; one of them may be an end.
    """

    way: Way
    probability: float
    ours: int
    theirs: int


@dataclass(frozen=True, eq=False)
class Other:
    """Another course of action, worked out as a chart: its name, and where it parts from ours, likeliest first.

    `again` says that it parts where the one before it does.
    """

    name: str
    chart: Chart
    partings: tuple[Parting, ...]
    again: bool = False


def posed_like(library: Library, chart: Chart, least: float = LEAST) -> Posed:
    """The problem that a chart solves, posed anew; `least` is what the chart was compiled with."""
    return posed_chart(library, chart.symptoms, chart.goal, chart.by, least, DOUBT)


def by_rule(posed: Posed, chart: Chart, rule: Rule) -> Other:
    """A simple rule beside a chart of the same problem."""
    space = Space(posed.task)
    rules = Rules(Search(space))
    ways = {"bits": rules.by_bits, "bits-per-minute": rules.by_bits_per_minute, "likelihood": rules.by_likelihood}
    found = Assembly(posed, Followed(space, ways[rule])).chart(chart.lower_bound, stopped=False)
    return beside(chart, RULES[rule], found)


def by_list(posed: Posed, chart: Chart, handout: Handout, name: str) -> tuple[Other, ...]:
    """A fixed order beside a chart of the same problem, in up to three readings.

    Literally; skipping what tells nothing any more, where that is not the same; and, where it leaves more open than
    the chart does, carried on with the best checks behind its end.
    """
    literal = listed_chart(posed, handout.order)
    found = [beside(chart, name, literal)]
    skipping = listed_chart(posed, handout.order, skipping=True)
    if abs(skipping.expected_minutes - literal.expected_minutes) >= SAME:
        found.append(beside(chart, f"{name}, skipping what tells nothing", skipping))
    if chart.goal != "restore" and left_open(literal) > left_open(chart) + SAME:
        onward = beside(chart, f"{name}, then carried on", carried_on(posed, handout.order))
        found.append(replace(onward, again=True))
    return tuple(found)


def beside(chart: Chart, name: str, other: Chart) -> Other:
    """Another course of action beside a chart of the same reports."""
    found = sorted(_partings(chart, other), key=lambda one: -one.probability)
    return Other(name, other, tuple(found))


def _partings(chart: Chart, other: Chart) -> Iterator[Parting]:
    waiting: list[tuple[Way, float, int, int]] = [((), 1.0, 1, 1)]
    while waiting:
        way, probability, ours, theirs = waiting.pop()
        one, two = chart.nodes[ours], other.nodes[theirs]
        if isinstance(one, Step) and isinstance(two, Step) and (one.action, one.target) == (two.action, two.target):
            onward = {exit_.answer: exit_.to for exit_ in two.exits}
            for exit_ in one.exits:
                if exit_.answer in onward:
                    answered = (*way, (one.target, exit_.answer))
                    waiting.append((answered, probability * exit_.probability, exit_.to, onward[exit_.answer]))
        elif isinstance(one, Step) or isinstance(two, Step):
            yield Parting(way, probability, ours, theirs)


def left_open(chart: Chart) -> float:
    """P(a walk of the chart ends with several things to replace still open)."""
    return sum(node.probability for node in chart if isinstance(node, End) and node.ending == "open")
