"""What a step takes has one definition, whoever shows it."""

from __future__ import annotations

import pytest

from faultree.practice.exercise import begin, takes
from faultree.practice.scenario import scenario
from faultree.strategy.case import Case
from faultree.strategy.chart.compile import compile_chart
from faultree.walk import effort
from faultree.walk import events as ev
from faultree.walk.chart_blocks import StepBlock
from faultree.walk.chart_page import page_of
from faultree.walk.prompt import ListPrompt
from faultree.walk.state import Walk
from faultree.walk.view import prompt
from tests.walk.small import DARK, asked, small, walked


def test_a_repair_takes_its_work_its_access_and_the_operational_check_of_every_report() -> None:
    """A cause without an item has minutes of its own and no access."""
    library = small()
    assert effort.of_repair(library, "signal/lamp", [DARK]) == (20, 15, 5)
    assert effort.of_repair(library, "signal/lamp", [DARK], {"signal/panel"}) == (20, 0, 5)
    assert effort.of_repair(library, "signal/wire-broken", [DARK, "signal/button-lamp"]) == (60, 0, 15)


@pytest.mark.parametrize("answers", [{}, {"voltage": "no"}])
def test_advice_the_walk_its_list_and_practice_say_the_same(answers: dict[str, str]) -> None:
    """Also once the panel is off."""
    library = small()
    case = Case.open(library, [DARK])
    for check, answer in answers.items():
        case = case.answer(check, answer)
    advised = {one.item: one.minutes for one in case.advice() if one.item}
    made = walked(*(event for check, answer in answers.items() for event in asked(check, answer)), ev.ShowAll())
    listed = _listed(made)
    exercise = begin(library, scenario(library, DARK, 1, 1))
    assert advised
    assert made.open_case.steps == case.steps
    for unit, spent in advised.items():
        assert effort.of_repair(library, unit, case.symptoms, case.opened).total == spent
        assert listed.get(unit, spent) == spent
        assert answers or takes(exercise, "replace", unit) == spent
    for worth in case.checks():
        assert effort.of_check(library, worth.check, case.opened).total == worth.minutes


def _listed(walk: Walk) -> dict[str, float | None]:
    shown = prompt(walk)
    assert isinstance(shown, ListPrompt)
    return {one.detail: one.minutes for one in shown.choices if one.kind == "replace"}


def test_a_chart_that_restores_says_what_is_in_the_time_of_a_repair() -> None:
    """The operational check stands in its minutes, and the words say so."""
    library = small()
    chart = compile_chart(library, [DARK], "restore")
    blocks = [one for one in page_of(library, chart).blocks if isinstance(one, StepBlock)]
    repairs = [one.takes for one in blocks if one.replaces]
    checks = [one.takes for one in blocks if not one.replaces]
    assert repairs
    assert all("5 min of it for the operational check" in one for one in repairs)
    assert not any("operational check" in one for one in checks)
