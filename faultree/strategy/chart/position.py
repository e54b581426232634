"""Where the steps of a case stand on a chart, if they have kept to it."""

from __future__ import annotations

from collections.abc import Iterable

from faultree.belief.evidence import Repair, Reply
from faultree.strategy.chart.value import GONE, STILL, Chart, End, Step


def position(chart: Chart, steps: Iterable[Reply | Repair]) -> Step | End | None:
    """The node at which a case with these steps stands; None where it has left the chart.

    Between two replacements the order in which answers came does not count, as they say the same in any order. A
    replacement may leave less of what is wrong, so that what came before it and what after it are different things:
    a case has left the chart when that differs. It has also left when a step was made that the chart does not ask
    for on this way, when it could not be told, or when the answer is one that the chart holds for impossible.
    """
    made: dict[tuple[str, str], tuple[int, str | None]] = {}
    replaced = 0
    for step in steps:
        made[_named(step)] = (replaced, _answer(step))
        replaced += isinstance(step, Repair)
    node, on_the_way = chart.root, 0
    while isinstance(node, Step) and (node.action, node.target) in made:
        before, answer = made.pop((node.action, node.target))
        to = next((one.to for one in node.exits if one.answer == answer), None)
        if to is None or before != on_the_way:
            return None
        on_the_way += node.action == "replace"
        node = chart.nodes[to]
    return None if made else node


def _named(step: Reply | Repair) -> tuple[str, str]:
    return ("check", step.check) if isinstance(step, Reply) else ("replace", step.unit)


def _answer(step: Reply | Repair) -> str | None:
    if isinstance(step, Reply):
        return step.answer
    return {True: GONE, False: STILL, None: None}[step.gone]
