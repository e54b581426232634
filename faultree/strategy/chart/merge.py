"""A chart made shorter for a page: ends that call for the same thing become one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from faultree.strategy.chart.assemble import by_unit
from faultree.strategy.chart.value import Chart, End, Exit, Open, Step


def merged(chart: Chart) -> Chart:
    """The chart with one end for each thing to do; the other figures stay.

    Ends are alike where they end in the same way with the same units (in the same order, where several are open). The
    one with the least number stands for all of them: its probability is their sum, and its causes are as likely as
    they are on average over the cases that end there. Ends that were cut off, or where somebody else goes on, stay
    as they are: what was found so far is what is handed on.
    """
    groups = _groups(chart)
    leads = {one.number: some[0].number for some in groups for one in some}
    ends = {some[0].number: _one(some) for some in groups}
    nodes = {
        node.number: _redirected(node, leads) if isinstance(node, Step) else ends[node.number]
        for node in chart
        if isinstance(node, Step) or node.number in ends
    }
    return replace(chart, nodes=nodes)


def stands_for(chart: Chart, number: int) -> int:
    """The number of the end that stands for an end on the merged chart."""
    return next(some[0].number for some in _groups(chart) if any(one.number == number for one in some))


def _groups(chart: Chart) -> tuple[list[End], ...]:
    groups: dict[object, list[End]] = {}
    for node in chart:
        if isinstance(node, End):
            groups.setdefault(_alike(node), []).append(node)
    return tuple(groups.values())


def _alike(end: End) -> object:
    if end.cut or end.ending == "continue":
        return end.number
    if end.ending == "open" or not end.units:
        return (end.ending, end.units, end.say)
    return (end.ending, frozenset(end.units))


def _redirected(step: Step, leads: dict[int, int]) -> Step:
    return replace(step, exits=tuple(_exit(one, leads) for one in step.exits))


def _exit(one: Exit, leads: dict[int, int]) -> Exit:
    return replace(one, to=leads.get(one.to, one.to))


def _one(some: list[End]) -> End:
    """The end that stands for some that are alike."""
    if len(some) == 1:
        return some[0]
    causes = _average(some)
    order = by_unit(causes)
    units = sorted(some[0].units, key=lambda unit: order.index(unit) if unit in order else len(order))
    manual = tuple(dict.fromkeys(one for end in some for one in end.manual))
    return replace(
        some[0], units=tuple(units), causes=causes, manual=manual, probability=sum(end.probability for end in some)
    )


def _average(some: Iterable[End]) -> tuple[Open, ...]:
    """The causes by P(cause / one of these ends), likeliest first."""
    ends = list(some)
    total = sum(end.probability for end in ends) or 1.0
    weights: dict[tuple[str, str | None], float] = {}
    for end in ends:
        for one in end.causes:
            key = (one.cause, one.item)
            weights[key] = weights.get(key, 0.0) + one.probability * end.probability / total
    found = (Open(cause, item, min(weight, 1.0)) for (cause, item), weight in weights.items())
    return tuple(sorted(found, key=lambda one: (-round(one.probability, 12), one.cause)))
