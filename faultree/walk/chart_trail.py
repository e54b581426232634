"""What lies behind each number of a chart: the ways that lead there, the access opened and the cautions on them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from graphlib import TopologicalSorter

from faultree.strategy.chart.value import Chart, End, Step


@dataclass(frozen=True, slots=True)
class Trail:
    """What is behind a number before its own step.

    `come_from` are the numbers that lead here; `answers` are the (number, wording) pairs on the way, None where
    several ways lead here. `opened` and `cautions` are ids in the order met, on any way; `sure` are those of
    both that are met on every way.
    """

    come_from: tuple[int, ...] = ()
    answers: tuple[tuple[int, str], ...] | None = ()
    opened: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    sure: frozenset[str] = frozenset()


def trails(chart: Chart) -> Mapping[int, Trail]:
    """The trail of every node."""
    found: dict[int, Trail] = {}
    for number in _parents_first(chart):
        node = chart.nodes[number]
        found.setdefault(number, Trail())
        for to, after in _onward(node, found[number]):
            found[to] = _merged(found[to], after) if to in found else after
    return found


def _parents_first(chart: Chart) -> Iterator[int]:
    graph = {node.number: [one.to for one in node.exits] if isinstance(node, Step) else [] for node in chart}
    return reversed(list(TopologicalSorter(graph).static_order()))


def _onward(node: Step | End, trail: Trail) -> Iterator[tuple[int, Trail]]:
    """Where each answer leads, and the trail behind it."""
    if isinstance(node, End):
        return
    opened = tuple(dict.fromkeys((*trail.opened, *node.opens)))
    cautions = tuple(dict.fromkeys((*trail.cautions, *node.cautions)))
    sure = trail.sure.union(node.opens, node.cautions)
    for one in node.exits:
        answers = None if trail.answers is None else (*trail.answers, (node.number, one.text))
        yield one.to, Trail((node.number,), answers, opened, cautions, sure)


def _merged(one: Trail, other: Trail) -> Trail:
    opened = tuple(dict.fromkeys((*one.opened, *other.opened)))
    come_from = tuple(sorted({*one.come_from, *other.come_from}))
    cautions = tuple(dict.fromkeys((*one.cautions, *other.cautions)))
    return Trail(come_from, None, opened, cautions, one.sure & other.sure)
