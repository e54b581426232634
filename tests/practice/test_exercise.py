"""The course of an exercise: the aircraft answers, cautions come first, nothing that was spent is given back."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.practice.events import Ask, Event, HandOver, Hint, Leave, Look, PutRight, Read, Skip, TakeBack, TimeUp
from faultree.practice.exercise import Exercise, Mode, begin, step
from faultree.practice.scenario import scenario
from tests.practice.small import GATE, gate

RUNNING = """
situations:
  running: {title: Everything switched on, cautions: [moving]}
"""


def begun(*hidden: str, mode: Mode = "coached", doubt: float = 0.0, **more: object) -> Exercise:
    made = replace(scenario(gate(), "still", 1, 1), hidden=frozenset(hidden), doubt=doubt, **more)  # type: ignore[arg-type]
    return begin(gate(), made, mode)


def after(exercise: Exercise, *events: Event) -> Exercise:
    for event in events:
        turn = step(exercise, event)
        assert not turn.refused, turn.refused
        exercise = turn.exercise
    return exercise


def refused(exercise: Exercise, event: Event) -> str:
    turn = step(exercise, event)
    assert turn.exercise is exercise
    return turn.refused


def test_a_check_answers_as_the_hidden_fault_has_it() -> None:
    done = after(begun("g/motor-dead"), Ask("listen"))
    assert (done.steps[0].outcome, done.minutes) == ("no", 2)
    assert done.case.steps[0].answer == "no"  # type: ignore[union-attr]


def test_cautions_stand_before_their_step() -> None:
    waiting = after(begun("g/leak"), Ask("gauge"))
    assert [one.id for one in waiting.on_view] == ["g/moving"]
    assert not waiting.steps
    assert after(waiting, Read()).steps[0].skipped == ()
    assert after(waiting, Skip()).steps[0].skipped == ("g/moving",)
    assert after(waiting, Leave()).pending is None


def test_a_caution_that_was_read_stands_before_the_next_step_again() -> None:
    """In full, and to be acknowledged: who keeps hands away from the gauge may reach for the pump."""
    waiting = after(begun("g/leak"), Ask("gauge"), Read(), PutRight("pump"))
    assert [one.text for one in waiting.on_view] == ["The gate moves; keep hands away"]
    assert len(waiting.steps) == 1
    assert after(waiting, Skip()).steps[1].skipped == ("g/moving",)


def test_a_look_has_the_cautions_of_the_situation_that_it_sets_up() -> None:
    library = load_texts({"g.yaml": GATE.replace("words: [gate", "situation: running, words: [gate") + RUNNING})
    waiting = after(begin(library, scenario(library, "still", 4, 1)), Look())
    assert [one.id for one in waiting.on_view] == ["g/moving"]
    assert after(waiting, Skip()).steps[0].skipped == ("g/moving",)


def test_access_is_paid_once() -> None:
    done = after(begun("g/leak"), Ask("look-in"), Read(), PutRight("valve"))
    assert [one.minutes for one in done.steps] == [15, 23]  # 5 and the lid; then 20 and the operational check


def test_the_right_repair_ends_it() -> None:
    done = after(begun("g/motor-dead"), PutRight("motor"))
    assert (done.ending, done.steps[0].outcome) == ("restored", "gone")
    assert refused(done, Ask("listen")) == "The exercise is over."


def test_of_two_faults_one_repair_is_not_enough() -> None:
    done = after(begun("g/motor-dead", "g/leak"), PutRight("motor"))
    assert (done.ending, done.steps[0].outcome) == (None, "there")
    assert after(done, PutRight("leak")).ending == "restored"


def test_what_cannot_be_is_refused_in_words() -> None:
    done = after(begun("g/leak", closed=frozenset({"g/mat"})), Ask("listen"), PutRight("motor"))
    assert refused(done, Ask("listen")) == "This check has its answer already; asked again it would say the same."
    assert refused(done, PutRight("motor")) == "This was put right already."
    assert refused(done, Ask("mat")) == "This check cannot be made today."
    assert refused(done, Ask("lisen")).startswith("Unknown check 'lisen'")
    assert refused(done, Read()) == "No step waits for its cautions."


def test_a_step_taken_back_is_paid_all_the_same() -> None:
    """Otherwise one could look at every answer for nothing."""
    done = after(begun("g/leak"), Ask("listen"), TakeBack())
    assert (done.minutes, done.case.steps) == (2, ())
    again = after(done, Ask("listen"))
    assert (again.minutes, again.steps[1].outcome) == (4, again.steps[0].outcome)


def test_what_was_put_right_is_not_taken_back() -> None:
    done = after(begun("g/leak"), PutRight("motor"))
    assert refused(done, TakeBack()) == "What was put right stays so; only an answer can be taken back."
    assert refused(begun("g/leak"), TakeBack()) == "There is no answer to take back yet."


def test_an_exam_gives_no_help() -> None:
    exam = after(begun("g/leak", mode="exam"), Ask("listen"))
    assert refused(exam, TakeBack()) == "In an exam nothing is taken back."
    assert refused(exam, Hint()) == "There are no hints in this mode."


def test_hints_go_with_the_step_they_helped() -> None:
    done = after(begun("g/leak"), Hint(), Hint(), Ask("listen"), Ask("mat"))
    assert [one.hints for one in done.steps] == [2, 0]


def test_a_wrong_report_is_seen_by_looking() -> None:
    looked = after(begun(doubt=0.3, there=False), Look())
    assert (looked.looked, looked.minutes) == (False, 3)
    assert after(looked, HandOver()).ending == "handed over"


def test_answers_that_the_report_does_not_allow_show_that_it_is_wrong() -> None:
    """Motor, valve and pump are seen to be good by checks that never err; only a wrong report is left."""
    exercise = begun(doubt=0.3, there=False)
    done = after(exercise, Ask("listen"), Ask("look-in"), Read(), PutRight("leak"))
    assert done.steps[-1].outcome == "gone"


def test_time_can_run_out() -> None:
    assert after(begun("g/leak"), TimeUp()).ending == "out of time"


def test_an_exercise_of_another_library_is_refused() -> None:
    made = replace(scenario(gate(), "still", 1, 1), library="other")
    with pytest.raises(CaseError, match="another version of the tree files"):
        begin(gate(), made)


def test_taking_back_leaves_a_step_that_waits_for_its_cautions() -> None:
    """Nothing was done yet, so nothing else is taken back."""
    waiting = after(begun("g/leak"), Ask("listen"), Ask("gauge"))
    left = after(waiting, TakeBack())
    assert left.pending is None
    assert left.done == {"g/listen"}


def test_contradicting_answers_show_that_the_report_is_wrong() -> None:
    """Checks that never err rule every suspect out: then what was reported is not there, and that is known."""
    library = load_texts({"g.yaml": GATE.replace(", false_yes: 0.1, false_no: 0.05", "")})
    made = replace(scenario(library, "still", 4, 1), hidden=frozenset[str](), there=False)
    done = after(begin(library, made), Ask("listen"), Ask("look-in"), Read(), Ask("gauge"), Read())
    assert (done.looked, done.ending) == (False, None)
    assert len(done.case.steps) == 2


def test_work_beyond_its_limit_ends_once_the_step_is_done() -> None:
    done = after(begun("g/leak", limit=3.0), Ask("listen"), Look())
    assert (done.minutes, done.ending) == (5, "out of time")
    assert refused(done, Ask("mat")) == "The exercise is over."
