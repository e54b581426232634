"""The head of a chart's page: what it costs and proves, what it is for, and how it is used."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faultree.base.words import listing, minutes, percent
from faultree.library.model import Library
from faultree.strategy.chart.value import Chart, End, Goal, Open, Step

TOGETHER = 1.005
"""Suspects whose chances add up to more than this are there together in some cases."""

HOURS = 119.5
"""From so many minutes on they are written in hours."""

FAINT = 0.005
"""A cause less likely than this is only counted, unless it is one of the first two."""

GAPS = "; several ways lead to some of them, and not every number is used."

GOALS: Mapping[Goal, str] = {
    "cause": "tell the causes apart",
    "item": "tell apart what would be replaced",
    "restore": "make the symptom go away, replacements and their operational checks included",
}
"""What each goal is for, after "to"."""


def proof(chart: Chart) -> str:
    """What the chart costs on average, and what no chart can go below.

    The bound is rounded down, so that what is printed is never more than what is proven.
    """
    if isinstance(chart.root, End):
        return _nothing_to_do(chart, chart.root)
    expected = mean(chart.expected_minutes, chart.worst_minutes)
    if chart.optimal:
        return f"Expected {expected}; no chart can be below that."
    if "h" not in expected:
        return f"Expected {expected}; no chart can be below {int(chart.lower_bound * 10 + 1e-9) / 10:.1f}."
    below = int(chart.lower_bound + 1e-9)
    least = mean(below, chart.worst_minutes) if below >= 60 else f"{below} min"
    return f"Expected {expected}; no chart can be below {least}."


def mean(value: float, worst: float) -> str:
    """Mean minutes, to a tenth; in hours where what they stand beside is in hours.

    >>> mean(29.52, 46.0), mean(94.7, 579.0), mean(29.52, 579.0), mean(179.7, 579.0)
    ('29.5 min', '1 h 35 min', '29.5 min', '3 h')
    """
    if worst < HOURS or value < 60.0:
        return f"{value:.1f} min"
    hours, rest = divmod(int(value + 0.5), 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def _nothing_to_do(chart: Chart, end: End) -> str:
    """What stands in place of the minutes where a chart has no step: that 0 minutes are the least proves nothing."""
    people = "" if set(chart.by) == {"crew", "line", "shop"} else f" of the {listing(chart.by)}"
    if end.ending == "continue":
        return f"No check{people} tells the suspects apart: others have to go on at once."
    if end.ending == "found":
        return "No check is needed: only one thing can be behind the report."
    return f"No check{people} tells the suspects apart."


def facts(chart: Chart) -> Iterator[tuple[str, str]]:
    """Labels and words: what the chart is for, how long it takes at worst, and what is not on it."""
    yield "Purpose", f"To {GOALS[chart.goal]}"
    if isinstance(chart.root, Step):
        checks = f"{chart.expected_checks:.1f} checks on average"
        yield "At worst", f"{minutes(chart.worst_minutes)}; {checks}"
    if set(chart.by) != {"crew", "line", "shop"}:
        yield "For", f"{listing(chart.by)} only"
    if chart.stopped:
        yield "Stopped", "The search ended before it was through; given more time, a better chart may be found"
    if chart.left_out >= FAINT:
        yield "Not here", f"Up to {percent(chart.left_out)} of cases may take faults that are left out as too rare"
    if chart.cut >= FAINT / 10:
        where = "where answers are unlikely, go against each other or fit no suspect"
        yield "Cut off", f"{percent(chart.cut)} of cases leave the chart, {where}"


def use(library: Library, chart: Chart) -> Iterator[str]:
    """How the page is used, a paragraph each; when to leave it comes last."""
    reports = " ".join((*chart.symptoms, *(["--history"] if library.history else [])))
    gaps = any(number not in chart.nodes for number in range(1, max(chart.nodes)))
    yield (
        "Begin at 1. Read the cautions of a step before you make it, then go to the number behind your answer. "
        f"The ends stand behind the steps{GAPS if gaps else '.'}"
    )
    if any(sum(one.probability for one in suspects(node)) > TOGETHER for node in chart):
        yield "Where the suspects add up to more than 100 %, some of them have to be there together."
    yield (
        "The chances are worked out for the suspects of this chart alone; 'faultree rank', which reckons with every "
        "fault of the library, may differ somewhat."
    )
    yield (
        "Where you cannot tell, or find something that is not listed, do not guess: "
        f"leave the chart and go on with 'faultree walk {reports}' and the answers so far."
    )


def suspects(node: Step | End) -> tuple[Open, ...]:
    """What is still open at a node."""
    return node.open if isinstance(node, Step) else node.causes
