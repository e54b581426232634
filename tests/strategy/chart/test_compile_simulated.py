"""Hidden faults run through compiled charts take as long as the charts say, and never end where they are excluded.

Every symptom of the demonstration library is run. `python -m tests.benchmarks.study_chart_simulation` asks besides what
other faults, which have nothing to do with the report, change.
"""

from __future__ import annotations

from functools import cache
from itertools import count
from typing import NamedTuple

import numpy as np
import pytest

from faultree.strategy.chart.compile import DOUBT, LEAST, compile_chart, posed_chart
from faultree.strategy.chart.value import Chart, End, Goal, Step
from tests.strategy.chart.simulated import Aircraft, Faults, walked
from tests.trees.demonstration import library

DRAWN = 20_000

LOOKS = 100
"""So many states are looked at: a chart need not be the best to be true, and each run shall give the same one."""

COARSE = 0.05
"""Where branches are cut off in the charts that take longest to compile."""

LARGE = frozenset(
    {"spoilers/stay-down", "spoilers/stay-down-rejected", "flaps/flaps-stay-up", "spoilers/fault-lamp-on"}
)
"""Symptoms whose charts are large, and take long to compile to the end."""

OTHERS: tuple[tuple[str, Goal], ...] = (
    ("flaps/needles-apart", "cause"),
    ("hydraulics/no-pressure-2-parked", "cause"),
    ("flaps/relief-silent", "restore"),
    ("electrical/generator-1-off", "restore"),
)

CHARTS: tuple[tuple[str, Goal], ...] = (*((name, "item") for name in library().symptoms), *OTHERS)


class Trial(NamedTuple):
    """A chart, and the fault sets that it charts with their chances."""

    chart: Chart
    sets: tuple[Faults, ...]
    chances: tuple[float, ...]


@cache
def _trial(symptom: str, goal: Goal) -> Trial:
    least = COARSE if symptom in LARGE else LEAST
    suspicion = posed_chart(library(), [symptom], goal, None, least, DOUBT).suspicion
    chart = compile_chart(library(), [symptom], goal, limit_s=LOOKS, least=least, clock=count().__next__)
    return Trial(chart, suspicion.sets, suspicion.chances)


@pytest.mark.parametrize(("symptom", "goal"), CHARTS)
def test_hidden_faults_take_as_long_as_the_chart_says(symptom: str, goal: Goal) -> None:
    """The mean over 20,000 seeded hidden faults, their checks erring as they do, is within 3 standard errors."""
    chart, sets, chances = _trial(symptom, goal)
    rng = np.random.default_rng(20_261_125)
    hidden = rng.choice(len(sets), DRAWN, p=np.array(chances) / sum(chances))
    walks = walked(Aircraft(library(), [symptom], list(sets)), chart, hidden, rng)
    error = walks.minutes.std() / np.sqrt(DRAWN)
    assert abs(walks.minutes.mean() - chart.expected_minutes) <= 3.0 * error + 1e-9
    assert abs(walks.steps.mean() - chart.expected_checks) <= 3.0 * walks.steps.std() / np.sqrt(DRAWN) + 1e-9
    assert walks.minutes.max() <= chart.worst_minutes + 1e-9
    assert (walks.end > 0).all()  # no answer can come that the chart holds for impossible


@pytest.mark.parametrize(("symptom", "goal"), CHARTS)
def test_no_end_excludes_the_hidden_fault(symptom: str, goal: Goal) -> None:
    """Where no check errs, every charted fault set comes to an end that still holds all of it."""
    chart, sets, _ = _trial(symptom, goal)
    aircraft = Aircraft(library(), [symptom], list(sets))
    walks = walked(aircraft, chart, np.arange(len(sets)), None)
    for faults, number in zip(sets, walks.end.tolist(), strict=True):
        end = chart.nodes[number]
        assert isinstance(end, End)
        if goal != "restore":
            assert faults <= {one.cause for one in end.causes}
        else:
            assert end.ending == "restored"


def test_the_oracle_of_the_simulation_errs_as_often_as_the_check() -> None:
    """The answers given to a check that errs differ from the right ones about as often as the library says."""
    check = next(one for one in library().checks.values() if one.error > 0.01)
    aircraft = Aircraft(library(), [next(iter(library().symptoms))], [frozenset()])
    right = aircraft.right(check.id, np.zeros(DRAWN, dtype=np.intp))
    given = aircraft.given(check.id, right, np.random.default_rng(1))
    assert (given != right).mean() == pytest.approx(check.error, abs=3 * np.sqrt(check.error / DRAWN))
    assert (aircraft.given(check.id, right, None) == right).all()


def _needed(node: Step, symptom: str) -> set[str]:
    """The cautions that the library asks for before a step: of its situation, of the access it opens, its own."""
    lib = library()
    found = {one for way in node.opens for one in lib.access[way].cautions}
    if node.action == "check":
        check = lib.checks[node.target]
        return found | set(check.cautions) | _of_situation(check.situation)
    own = lib.items[node.target].cautions if node.target in lib.items else ()
    return found | set(own) | _of_situation(lib.symptoms[symptom].situation)


def _of_situation(name: str | None) -> set[str]:
    if name is None:
        return set()
    situation = library().situations[name]
    return set(situation.cautions) | _of_situation(situation.extends)


@pytest.mark.parametrize(("symptom", "goal"), CHARTS)
def test_every_step_can_be_answered_and_has_its_cautions_before_it(symptom: str, goal: Goal) -> None:
    """A question, an exit for every answer that can come, all cautions; and access is opened once on every way."""
    chart = _trial(symptom, goal).chart
    for node in chart:
        if isinstance(node, Step):
            assert node.ask
            assert node.title
            assert sum(one.probability for one in node.exits) == pytest.approx(1.0)
            assert _needed(node, symptom) <= set(node.cautions)
    waiting: list[tuple[int, frozenset[str]]] = [(1, frozenset())]
    seen: set[tuple[int, frozenset[str]]] = set()
    while waiting:
        number, opened = waiting.pop()
        node = chart.nodes[number]
        if (number, opened) in seen or isinstance(node, End):
            continue
        seen.add((number, opened))
        assert not opened.intersection(node.opens)
        after = opened.union(node.opens)
        assert _access(node) <= after
        waiting += [(one.to, after) for one in node.exits]


def _access(node: Step) -> set[str]:
    lib = library()
    if node.action == "check":
        return set(lib.checks[node.target].access)
    return set(lib.items[node.target].access) if node.target in lib.items else set()


@pytest.mark.parametrize(("symptom", "goal"), CHARTS)
def test_every_end_says_what_to_do_and_where_the_manual_speaks_of_it(symptom: str, goal: Goal) -> None:
    """With the cautions of putting right, and of the access that it takes."""
    lib = library()
    for node in _trial(symptom, goal).chart:
        if isinstance(node, End):
            assert node.say
            if node.ending in ("found", "open") and node.units:
                assert node.manual
                items = [lib.items[unit] for unit in node.units if unit in lib.items]
                needed = {one for item in items for one in item.cautions}
                needed |= {one for item in items for way in item.access for one in lib.access[way].cautions}
                assert needed <= set(node.cautions)
