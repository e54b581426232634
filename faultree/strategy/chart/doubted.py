"""Ends of a chart held against the whole library: what other faults would make of the answers that lead there.

A chart tells apart the fault sets that explain the report. That another fault is there besides, which has to do with an
answer and not with the report, is not charted. Most often it is unlikely; but behind rare answers it may be what one
should think of first, and then the chart must not order a repair.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from graphlib import TopologicalSorter
from typing import TYPE_CHECKING

from faultree.base.errors import Contradiction
from faultree.strategy.case import Case
from faultree.strategy.chart.nodes import DOUBTED, End, Step

if TYPE_CHECKING:
    from faultree.belief.posterior import Suspect
    from faultree.library.model import Library
    from faultree.strategy.chart.value import Chart, Open

HALF = 0.5
"""Where what an end orders to be put right is less likely at fault than this, the chart is left there."""

Way = tuple[float, tuple[tuple[str, str], ...]]
"""P(a way of a chart), and its checks with their answers."""


def without_doubted(library: Library, chart: Chart) -> Chart:
    """The chart, left where what would be put right is more likely sound than at fault, all faults considered.

    Each end is looked at with the answers that most often lead there. For the goal `restore` nothing is done: there the
    operational check behind each repair says whether it was the right one.
    """
    if chart.goal == "restore":
        return chart
    doubted = list(_doubted(library, chart))
    nodes = dict(chart.nodes)
    for end in doubted:
        nodes[end.number] = replace(end, ending="open", cut=True, say=DOUBTED)
    return replace(chart, nodes=nodes, cut=chart.cut + sum(end.probability for end in doubted))


def _doubted(library: Library, chart: Chart) -> Iterator[End]:
    ways = likeliest_ways(chart)
    case = Case.open(library, chart.symptoms)
    for end in chart:
        if isinstance(end, End) and end.units and not end.cut and end.ending in ("found", "open"):
            _, answers = ways[end.number]
            charted = at_fault(library, end, end.causes)
            # Where the chart itself says that nothing may be wrong, the operational check comes first.
            if answers and charted >= HALF > at_fault(library, end, ranked(case, answers)):
                yield end


def ranked(case: Case, answers: tuple[tuple[str, str], ...]) -> Sequence[Suspect]:
    """All faults of the library by P(fault / reports, answers); none where the answers contradict each other."""
    try:
        for check, answer in answers:
            case = case.answer(check, answer)
        return case.ranking()
    except Contradiction:
        return ()


def at_fault(library: Library, end: End, causes: Iterable[Suspect | Open]) -> float:
    """How likely what an end orders to be put right is at fault, by some chances of causes.

    Where all of it is found, that is the least likely unit; where several are open, any of them will do (their sum, as
    they mostly exclude each other).
    """
    chances = dict.fromkeys(end.units, 0.0)
    for one in causes:
        unit = library.causes[one.cause].item or one.cause
        if unit in chances:
            chances[unit] += one.probability
    return min(chances.values()) if end.ending == "found" else sum(chances.values())


def likeliest_ways(chart: Chart) -> Mapping[int, Way]:
    """For each node of a chart without repairs the likeliest way to it."""
    graph = {node.number: [one.to for one in node.exits] if isinstance(node, Step) else [] for node in chart}
    found: dict[int, Way] = {1: (1.0, ())}
    for number in reversed(list(TopologicalSorter(graph).static_order())):
        node = chart.nodes[number]
        if isinstance(node, Step):
            chance, answers = found[number]
            for one in node.exits:
                if one.to not in found or chance * one.probability > found[one.to][0]:
                    found[one.to] = (chance * one.probability, (*answers, (node.target, one.answer)))
    return found
