"""What was named as still possible is held against what the answers left open, by enumeration."""

from __future__ import annotations

from itertools import combinations

import pytest

from faultree.practice.events import Ask, HandOver, Look, Possible, Read
from faultree.practice.exercise import Exercise, begin, step
from faultree.practice.mark import mark
from faultree.practice.recall import OPEN, Recall, recall, still_open
from faultree.practice.scenario import scenario
from faultree.strategy.case import Case
from tests.oracles.brute import Answered, Brute
from tests.practice.small import gate
from tests.practice.test_exercise import after, begun, refused


def named(*units: str, asked: tuple[str, ...] = ("listen",)) -> Recall:
    exercise = begun("g/valve-shut", mode="blind")
    for check in asked:
        exercise = after(exercise, Ask(check))
        exercise = after(exercise, Read()) if exercise.pending else exercise
    (found,) = recall(after(exercise, Possible(",".join(units))))
    return found


@pytest.mark.parametrize("answers", [(), (("listen", "yes"),), (("listen", "no"),), (("look-in", "no"),)])
def test_what_is_to_be_named_is_what_the_enumeration_leaves_open(answers: tuple[tuple[str, str], ...]) -> None:
    """A unit that the evidence makes likelier than its own prior by more than OPEN."""
    library, case = gate(), Case.open(gate(), ["still"])
    for check, answer in answers:
        case = case.answer(check, answer)
    brute = Brute(library, ["g/still"], [Answered(f"g/{check}", answer) for check, answer in answers])
    prior: dict[str, float] = {}
    for cause in library.causes.values():
        unit = cause.item or cause.id
        prior[unit] = prior.get(unit, 0.0) + cause.probability
    assert set(still_open(case)) == {unit for unit, chance in brute.units().items() if chance - prior[unit] > OPEN}


def test_what_was_left_out_and_what_was_excluded_are_told_with_their_reason() -> None:
    """The motor turns: it is out; pump, valve and hose are still possible, the valve was forgotten."""
    found = named("motor", "pump", "leak")
    assert (set(found.right), found.left_out, found.excluded) == ({"g/pump", "g/leak"}, ("g/valve",), ("g/motor",))
    assert found.sentences[0] == "Named 2 of the 3 still possible."
    assert found.sentences[1].startswith("Left out: Valve (")
    assert found.sentences[2].startswith("Named though it could not be any more: Motor. “Motor dead” is excluded by")
    assert "“Listen to the motor” was answered “Yes”" in found.sentences[2]


def test_what_never_had_a_part_in_it_is_told_so() -> None:
    found = named("mat-torn", "pump", "valve", "leak")
    assert (found.left_out, found.excluded) == ((), ("g/mat-torn",))
    assert "has no part in this" in found.sentences[-1]


def test_a_unit_that_is_hardly_possible_is_no_error_to_name() -> None:
    """The valve was seen shut: pump and hose may be bad besides, but need not be named."""
    found = named("valve", "pump", asked=("listen", "look-in"))
    assert (found.right, found.left_out, found.excluded) == (("g/valve",), (), ())


def test_once_the_report_is_known_to_be_wrong_nothing_is_left_to_name() -> None:
    exercise = after(begun(mode="blind", doubt=0.3, there=False), Look(), Possible("pump"))
    (found,) = recall(exercise)
    assert (found.right, found.left_out, found.excluded) == ((), (), ())
    assert "known to be wrong" in found.sentences[0]


def test_naming_again_at_the_same_step_replaces_what_was_named() -> None:
    exercise = after(begun(mode="exam"), Possible("pump"), Possible("valve, pump"), Ask("listen"), Possible(""))
    assert [(one.units, one.after) for one in exercise.named] == [(("g/valve", "g/pump"), 0), ((), 1)]


def test_it_is_no_part_of_a_coached_exercise_and_names_must_be_units() -> None:
    assert refused(begun(), Possible("pump")).startswith("The suspects are on view in this mode")
    assert refused(begun(mode="blind"), Possible("pmp")).startswith("Unknown cause 'pmp'")


def test_it_does_not_enter_the_mark() -> None:
    """Whatever is named, in any combination, the mark is the same."""
    made = scenario(gate(), "still", 1, 3)

    def run(units: tuple[str, ...]) -> Exercise:
        exercise = step(begin(gate(), made, "blind"), Ask("listen")).exercise
        exercise = step(exercise, Possible(",".join(units))).exercise
        return step(exercise, HandOver("pump")).exercise

    names = ("pump", "valve", "motor", "leak")
    marks = {mark(run(chosen)).mark for size in range(5) for chosen in combinations(names, size)}
    assert len(marks) == 1
