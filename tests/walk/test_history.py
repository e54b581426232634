"""How each suspect moved is what the case itself said after each step."""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from faultree.walk import events as ev
from faultree.walk import history
from faultree.walk.suspects import NOTABLE
from tests.trees.demonstration import library
from tests.walk.small import DARK, asked, small, walked

STEPS = (*asked("click", "silence"), *asked("supply-seen", "yes"), ev.Replace("relay"), ev.Acknowledge())


def test_a_course_holds_the_probability_after_each_step() -> None:
    """The same as ranking the case at each moment."""
    case = walked(*STEPS, ev.Retest(gone=False)).open_case
    moments = [Case.open(small(), [DARK])]
    moments.append(moments[-1].answer("click", "silence"))
    moments.append(moments[-1].answer("supply-seen", "yes"))
    moments.append(moments[-1].repair("relay"))
    for course in history.courses(case):
        by_moment = [{one.cause: one.probability for one in moment.ranking()}[course.cause] for moment in moments]
        assert course.values == pytest.approx(by_moment, abs=1e-12)


def test_every_suspect_that_was_notable_once_is_told() -> None:
    """Also one that is excluded by now; one that never was is not."""
    case = walked(*STEPS, ev.Retest(gone=False)).open_case
    told = {one.cause: max(one.values) for one in history.courses(case)}
    assert all(most >= NOTABLE for most in told.values())
    assert "signal/relay-open" in told
    assert "signal/relay-closed" not in told


def test_a_course_in_words_names_the_step_that_moved_it() -> None:
    """Up, down, excluded, put right: each with the number of its step, which the list of steps explains."""
    case = walked(*asked("voltage", "yes"), ev.Replace("lamp"), ev.Acknowledge()).open_case
    lines = history.told(case)
    assert lines[0] == "signal lamp broken: 48 % by the report, up to 100 % by step 1"
    assert "signal fuse blown: 24 % by the report, excluded by step 1" in lines
    assert history.numbered(case) == ("Step 1: measure the voltage at the lamp: Is there voltage at the lamp? Yes",)
    later = walked(*STEPS, ev.Retest(gone=False)).open_case
    assert any(
        line.startswith("signal relay stuck open:") and "put right in step 3" in line for line in history.told(later)
    )


def test_steps_that_moved_nobody_are_named() -> None:
    """What could not be told, and an answer that had no bearing."""
    assert history.idle_steps(walked().open_case) == ""
    two = walked(ev.TakeUp("click"), ev.CannotTell(), *asked("weather", "no")).open_case
    assert history.idle_steps(two) == "Steps 1 and 2 moved none of them"


def test_a_long_history_is_cut_and_says_so() -> None:
    """At most eight suspects are told; the others that were notable are counted."""
    case = Case.open(library(), ["spoilers/stay-down"])
    found = history.courses(case)
    lines = history.told(case)
    assert len(lines) <= history.MOST + 1
    assert (len(found) > history.MOST) == lines[-1].startswith("and ")
