"""Where a case stands on a chart: by its answers alone, in any order, and nowhere once it has left."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

import numpy as np
import pytest

from faultree.belief.evidence import Repair, Reply
from faultree.library.load import load_texts
from faultree.strategy.chart.compile import compile_chart, posed_chart
from faultree.strategy.chart.position import position
from faultree.strategy.chart.task import Task
from faultree.strategy.chart.value import GONE, Chart, Exit, Step
from tests.strategy.chart.by_hand import TWO, chart, repairs

SILENT, LIT = Reply("signal/click", "silence"), Reply("signal/supply-seen", "yes")


@pytest.mark.parametrize(
    ("steps", "number"),
    [
        ((), 1),
        ((SILENT,), 2),
        ((SILENT, LIT), 6),
        ((LIT, SILENT), 6),
        ((Reply("signal/click", "click"), Reply("signal/voltage", "yes")), 5),
    ],
)
def test_the_answers_lead_from_number_to_number(steps: tuple[Reply, ...], number: int) -> None:
    """The order in which they came does not count where nothing was replaced in between."""
    found = position(chart(), steps)
    assert found is chart().nodes[number] or found == chart().nodes[number]


@pytest.mark.parametrize(
    "steps",
    [
        (LIT,),
        (SILENT, Reply("signal/voltage", "yes")),
        (SILENT, Reply("signal/supply-seen", None)),
        (Reply("signal/click", None),),
        (SILENT, LIT, Reply("signal/bench", "no")),
        (SILENT, Repair("signal/fuse", False)),
    ],
    ids=["other order so far", "other check", "cannot tell", "cannot tell at once", "beyond the end", "replaced"],
)
def test_whoever_does_otherwise_has_left_the_chart(steps: tuple[Reply | Repair, ...]) -> None:
    """Another check, a replacement it does not ask for, or an answer that could not be told."""
    assert position(chart(), steps) is None


@pytest.mark.parametrize(("gone", "number"), [(True, 2), (False, 3), (None, None)])
def test_a_replacement_leads_on_by_what_the_operational_check_says(gone: bool | None, number: int | None) -> None:
    """Where that could not be told, the chart does not know how to go on."""
    found = position(repairs(), [Repair("signal/fuse", gone)])
    assert (found.number if found else None) == number


def test_an_answer_that_the_chart_holds_for_impossible_leaves_it() -> None:
    """It is not on the page."""
    one = chart()
    assert position(one, [Reply("signal/click", "bang")]) is None


def test_what_came_before_a_replacement_does_not_count_as_having_come_after_it() -> None:
    """It was the answer of an aircraft with another fault."""
    first = repairs()
    check = chart().nodes[2]
    assert isinstance(check, Step)
    asked = replace(check, number=3, exits=(Exit("yes", "Yes", 0.5, 2), Exit("no", "No", 0.5, 2)))
    one = replace(first, nodes={**first.nodes, 3: asked})
    still = Repair("signal/fuse", False)
    assert position(one, [still, LIT]) == one.nodes[2]
    assert position(one, [LIT, still]) is None


FELT = TWO.replace("c bad, probability: 0.01", "c bad, probability: 0.05").replace(
    "symptoms:", "  feel: {title: feel, reads: b, false_yes: 0.1, false_no: 0.1, minutes: 2}\nsymptoms:"
)
"""The same with a likelier common cause, and a check of one of the others."""


def ways(one: Chart, number: int = 1, steps: tuple[Reply | Repair, ...] = ()) -> Iterator[tuple[Reply | Repair, ...]]:
    """Every way through a chart, as the steps of a case, up to five of them."""
    node = one.nodes[number]
    yield steps
    if isinstance(node, Step) and len(steps) < 5:
        for way in node.exits:
            check = node.action == "check"
            made = Reply(node.target, way.answer) if check else Repair(node.target, way.answer == GONE)
            yield from ways(one, way.to, (*steps, made))


def test_orders_that_stand_at_one_number_say_the_same() -> None:
    """Every order of every way through a chart with replacements that leave less of two faults."""
    library = load_texts({"s.yaml": FELT})
    one = compile_chart(library, ["s1", "s2"], "restore", least=0.001)
    task = posed_chart(library, ["s1", "s2"], "restore", None, 0.001, 0.05).task
    replaced, refused = 0, 0
    for steps in ways(one):
        replaced += any(isinstance(step, Repair) for step in steps[:-1])
        for other in permutations(steps):
            if position(one, other) == position(one, steps):
                assert chances(task, other) == pytest.approx(chances(task, steps))
            else:
                refused += not np.allclose(chances(task, other), chances(task, steps))
    assert replaced
    assert refused


def chances(task: Task, steps: tuple[Reply | Repair, ...]) -> np.ndarray:
    """What is left of the fault sets after some steps, by plain multiplication."""
    found = task.chances
    for step in steps:
        name = step.check if isinstance(step, Reply) else step.unit
        move = next(one for one in task.moves if one.name == name)
        answers = ("yes", "no") if isinstance(step, Reply) else (True, False)
        found = found * task.shows[move.rows[answers.index(step.answer if isinstance(step, Reply) else step.gone)]]
        shift = (task.shifts or {}).get(name)
        if shift is not None:
            found = np.bincount(shift, found, len(found)).astype(np.float64)
    return found
