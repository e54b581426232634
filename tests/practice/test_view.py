"""What a trainee is shown: options with what they take now, computed hints, the result and its summary."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from faultree.library.load import load_texts
from faultree.practice.events import Ask, HandOver, Hint, Look, Possible, PutRight, Read, TakeBack
from faultree.practice.exercise import Exercise, begin
from faultree.practice.scenario import scenario
from faultree.practice.view import (
    check_options,
    hint,
    named_units,
    result,
    summary,
    suspects,
    suspects_left,
    told,
    unit_options,
)
from faultree.walk.prompt import SHORT_NOTICE
from tests.practice.small import GATE
from tests.practice.test_exercise import after, begun


def test_an_option_costs_what_it_takes_now() -> None:
    """The lid is opened once; a repair takes the operational check besides."""
    exercise = begun("g/motor-dead")
    assert {one.target: one.minutes for one in unit_options(exercise)}["g/valve"] == 20 + 10 + 3
    opened = after(exercise, Ask("look-in"), Read())
    assert {one.target: one.minutes for one in unit_options(opened)}["g/valve"] == 20 + 3


def test_options_say_who_and_whether_cautions_apply() -> None:
    found = {one.target: (one.by, one.cautions) for one in check_options(begun())}
    assert found["g/listen"] == ("crew", False)
    assert found["g/gauge"] == ("line", True)


def test_what_is_done_or_closed_is_no_option() -> None:
    exercise = after(begun("g/motor-dead", "g/leak", closed=frozenset({"g/mat"})), Ask("listen"), PutRight("motor"))
    assert {one.target for one in check_options(exercise)} == {"g/gauge", "g/look-in"}
    assert "g/motor" not in {one.target for one in unit_options(exercise)}


@pytest.mark.parametrize(("words", "found"), [("g", 4), ("gauge", 1), ("look", 2), ("wombat", 0), ("", 4)])
def test_options_can_be_chosen_by_system_or_words(words: str, found: int) -> None:
    assert len(check_options(begun(), words)) == found


def test_a_part_is_found_by_the_title_of_its_cause() -> None:
    assert [one.target for one in named_units(begun(), "pump dry")] == ["g/pump"]
    assert [one.target for one in named_units(begun(), "motor")] == ["g/motor"]
    assert not named_units(begun(), "wombat")


def test_hints_say_more_each_time_and_only_what_is_knowable() -> None:
    exercise = begun("g/leak")
    assert hint(exercise) == ""
    said = [hint(after(exercise, *[Hint()] * count)) for count in (1, 2, 3, 4)]
    assert said[0].startswith("A check would tell more first; look among those of: Gate of a fictional pond. ")
    assert said[1] == f"Best next: Listen to the motor. (Hints at this step count 5 min in the mark.) {SHORT_NOTICE}"
    assert all(one.endswith(SHORT_NOTICE) for one in said)
    assert said[2].startswith("Best next: Listen to the motor. ")
    assert said[3] == said[2]
    other = begun("g/motor-dead")
    assert [hint(after(other, *[Hint()] * count)) for count in (1, 2, 3)] == said[:3]


def test_hints_know_repairs_doubtful_reports_and_the_end() -> None:
    sure = after(begun("g/motor-dead"), Ask("listen"))
    assert hint(after(sure, Hint())).startswith("Enough is known to put something right now. (Hints at this step count")
    assert "It is at fault with" in hint(after(sure, Hint(), Hint(), Hint()))
    doubtful = begun(doubt=0.3, there=False)
    assert "repeat the operational check first" in hint(after(doubtful, Hint()))
    said = hint(after(doubtful, Look(), Hint()))
    assert "That clears nothing: the report stands. Hand over without a suspect" in said


def test_suspects_allow_for_the_chance_that_the_report_is_wrong() -> None:
    """By hand: at the start 0.7 of each, and 0.3 of none of them; after a look all of each."""
    sure, unsure = begun("g/leak"), begun("g/leak", doubt=0.3)
    first, doubted = suspects(unsure)
    assert doubted == 0.3
    plain, none = suspects(sure)
    assert none == 0.0
    assert [one.probability for one in first.lines] == pytest.approx([0.7 * one.probability for one in plain.lines])
    assert suspects(after(unsure, Look()))[1] == 0.0
    assert len(suspects(sure, everyone=True)[0].lines) >= len(plain.lines)


def test_told_says_what_was_taken_back_so_that_its_minutes_add_up() -> None:
    from faultree.practice.events import TakeBack

    exercise = after(begun("g/motor-dead"), Ask("listen"), TakeBack(), Ask("mat"))
    steps = told(exercise)
    assert [one.note for one in steps] == ["Taken back; its minutes are spent.", ""]
    assert sum(one.minutes for one in steps) == exercise.minutes


def test_what_is_left_on_the_aircraft_is_told_where_the_symptom_is_gone() -> None:
    """Of two faults one was enough to put right: the other one is still there."""
    done = after(begun("g/motor-dead", "g/mat-torn"), PutRight("motor"))
    assert result(done).left == ("g/mat-torn",)
    assert result(after(begun("g/motor-dead"), PutRight("motor"))).left == ()


def test_a_wrong_answer_of_the_aircraft_is_told_at_the_end_and_not_before() -> None:
    """The gauge errs; on the seed here it says that there is pressure, and there is none."""
    exercise = next(one for seed in range(200) if (one := _gauge_read(seed)).steps[0].outcome == "yes")
    assert told(exercise)[0].note == ""
    done = after(exercise, HandOver())
    assert told(done)[0].note.startswith("This answer was wrong: “No” is true on this aircraft.")
    assert "in 10 % of cases" in told(done)[0].note
    assert told(done)[0].note in result(done).feedback.comments[0].sentences


def _gauge_read(seed: int) -> Exercise:
    return after(begun("g/leak", seed=seed), Ask("gauge"), Read())


def test_suspects_are_those_that_the_evidence_points_to() -> None:
    exercise = after(begun("g/motor-dead"), Ask("listen"))
    assert suspects_left(exercise)[0] == "Motor dead"
    assert "Door mat torn" not in suspects_left(exercise)


def test_a_summary_is_plain_data_and_counts_what_was_named() -> None:
    done = after(begun("g/leak", mode="exam"), Ask("listen"), Possible("motor,pump"), HandOver("pump"))
    found = summary(done, result(done))
    assert json.loads(json.dumps(found)) == found
    assert (found["named"], found["left_out"], found["named_excluded"]) == (1, 2, 1)
    assert (found["ending"], found["hidden"], found["minutes"]) == ("handed over", ["g/leak"], 2)


def test_a_result_holds_both_ways() -> None:
    done = after(begun("g/motor-dead"), Ask("mat"), Ask("listen"), PutRight("motor"))
    found = result(done)
    assert (found.minutes, found.reference_minutes) == (36, 35)
    assert (found.curve[-1].minutes, found.reference_curve[-1].minutes) == (36, 35)
    assert [one.title for one in found.reference_steps] == ["Listen to the motor", "Put right: Motor"]


def test_access_that_is_open_stays_open_when_an_answer_is_taken_back() -> None:
    """The list says what the step would be charged: the lid was lifted, whatever became of the answer."""
    exercise = after(begun("g/motor-dead"), Ask("look-in"), Read(), TakeBack())
    assert {one.target: one.minutes for one in unit_options(exercise)}["g/valve"] == 20 + 3


def test_a_short_answer_stands_behind_the_question_that_it_answers() -> None:
    """While the run goes on, in its feedback, and on the way of the best strategy; a bare No can mean either."""
    text = GATE.replace("title: Listen to the motor,", 'title: Listen whether the motor hums, ask: "Is it silent?",')
    library = load_texts({"g.yaml": text})
    made = replace(scenario(library, "still", 1, 1), hidden=frozenset({"g/motor-dead"}))
    exercise = after(begin(library, made), Ask("listen"))
    asked = "Listen whether the motor hums: Is it silent?"
    assert (told(exercise)[0].title, told(exercise)[0].outcome) == (asked, "No")
    found = result(after(exercise, PutRight("motor")))
    assert found.feedback.comments[0].title == asked
    assert found.reference_steps[0].title == asked
