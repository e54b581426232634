"""A fixed order costs what it costs a person who follows it, read literally or skipping what tells nothing."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest

from faultree.library.load import load_texts
from faultree.library.model import Check
from faultree.strategy.chart.against import left_open
from faultree.strategy.chart.compile import DOUBT, LEAST, compile_chart, posed_chart
from faultree.strategy.chart.handout import Made, read_handout
from faultree.strategy.chart.listed import carried_on, listed_chart
from faultree.strategy.chart.pose import Posed
from faultree.strategy.chart.value import End, Goal, Step
from tests.oracles.brute import Brute
from tests.oracles.least_chart import Asked, Puzzle, least_to_tell_apart
from tests.strategy.chart.plainly import expected_minutes
from tests.strategy.chart.simulated import Aircraft, walked
from tests.trees.demonstration import library
from tests.walk.small import DARK, SIGNAL

ERRORS = ("    false_yes: 0.02\n    false_no: 0.01\n", "    error: 0.05\n")

PERFECT = load_texts({"signal.yaml": SIGNAL.replace(ERRORS[0], "").replace(ERRORS[1], "")})
"""The small library with checks that do not err."""


def _posed(goal: Goal = "item") -> Posed:
    return posed_chart(PERFECT, [DARK], goal, None, LEAST, DOUBT)


def _order(*names: str) -> tuple[Made, ...]:
    return tuple(Made("check", f"signal/{name}") for name in names)


@pytest.mark.parametrize("skipping", [False, True], ids=["literally", "skipping"])
@pytest.mark.parametrize("order", list(permutations(["click", "weather", "supply-seen", "voltage"])))
def test_a_list_costs_what_it_costs_a_person(order: tuple[str, ...], skipping: bool) -> None:
    """Against hidden faults followed one by one, in every order of four checks, one of which tells nothing."""
    posed = _posed()
    chances = dict(zip(posed.suspicion.sets, posed.suspicion.chances, strict=True))
    names = [f"signal/{one}" for one in order]
    found = listed_chart(posed, _order(*order), skipping=skipping)
    wanted = expected_minutes(PERFECT, DARK, chances, names, skipping=skipping)
    assert found.expected_minutes == pytest.approx(wanted, rel=1e-12)


def test_read_literally_what_tells_nothing_is_made_and_paid() -> None:
    """It has one answer and leads on; skipped, it is not there."""
    literal = listed_chart(_posed(), _order("weather", "voltage"))
    first = literal.root
    assert isinstance(first, Step)
    assert first.target == "signal/weather"
    assert [one.probability for one in first.exits] == [1.0]
    skipping = listed_chart(_posed(), _order("weather", "voltage"), skipping=True)
    assert skipping.root.target == "signal/voltage"  # type: ignore[union-attr]  # it is a step
    assert literal.expected_minutes == pytest.approx(skipping.expected_minutes + 1.0)


def test_the_end_of_the_list_leaves_open_what_it_leaves_open() -> None:
    """Without a word about checks that are not on the list."""
    found = listed_chart(_posed(), _order("voltage"))
    ends = [node for node in found if isinstance(node, End)]
    assert {end.ending for end in ends} == {"found", "open"}
    assert 0.0 < left_open(found) < 1.0
    assert left_open(compile_chart(PERFECT, [DARK])) < left_open(found)


def test_the_list_is_left_as_soon_as_one_thing_is_left() -> None:
    """Nobody goes on asking when the item is found."""
    found = listed_chart(_posed(), _order("voltage", "weather"))
    first = found.root
    assert isinstance(first, Step)
    lamp = found.nodes[next(one.to for one in first.exits if one.answer == "yes")]
    assert isinstance(lamp, End)
    assert lamp.units == ("signal/lamp",)


def test_a_list_is_never_cheaper_than_the_best_chart_that_leaves_as_little_open() -> None:
    """Of the orders that tell all apart that can be told apart, none beats the chart."""
    best = compile_chart(PERFECT, [DARK])
    for order in permutations(["click", "supply-seen", "voltage", "bench"]):
        found = listed_chart(_posed(), _order(*order), skipping=True)
        assert left_open(found) == pytest.approx(left_open(best))
        assert found.expected_minutes >= best.expected_minutes - 1e-9


@pytest.mark.parametrize("skipping", [False, True], ids=["literally", "skipping"])
def test_with_repairs_a_list_ends_where_the_report_is_gone(skipping: bool) -> None:
    """Hidden faults run through it take as long as it says, and every one of them is cleared."""
    posed = _posed("restore")
    order = read_handout(PERFECT, "- click\n- fuse\n- voltage\n", "x", "restore").order
    chart = listed_chart(posed, order, skipping=skipping)
    sets = list(posed.suspicion.sets)
    walks = walked(Aircraft(PERFECT, [DARK], list(sets)), chart, np.arange(len(sets)), None)
    mean = float(np.array(posed.suspicion.chances) @ walks.minutes)
    assert mean == pytest.approx(chart.expected_minutes, rel=1e-9)
    assert all(_restored(chart.nodes[number]) for number in walks.end.tolist())
    assert chart.expected_minutes >= compile_chart(PERFECT, [DARK], "restore").expected_minutes - 1e-9


def _restored(node: Step | End) -> bool:
    return isinstance(node, End) and node.ending == "restored"


def test_with_repairs_the_list_is_left_when_one_replacement_clears_all() -> None:
    """And after its end the replacements go by probability over minutes."""
    chart = listed_chart(_posed("restore"), _order("voltage"))
    first = chart.root
    assert isinstance(first, Step)
    after = {one.answer: chart.nodes[one.to] for one in first.exits}
    lamp, rest = after["yes"], after["no"]
    assert isinstance(lamp, Step)
    assert isinstance(rest, Step)
    assert (lamp.action, lamp.target) == ("replace", "signal/lamp")
    # fuse .01 in 10 minutes, relay .01 in 45, wire .002 in 65
    assert (rest.action, rest.target) == ("replace", "signal/fuse")


def test_checks_that_err_are_counted_as_they_err() -> None:
    """On the demonstration library, simulated."""
    symptom = "leading-edge/transit-light-stays-on"
    posed = posed_chart(library(), [symptom], "item", None, LEAST, DOUBT)
    order = read_handout(
        library(), "- devices-in-page\n- transit-light-annunciator\n- devices-in-walk-round\n", "x"
    ).order
    chart = listed_chart(posed, order)
    sets, rng = list(posed.suspicion.sets), np.random.default_rng(5)
    hidden = rng.choice(len(sets), 20_000, p=np.array(posed.suspicion.chances))
    walks = walked(Aircraft(library(), [symptom], sets), chart, hidden, rng)
    assert abs(walks.minutes.mean() - chart.expected_minutes) <= 3 * walks.minutes.std() / 20_000**0.5


def test_carried_on_a_list_costs_the_list_and_the_least_behind_it() -> None:
    """Against plain dynamic programming on what each answer leaves, with the panel open or not."""
    posed = _posed()
    sets, chances = list(posed.suspicion.sets), posed.suspicion.chances
    for name in ("voltage", "click", "bench", "weather"):
        check = PERFECT.checks[f"signal/{name}"]
        wanted = check.minutes + sum(PERFECT.access[way].minutes for way in check.access)
        for answer in check.answers:
            left = [place for place, one in enumerate(sets) if _answer(check.id, one) == answer.id]
            if left:
                share = sum(chances[place] for place in left)
                wanted += share * least_to_tell_apart(_puzzle([sets[place] for place in left], left, chances, check))
        found = carried_on(posed, _order(name))
        assert found.expected_minutes == pytest.approx(wanted, rel=1e-9)
        assert found.optimal
        assert left_open(found) == pytest.approx(left_open(compile_chart(PERFECT, [DARK])))


def _answer(check: str, faults: frozenset[str]) -> str:
    return Brute(PERFECT, [DARK]).right_answer(check, faults)


def _puzzle(sets: list[frozenset[str]], left: list[int], chances: tuple[float, ...], made: Check) -> Puzzle:
    """What is left after a check, for the oracle: access that is open costs nothing any more."""
    units = [frozenset(PERFECT.causes[one].item or one for one in some) for some in sets]
    kinds = list(dict.fromkeys(units))
    ways = list(PERFECT.access)
    checks = []
    for name, check in PERFECT.checks.items():
        names = [one.id for one in check.answers]
        answers = tuple(names.index(_answer(name, one)) for one in sets)
        checks.append(Asked(check.minutes, answers, frozenset(ways.index(way) for way in check.access)))
    total = sum(chances[place] for place in left)
    return Puzzle(
        tuple(chances[place] / total for place in left),
        tuple(kinds.index(one) for one in units),
        tuple(checks),
        tuple(0.0 if way in made.access else PERFECT.access[way].minutes for way in ways),
    )


def test_carried_on_with_few_looks_it_says_that_it_was_stopped() -> None:
    """The figures are those of what was found, and the bound lies below them."""
    symptom = "leading-edge/transit-light-stays-on"
    posed = posed_chart(library(), [symptom], "item", None, 0.02, DOUBT)
    order = read_handout(library(), "- devices-in-page\n- transit-light-annunciator\n", "x").order
    found = carried_on(posed, order, looks=5)
    assert found.stopped
    assert found.lower_bound <= found.expected_minutes
    assert left_open(found) < left_open(listed_chart(posed, order))
