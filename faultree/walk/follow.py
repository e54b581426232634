"""A walk that follows a compiled chart: its next step, and whether it has left the chart."""

from __future__ import annotations

from faultree.strategy.chart.merge import stands_for
from faultree.strategy.chart.position import position
from faultree.strategy.chart.value import End, Step
from faultree.walk.state import CheckStep, Pending, Reason, RepairStep, Told, Walk
from faultree.walk.table import Phase

LEFT = Told("That leaves the chart: from here on each step is advised anew. Undo leads back to the chart.")
"""What is said when a walk leaves its chart."""


def node_of(walk: Walk) -> Step | End | None:
    """The node of the chart at which the walk stands; None without a chart, or off it."""
    case, chart = walk.case, walk.chart
    if case is None or chart is None or set(case.symptoms) != set(chart.symptoms):
        return None
    return position(chart, case.steps)


def on_chart(walk: Walk) -> Step | End | None:
    """The node that says how to go on; None also where the chart was cut off, as nothing is worked out there."""
    node = node_of(walk)
    return None if isinstance(node, End) and node.cut else node


def charted(walk: Walk) -> Pending | Reason | None:
    """What the chart says to do next: a step, or that it ends here; None where there is nothing to follow."""
    node = on_chart(walk)
    if node is None:
        return None
    return step_of(node) if isinstance(node, Step) else Reason.CHART_ENDS


def step_of(node: Step) -> Pending:
    """A step of a chart as one of the walk."""
    return CheckStep(node.target) if node.action == "check" else RepairStep(node.target)


def left(before: Walk, after: Walk) -> bool:
    """Whether the step from one state to the other has left the chart."""
    if after.case is None or before.case is None:
        return False
    if (after.case.symptoms, after.case.steps) == (before.case.symptoms, before.case.steps):
        return False
    return after.phase is not Phase.CLOSED and on_chart(before) is not None and on_chart(after) is None


def says(walk: Walk) -> str:
    """What the chart says to do at the end that the walk has come to, for the hand-over; empty elsewhere."""
    node = on_chart(walk)
    if walk.reason is Reason.CHART_ENDS and isinstance(node, End):
        return f"By the chart: {node.say}"
    return ""


def words(walk: Walk) -> str:
    """Where the walk stands on its chart, for the head of a screen; empty where it does not follow one."""
    node = on_chart(walk)
    if isinstance(node, End) and walk.chart is not None:
        printed = stands_for(walk.chart, node.number)
        return f"chart, end {printed}" if walk.reason is Reason.CHART_ENDS else ""
    return f"chart, step {node.number}" if isinstance(node, Step) and walk.pending == step_of(node) else ""
