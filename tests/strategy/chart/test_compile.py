"""Compiling ends when it should: in time, when told to, at Ctrl-C; and says what is wrong with what was asked."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count

import pytest

from faultree.base.errors import CaseError, Contradiction, UnknownName
from faultree.strategy.chart import compile as compiling
from faultree.strategy.chart.compile import AT_LEAST, Progress, compile_chart
from faultree.strategy.chart.value import Chart, End, Step
from tests.published.test_chart_sequencing import matrix
from tests.trees.demonstration import library

LONG = "spoilers/stay-down"
"""A report whose chart takes long to prove."""


def stopped_after(looks: int) -> Chart:
    """The long chart, stopped after so many looks at the clock."""
    return compile_chart(library(), [LONG], limit_s=float(looks), clock=count().__next__)


def test_a_limit_of_time_gives_the_best_chart_so_far_with_its_gap() -> None:
    chart = stopped_after(20)
    assert chart.stopped
    assert not chart.optimal
    assert 0.0 < chart.lower_bound < chart.expected_minutes
    assert sum(node.probability for node in chart if isinstance(node, End)) == pytest.approx(1.0)


def test_no_time_at_all_still_gives_a_chart() -> None:
    chart = stopped_after(0)
    assert chart.stopped
    assert isinstance(chart.root, Step)


def test_told_to_stop() -> None:
    looks = count()
    chart = compile_chart(library(), [LONG], stop=lambda: next(looks) >= 5)
    assert chart.stopped


class Interrupted:
    """Ctrl-C at a given call."""

    def __init__(self, at: int) -> None:
        self.at = at
        self.calls = 0

    def __call__(self, progress: Progress) -> None:
        self.calls += 1
        if self.calls == self.at:
            raise KeyboardInterrupt


@pytest.mark.parametrize("at", [1, 7, 30])
def test_ctrl_c_gives_the_best_chart_so_far(at: int) -> None:
    chart = compile_chart(library(), [LONG], progress=Interrupted(at))
    assert chart.stopped
    assert chart.lower_bound <= chart.expected_minutes


def test_ctrl_c_while_the_chart_is_drawn_up() -> None:
    """After the search has had its share of the time, an interrupt ends the rollouts, not the work."""
    ticks = iter(range(10**9))
    told = Stop(lambda: next(ticks))
    chart = compile_chart(library(), [LONG], limit_s=100.0, stop=told, clock=told.clock)
    assert told.raised
    assert chart.stopped


@pytest.mark.parametrize("stage", ["posed_chart", "Assembly"])
def test_ctrl_c_before_and_after_the_search_still_gives_a_chart(stage: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """It only says that time is up; a second one ends the work."""
    real, calls = getattr(compiling, stage), count(1)

    def pressed(*some: object) -> object:
        if next(calls) <= times:
            raise KeyboardInterrupt
        return real(*some)

    monkeypatch.setattr(compiling, stage, pressed)
    times = 1
    assert compile_chart(library(), ["flaps/needles-apart"]).root.probability == 1.0
    calls, times = count(1), 2
    with pytest.raises(KeyboardInterrupt):
        compile_chart(library(), ["flaps/needles-apart"])


class Work:
    """A clock that goes by the work that is done: a second for so many states looked at."""

    def __init__(self, states: int) -> None:
        self.speed = states
        self.states = 0

    def clock(self) -> float:
        return self.states / self.speed

    def progress(self, now: Progress) -> None:
        self.states = now.states


def test_the_limit_holds_for_several_reports_too() -> None:
    """However slow the machine: what is left is then drawn up by a rule that needs no looking ahead."""
    work = Work(200)
    chart = compile_chart(
        library(),
        ["flaps/needles-apart", "leading-edge/device-out-in-cruise"],
        "restore",
        limit_s=0.5,
        progress=work.progress,
        clock=work.clock,
    )
    assert chart.stopped
    assert 0.5 < work.clock() < 0.5 + AT_LEAST + 1.0
    assert sum(node.probability for node in chart if isinstance(node, End)) == pytest.approx(1.0)
    assert chart.lower_bound <= chart.expected_minutes


class Stop:
    """A clock that says when the search is over, and a question that is then answered with Ctrl-C, once."""

    def __init__(self, tick: Callable[[], int]) -> None:
        self.tick = tick
        self.now = 0.0
        self.raised = False

    def clock(self) -> float:
        self.now = float(self.tick())
        return self.now

    def __call__(self) -> bool:
        if self.now > 75.0 and not self.raised:
            self.raised = True
            raise KeyboardInterrupt
        return False


def test_progress_is_told_and_the_bound_never_falls() -> None:
    seen: list[Progress] = []
    compile_chart(library(), ["flaps/needles-apart"], progress=seen.append)
    assert seen
    assert [one.lower_bound for one in seen] == sorted(one.lower_bound for one in seen)
    assert [one.states for one in seen] == sorted(one.states for one in seen)


def test_more_time_is_never_worse_by_the_bound() -> None:
    assert stopped_after(8).lower_bound <= stopped_after(30).lower_bound


@pytest.mark.parametrize(
    ("arguments", "error", "words"),
    [
        ({"symptoms": ["no-such-report"]}, UnknownName, "no-such-report"),
        ({"symptoms": []}, CaseError, "at least one symptom"),
        ({"goal": "fastest"}, CaseError, "cause, item or restore, not 'fastest'"),
        ({"by": ["pilot"]}, CaseError, "some of crew, line and shop"),
        ({"by": []}, CaseError, "some of crew, line and shop"),
        ({"by": ["crew"], "goal": "restore"}, CaseError, "needs the line or the shop"),
    ],
)
def test_what_cannot_be_compiled(arguments: dict[str, object], error: type[Exception], words: str) -> None:
    asked: dict[str, object] = {"symptoms": [LONG], **arguments}
    with pytest.raises(error, match=words):
        compile_chart(library(), **asked)  # type: ignore[arg-type]  # wrong on purpose


def test_reports_that_contradict_each_other() -> None:
    """A light that stays on and the same light dark."""
    with pytest.raises(Contradiction):
        compile_chart(library(), ["leading-edge/transit-light-stays-on", "leading-edge/transit-light-dark"])


def test_short_ids_are_accepted() -> None:
    assert compile_chart(library(), ["needles-apart"]).symptoms == ("flaps/needles-apart",)


def test_a_routine_look_may_end_with_nothing_wrong() -> None:
    chart = compile_chart(matrix(), ["reported"])
    assert any(node.say.startswith("Nothing is found wrong") for node in chart if isinstance(node, End))


def test_each_goal_costs_what_it_asks_for() -> None:
    """Telling causes apart takes no less than telling items apart; restoring takes more than either."""
    item, cause, restore = (
        compile_chart(library(), ["flaps/needles-apart"], goal=goal) for goal in ("item", "cause", "restore")
    )
    assert item.expected_minutes <= cause.expected_minutes < restore.expected_minutes
    assert item.optimal
    assert cause.optimal


def test_an_answer_that_no_suspect_gives_leaves_the_chart() -> None:
    """Another breaker than the suspected one is out: nothing is found by it, and nothing is asked on."""
    one = compile_chart(library(), ["spoilers/lever-held-on-ground"])
    steps = [node for node in one if isinstance(node, Step) and node.target == "electrical/breaker-row-d"]
    assert steps
    for step in steps:
        ends = [one.nodes[exit_.to] for exit_ in step.exits if exit_.answer in ("wheel-speed", "both")]
        assert all(isinstance(end, End) and end.strange and end.ending == "open" for end in ends)
        assert len(ends) == 2


def test_an_answer_that_no_suspect_gives_leaves_the_chart_where_nothing_else_could_be_asked() -> None:
    """Where the suspects cannot be told apart any more they are not put right one after the other for it."""
    one = compile_chart(library(), ["leading-edge/transit-light-dark"])
    (step,) = (node for node in one if isinstance(node, Step) and node.target == "electrical/breaker-row-b")
    strange = [one.nodes[exit_.to] for exit_ in step.exits if exit_.answer not in ("none", "slat-indication")]
    assert len(strange) == 3
    assert all(isinstance(end, End) and end.strange for end in strange)
