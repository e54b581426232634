"""Feedback names what was knowable, what an answer ruled out, and the one habit to work on."""

from __future__ import annotations

from dataclasses import replace

import pytest

from faultree.practice.events import Ask, Event, HandOver, Hint, PutRight, Read, Skip
from faultree.practice.feedback import Feedback, Mistake, feedback
from faultree.practice.mark import mark
from tests.practice.test_mark import done


def said(*events: Event, hidden: str = "g/motor-dead") -> Feedback:
    exercise = done(*events, hidden=hidden)
    return feedback(exercise, mark(exercise))


def test_a_check_that_all_suspects_agree_on_is_named() -> None:
    """Once the motor turns, nobody doubts the motor; the mat never mattered."""
    found = said(Ask("mat"), Ask("listen"), PutRight("motor"))
    assert found.comments[0].mistakes == (Mistake.TOLD_NOTHING,)
    assert "could not change anything" in found.comments[0].sentences[0]
    assert found.habit[0].startswith("A check that could not change anything, once.")


def test_what_an_answer_ruled_out_is_listed_by_title() -> None:
    found = said(Ask("listen"), PutRight("pump"), Read(), PutRight("valve"), Read(), hidden="g/valve-shut")
    assert found.comments[0].excluded == ("g/motor-dead",)
    assert "Ruled out: Motor dead." in found.comments[0].sentences


def test_a_part_replaced_in_vain_is_told_with_what_was_knowable() -> None:
    found = said(PutRight("pump"), Read(), Ask("listen"), PutRight("motor"))
    assert (found.comments[0].replaced_well, found.comments[-1].replaced_well) == (False, True)
    assert found.needless == ("g/pump",)
    assert Mistake.TOO_EARLY in found.comments[0].mistakes
    assert "no fault found" in found.comments[0].sentences[0]


def test_when_enough_was_known_is_the_step_before_which_it_was() -> None:
    found = said(Ask("listen"), Ask("mat"), PutRight("motor"))
    assert found.enough_before == 1
    late = said(Ask("listen"), Ask("gauge"), Read(), Ask("look-in"), Read(), PutRight("motor"))
    assert late.enough_before == 1
    assert Mistake.AFTER_CERTAINTY in late.comments[2].mistakes


def test_a_skipped_caution_comes_first() -> None:
    found = said(Ask("mat"), Ask("gauge"), Skip(), Ask("listen"), PutRight("motor"))
    assert found.habit[0].startswith("A caution that was not read, once.")
    assert "Not read before the step: WARNING “The gate moves; keep hands away”" in found.comments[1].sentences


def test_a_run_without_mistakes_says_so() -> None:
    found = said(Ask("listen"), PutRight("motor"))
    assert [one.mistakes for one in found.comments] == [(), ()]
    assert found.habit == ("No habit to work on in this run: nothing was given away.",)


def test_most_steps_in_vain_are_search_without_a_plan() -> None:
    found = said(
        PutRight("pump"), Read(), PutRight("valve"), Read(), PutRight("leak"), Ask("mat"), Ask("look-in"), HandOver()
    )
    assert found.habit[0].startswith("Most steps gave minutes away")
    assert len(found.habit) == 2


@pytest.mark.parametrize("mistake", Mistake)
def test_every_mistake_has_its_advice(mistake: Mistake) -> None:
    from faultree.practice.feedback import _ADVICE

    assert _ADVICE[mistake].endswith(".")


def test_a_hint_is_no_wrong_decision() -> None:
    """The first step of the best strategy stays that, whoever was asked about it."""
    found = said(Hint(), Hint(), Hint(), Ask("listen"), PutRight("motor"))
    assert [(one.regret, one.hints, one.mistakes) for one in found.comments] == [(0.0, 8.0, ()), (0.0, 0.0, ())]
    assert found.habit == ("No habit to work on in this run: nothing was given away.",)


@pytest.mark.parametrize(("scale", "planless"), [(0.2, False), (0.3, True)])
def test_search_without_a_plan_is_said_where_what_was_given_away_is_a_real_share(scale: float, planless: bool) -> None:
    """A quarter of the minutes that the best strategy expects; a few minutes over many steps are none."""
    exercise = done(PutRight("pump"), Read(), PutRight("valve"), Read(), PutRight("leak"), Ask("mat"), HandOver())
    marked = mark(exercise)
    each = scale * marked.reference / len(marked.decisions)
    decisions = tuple(replace(one, regret=each) for one in marked.decisions)
    habit = feedback(exercise, replace(marked, decisions=decisions)).habit
    assert any("search without a plan" in one for one in habit) == planless


@pytest.mark.parametrize(
    ("events", "words"),
    [
        ((HandOver(),), "Handing over without naming a suspect"),
        ((Ask("listen"), HandOver("pump")), "Handing over another part than the answers point to"),
        ((HandOver("motor"),), "with most still unknown"),
    ],
)
def test_a_hand_over_that_is_short_of_something_is_told_what(events: tuple[Event, ...], words: str) -> None:
    assert words in " ".join(said(*events).habit)
