"""The mark: worked by hand, capped by cautions that were not read, and as an instructor would rank habits."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.library.load import load_texts
from faultree.practice.curve import curve
from faultree.practice.events import Ask, Event, HandOver, Hint, PutRight, Read, Skip, TimeUp
from faultree.practice.exercise import Exercise, begin, step
from faultree.practice.judge import outlook
from faultree.practice.mark import CAPS, HINTS, SURE, Mark, best_at, mark
from faultree.practice.reference import act, reference
from faultree.practice.scenario import scenario
from faultree.strategy.case import Case
from faultree.walk.suspects import leading
from tests.practice.small import GATE, gate
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
    assert (found.decisions[0].regret, found.decisions[0].hints, found.lost) == (0.0, HINTS[2], HINTS[2])
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


def test_handing_over_the_part_that_is_as_good_as_certain_is_worth_as_much_as_repairing_it() -> None:
    """Over many runs of several habits: at each last repair of a part that stood at 99 %, the hand-over is as good."""
    seen = 0
    for seed in range(60):
        made = scenario(gate(), "still", 1, seed)
        for habit in (the_best, greedy, at_random):
            whole = run(gate(), made, habit, seed)
            last = whole.steps[-1]
            likely = {one.unit: one.probability for one in last.before.units()}.get(last.target, 0.0)
            if last.action != "replace" or likely < SURE:
                continue
            handed = mark(_handed_over(whole, len(whole.steps) - 1, last.target))
            assert (handed.found, handed.short) == (1.0, "")
            assert handed.mark >= mark(whole).mark - 1e-9
            seen += 1
    assert seen > 60


def test_the_first_suspect_on_screen_is_never_the_wrong_one_to_name() -> None:
    """Whatever was asked before: a hand-over that names it is short of nothing but what is still unknown."""
    for seed in range(40):
        made = scenario(gate(), "still", 2, seed)
        whole = run(gate(), made, at_random, seed)
        for count in range(len(whole.steps)):
            before = whole.steps[count].before
            first = leading(before, 8).lines[0].cause
            handed = mark(_handed_over(whole, count, before.unit_id(first)))
            assert handed.short in ("", "early")


def test_not_knowing_is_the_bits_of_the_picture() -> None:
    """What was found is the share of the curve's bits that is gone at the hand-over."""
    exercise = done(Ask("gauge"), Read(), HandOver("pump"), hidden="g/pump-worn")
    first, last = curve(exercise)
    assert mark(exercise).found == pytest.approx(1.0 - last.bits / first.bits)


def test_enough_to_act_on_is_enough_to_hand_over() -> None:
    """At 90 % with its repair the best next step, as the feedback says where enough was known to act."""
    library = load_texts(
        {
            "g.yaml": GATE.replace(
                "leak: {title: Hose leaks, probability: 0.01", "leak: {title: Hose leaks, probability: 0.004"
            )
        }
    )
    made = replace(scenario(library, "still", 2, 1), hidden=frozenset({"g/leak"}))
    exercise = begin(library, made)
    for event in (Ask("listen"), Ask("look-in")):
        exercise = act(exercise, event)
    assert 0.9 <= exercise.case.units()[0].probability < SURE
    assert best_at(exercise) == ("replace", "g/pump")
    handed = mark(step(exercise, HandOver("pump")).exercise)
    assert (handed.found, handed.short) == (1.0, "")


def _handed_over(whole: Exercise, count: int, suspect: str) -> Exercise:
    """The first steps of a run, then a hand-over that names a suspect."""
    exercise = begin(gate(), whole.scenario, "exam")
    for one in whole.steps[:count]:
        exercise = act(exercise, Ask(one.target) if one.action == "check" else PutRight(one.target))
    return step(exercise, HandOver(suspect)).exercise


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
