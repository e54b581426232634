"""The mark: worked by hand, capped by cautions that were not read, and as an instructor would rank habits."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.practice.events import Ask, Event, HandOver, Hint, PutRight, Read, Skip, TimeUp
from faultree.practice.exercise import Exercise, begin, step
from faultree.practice.judge import outlook
from faultree.practice.mark import CAPS, HINTS, Mark, mark
from faultree.practice.reference import reference
from faultree.practice.scenario import scenario
from faultree.strategy.case import Case
from tests.practice.small import gate
from tests.practice.trainees import at_random, greedy, run, swapper, the_best


def done(*events: Event, hidden: str = "g/motor-dead") -> Exercise:
    made = replace(scenario(gate(), "still", 2, 1), hidden=frozenset({hidden}))
    exercise = begin(gate(), made)
    for event in events:
        turn = step(exercise, event)
        assert not turn.refused, turn.refused
        exercise = turn.exercise
    return exercise


def marked(*events: Event, hidden: str = "g/motor-dead") -> Mark:
    return mark(done(*events, hidden=hidden))


START = outlook(Case.open(gate(), ["still"]), scenario(gate(), "still", 2, 1), looked=True).least


def test_one_useless_minute_by_hand() -> None:
    """V / (V + 1): the mat takes a minute and tells nothing; listening and the motor are what the best does."""
    best = reference(gate(), done().scenario)
    assert [one.target for one in best.steps] == ["g/listen", "g/motor"]
    found = marked(Ask("mat"), Ask("listen"), PutRight("motor"))
    assert found.mark == pytest.approx(100 * START / (START + 1.0))
    assert found.lost == pytest.approx(1.0)
    assert (found.found, found.cap) == (1.0, 100.0)


def test_a_hint_counts_as_minutes() -> None:
    found = marked(Hint(), Hint(), Ask("listen"), PutRight("motor"))
    assert found.mark == pytest.approx(100 * START / (START + HINTS[2]))


@pytest.mark.parametrize(("check", "cap"), [("gauge", CAPS["warning"]), ("look-in", CAPS["caution"])])
def test_a_caution_that_was_not_read_caps_the_mark(check: str, cap: float) -> None:
    """However good the rest was."""
    found = marked(Ask(check), Skip(), Ask("listen"), PutRight("motor"))
    assert found.mark == pytest.approx(min(cap, 100 * START / (START + found.lost)))
    assert found.cap == cap


def test_the_same_decision_has_the_same_regret_whatever_was_hidden() -> None:
    """Luck is no skill: replacing the valve at once costs the same whether or not it was the valve."""
    lucky, unlucky = (
        marked(PutRight("valve"), Read(), TimeUp(), hidden=name)
        if name != "g/valve-shut"
        else marked(PutRight("valve"), Read(), hidden=name)
        for name in ("g/valve-shut", "g/leak")
    )
    assert lucky.decisions[0].regret == pytest.approx(unlucky.decisions[0].regret)
    assert lucky.decisions[0].regret > 0.0


def test_handing_over_at_once_is_no_work_done() -> None:
    assert marked(HandOver("motor")).mark == pytest.approx(0.0, abs=1e-6)
    assert marked(HandOver()).mark == 0.0


def test_handing_over_what_was_found_is_work_done() -> None:
    """The motor is silent and everything else cleared: naming it is all that a trainee has to do."""
    found = marked(Ask("listen"), HandOver("motor"))
    assert found.mark > 90.0
    assert marked(Ask("listen"), HandOver("pump")).mark == 0.0
    assert marked(Ask("listen"), HandOver()).mark == 0.0


def test_time_that_ran_out_counts_what_was_found() -> None:
    early, late = marked(TimeUp()), marked(Ask("listen"), TimeUp())
    assert early.mark == pytest.approx(0.0, abs=1e-6)
    assert late.mark > 50.0


def test_only_an_ended_exercise_has_a_mark() -> None:
    with pytest.raises(ValueError, match="when it has ended"):
        mark(done(Ask("listen")))


def test_habits_are_ranked_as_an_instructor_would() -> None:
    """Means over 40 exercises: the best has 100; a sensible asker is before a part-swapper and before chance."""
    made = [scenario(gate(), "still", 2, seed) for seed in range(40)]
    means = {
        habit.__name__: sum(mark(run(gate(), one, habit, one.seed)).mark for one in made) / len(made)
        for habit in (the_best, greedy, swapper, at_random)
    }
    assert means["the_best"] == pytest.approx(100.0)
    assert means["the_best"] > means["greedy"] > max(means["swapper"], means["at_random"])
    careless = [mark(run(gate(), one, the_best, reads=False)) for one in made]
    assert all(one.mark <= one.cap for one in careless)
    assert sum(one.mark for one in careless) / len(made) < means["greedy"]
