"""The suspects as lines: what is shown, what is counted, and what the last step did to them."""

from __future__ import annotations

import pytest

from faultree.strategy.case import Case
from faultree.walk import events as ev
from faultree.walk import suspects
from tests.trees.demonstration import library
from tests.walk.small import asked, walked


def test_the_lines_are_those_of_the_ranking() -> None:
    """Likeliest first, with the titles of cause and item, the engine's numbers untouched."""
    case = walked().open_case
    shown = suspects.suspects(case)
    ranking = [one for one in case.ranking() if one.implicated]
    assert [(line.cause, line.probability) for line in shown.lines] == [
        (one.cause, one.probability) for one in ranking[: len(shown.lines)]
    ]
    assert shown.lines[0].title == "signal lamp broken"
    assert (shown.lines[0].item, shown.lines[0].place) == ("signal lamp", "left panel")
    assert shown.change is None


def test_faint_suspects_are_counted_and_not_listed() -> None:
    """The welded relay is below half a percent; how many such there are is said with their upper limit."""
    shown = suspects.suspects(walked().open_case)
    assert all(line.probability >= suspects.FAINT for line in shown.lines)
    assert shown.more == 1
    assert 0 < shown.at_most < suspects.FAINT
    assert len(suspects.everyone(walked().open_case).lines) == len(shown.lines) + 1


def test_every_line_says_what_it_was_before_the_last_answer() -> None:
    """The numbers before are those of the case without its last step."""
    case = walked(*asked("click", "silence")).open_case
    earlier = {one.cause: one.probability for one in case.undo().ranking()}
    for line in suspects.suspects(case).lines:
        assert line.before == pytest.approx(earlier[line.cause])


def test_the_change_names_who_is_excluded() -> None:
    """No voltage at the lamp clears nobody for sure, but voltage clears everything before the lamp."""
    change = suspects.suspects(walked(*asked("voltage", "yes")).open_case).change
    assert change is not None
    assert (change.title, change.outcome) == ("measure the voltage at the lamp: Is there voltage at the lamp?", "Yes")
    assert set(change.excluded) == {"signal fuse blown", "signal relay stuck open", "signal wire broken"}
    assert change.moved


def test_cannot_tell_changes_no_suspect_and_says_so() -> None:
    """The step is named all the same."""
    change = suspects.suspects(walked(ev.TakeUp("click"), ev.CannotTell()).open_case).change
    assert change is not None
    assert change.outcome == "cannot tell"
    assert not change.moved
    assert change.excluded == ()


def test_a_replaced_item_is_not_named_as_excluded() -> None:
    """It goes without saying that a new part is no suspect."""
    change = suspects.suspects(walked(ev.Replace("fuse"), ev.Acknowledge(), ev.Retest(gone=False)).open_case).change
    assert change is not None
    assert change.title == "Put right: signal fuse"
    assert "signal fuse blown" not in change.excluded


def test_faults_that_only_explain_together_are_named_together() -> None:
    """Both reported bad: no single fault explains it."""
    from faultree.strategy.case import Case
    from tests.walk.small import small

    (pair,) = suspects.together(Case.open(small(), ["doubly-bad"]))
    assert set(pair.titles) == {"signal lamp broken", "signal relay stuck open"}
    assert pair.probability > 0.9
    assert suspects.together(walked().open_case) == ()


def test_what_is_faulty_only_by_coincidence_gets_no_line_at_the_end() -> None:
    """The reported light makes two causes likelier; below them nothing is listed that it never pointed to."""
    case = Case.open(library(), ["air-ground/disagree-light-on"])
    shown = suspects.suspects(case)
    ranking = {one.cause: one for one in case.ranking()}
    last = ranking[shown.lines[-1].cause]
    assert last.probability - last.prior >= suspects.FAINT
    left_out = [one for one in ranking.values() if one.cause not in {line.cause for line in shown.lines}]
    coincidences = [one for one in left_out if one.implicated and one.probability >= suspects.FAINT]
    assert coincidences
    assert all(one.probability - one.prior < suspects.FAINT for one in coincidences)


def test_a_suspect_that_an_answer_sank_to_where_it_was_keeps_its_line() -> None:
    """The report pointed to both ground relays; after both lamps light they are seen to have fallen."""
    case = Case.open(library(), ["air-ground/disagree-light-on"])
    lit = case.answer("air-ground/ground-test-lamps-parked", "both")
    fallen = {"air-ground/ground-relay-1-open", "air-ground/ground-relay-2-open"}
    assert fallen <= {line.cause for line in suspects.suspects(lit).lines}


def test_an_answer_against_the_report_is_not_passed_over() -> None:
    """That the light was off, where it is reported on, moves no suspect; it only may be forgotten once in twenty."""
    case = Case.open(library(), ["air-ground/disagree-light-on"])
    denied = suspects.suspects(case.answer("disagree-light-taxi", "no")).change
    assert denied is not None
    assert not denied.moved
    assert denied.unlikely == pytest.approx(0.05, abs=0.005)
    agreed = suspects.suspects(case.answer("disagree-light-taxi", "yes")).change
    assert agreed is not None
    assert agreed.unlikely == 1.0
