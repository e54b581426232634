"""Other courses of action beside a chart, in figures and in words: what each costs, and where they part."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from faultree.base.words import minutes, percent
from faultree.library.model import Library
from faultree.strategy.chart.against import Other, Parting, left_open
from faultree.strategy.chart.value import Chart, End, Step
from faultree.walk import titles

PARTINGS = 4
"""So many partings are told, the likeliest."""

OURS = "this chart"


@dataclass(frozen=True, slots=True)
class CourseLine:
    """A course of action: expected and worst minutes, checks on average, and P(it ends with several still open)."""

    name: str
    expected: float
    worst: float
    checks: float
    open: float


@dataclass(frozen=True, slots=True)
class PartsLine:
    """Where one other course parts from the chart: for each place the way there, what ours does, what it does."""

    name: str
    places: tuple[tuple[str, str, str], ...]
    more: int


@dataclass(frozen=True, slots=True)
class AgainstPage:
    """The courses, ours first, and where each of the others parts from ours."""

    courses: tuple[CourseLine, ...]
    parts: tuple[PartsLine, ...]


def against_page(library: Library, chart: Chart, others: Sequence[Other]) -> AgainstPage:
    """The page of a comparison."""
    courses = (_course(OURS, chart), *(_course(one.name, one.chart) for one in others))
    parts = tuple(_parts(library, chart, one) for one in others if not one.again)
    return AgainstPage(courses, parts)


def _course(name: str, chart: Chart) -> CourseLine:
    return CourseLine(name, chart.expected_minutes, chart.worst_minutes, chart.expected_checks, left_open(chart))


def _parts(library: Library, chart: Chart, other: Other) -> PartsLine:
    told = other.partings[:PARTINGS]
    places = tuple(
        (
            _way(chart, one),
            _done(library, chart.nodes[one.ours]),
            _done(library, other.chart.nodes[one.theirs]),
        )
        for one in told
    )
    return PartsLine(other.name, places, len(other.partings) - len(told))


def _way(chart: Chart, parting: Parting) -> str:
    """How one comes to a parting, in the numbers of our chart."""
    if not parting.way:
        return "At the beginning"
    return f"After {', '.join(_numbered(chart, parting))} ({percent(parting.probability)} of cases)"


def _numbered(chart: Chart, parting: Parting) -> Iterator[str]:
    node = chart.root
    for _, answer in parting.way:
        assert isinstance(node, Step)  # the way was found on this chart
        taken = next(one for one in node.exits if one.answer == answer)
        yield f"{node.number} {taken.text}"
        node = chart.nodes[taken.to]


def _done(library: Library, node: Step | End) -> str:
    if isinstance(node, Step):
        return f"{'put right: ' if node.action == 'replace' else ''}{node.title} ({minutes(node.minutes)})"
    named = [titles.unit_title(library, unit) for unit in node.units]
    if node.ending == "restored" or not named:
        return "the end"
    rest = f" and {len(named) - 2} more" if len(named) > 2 else ""
    return f"the end, with {', '.join(named[:2])}{rest} {'still open' if node.ending == 'open' else 'found'}"
