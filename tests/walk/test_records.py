"""What is recorded beside the answers changes no figure, and says what it means."""

from __future__ import annotations

import pytest

from faultree.library.load import load_texts
from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.machine import start, step
from faultree.walk.prompt import EndPrompt, ListPrompt, NoticePrompt, StepPrompt
from faultree.walk.state import CheckStep, Explained, Reason, Refused, RepairStep, Told, Walk
from faultree.walk.table import Phase
from faultree.walk.today import Lack
from faultree.walk.view import prompt
from tests.walk.small import SIGNAL, asked, small, walked

METER = ev.NotToday("tool", "multimeter")
PANEL = ev.NotToday("access", "signal/panel")


def _said(walk: Walk, event: ev.Event) -> str:
    (said,) = step(walk, event).said
    return said.text if isinstance(said, Refused | Told) else " ".join(said.sentences)


# --- not today ---------------------------------------------------------------------------------


@pytest.mark.parametrize("back", [ev.Available(), ev.Available("check", "signal/click")])
def test_what_is_there_again_is_proposed_again(back: ev.Event) -> None:
    """The step that was only second best gives way to the one that it stood in for."""
    first = walked().pending
    assert first == CheckStep("signal/click")
    other = walked(ev.NotToday("check", "signal/click"))
    assert other.pending != first
    assert step(other, back).walk.pending == first
    listed = step(step(other, ev.ShowAll()).walk, back).walk
    assert (listed.phase, step(listed, ev.Back()).walk.pending) == (Phase.LIST, first)


def test_a_step_of_ones_own_choice_stays() -> None:
    """Whoever chose to measure goes on measuring, whatever has come back meanwhile."""
    chosen = walked(ev.NotToday("check", "signal/click"), ev.TakeUp("voltage"))
    assert step(chosen, ev.Available()).walk.pending == CheckStep("signal/voltage")


def test_a_step_that_has_to_wait_makes_room_for_the_next_best() -> None:
    """The tool of the check on view is missing: another step is proposed, and the screen says what is left out."""
    walk = walked(ev.TakeUp("voltage"), METER)
    assert walk.pending == walked().pending
    assert walk.phase is Phase.CHECK
    shown = prompt(walk)
    assert isinstance(shown, StepPrompt)
    assert shown.left_out == ("multimeter",)
    assert not [one for one in shown.choices if one.event == ev.TakeUp("signal/voltage")]


def test_a_step_that_need_not_wait_stays_on_view() -> None:
    """Only the choices beside it change."""
    before = walked(ev.TakeUp("click"))
    after = step(before, METER).walk
    assert (after.pending, after.phase) == (before.pending, before.phase)
    assert (
        _said(before, METER)
        == "Not today: multimeter. Left out until you type 'available': measure the voltage at the lamp."
    )


def test_what_was_left_out_can_be_taken_back() -> None:
    """By name or all at once; then everything is as it was."""
    walk = walked(METER, PANEL, ev.NotToday("check", "signal/click"))
    assert walk.lacks == (Lack("tool", "multimeter"), Lack("access", "signal/panel"), Lack("check", "signal/click"))
    one = step(walk, ev.Available("tool", "multimeter"))
    assert one.walk.lacks == walk.lacks[1:]
    assert step(walk, ev.Available()).walk.lacks == ()
    assert "Available again: take the left panel off and the check “listen to the relay”." in str(
        step(one.walk, ev.Available()).said
    )


@pytest.mark.parametrize(
    ("before", "event", "words"),
    [
        ((METER,), METER, "is left out already"),
        ((), ev.Available(), "Nothing is left out today"),
        ((METER,), ev.Available("tool", "torch"), "'torch' is not left out today"),
        ((), ev.NotToday("tool", "torch"), "nknown tool 'torch'"),
        ((), ev.SeenAgain(), "'can't duplicate' would"),
        ((ev.CannotDuplicate(),), ev.CannotDuplicate(), "recorded already"),
        ((ev.Finish(),), ev.Closed(), "Nothing is left open in this case"),
    ],
)
def test_what_makes_no_sense_is_refused_in_words(before: tuple[ev.Event, ...], event: ev.Event, words: str) -> None:
    """And changes nothing."""
    walk = walked(*before)
    assert words in _said(walk, event)
    assert step(walk, event).walk == walk


def test_an_ending_without_a_check_says_what_waits_and_is_taken_back_with_it() -> None:
    """Every telling check is left out: that is no end of the search, only of today's."""
    events = [ev.NotToday("check", f"signal/{name}") for name in ("voltage", "supply-seen", "click", "bench")]
    walk = walked(
        *events, *(ev.NotToday("unit", f"signal/{name}") for name in ("lamp", "fuse", "relay", "wire-broken"))
    )
    assert walk.reason is Reason.NOTHING_LEFT
    shown = prompt(walk)
    assert isinstance(shown, EndPrompt)
    assert shown.waits
    back = step(walk, ev.Available("check", "signal/click")).walk
    assert back.pending == CheckStep("signal/click")


def test_an_item_stands_out_though_it_cannot_be_put_right_today() -> None:
    """What is wrong does not depend on the stores; the choice says that it has to wait."""
    walk = walked(*asked("supply-seen", "no"), ev.NotToday("unit", "signal/fuse"))
    assert walk.reason is Reason.STANDS_OUT
    shown = prompt(walk)
    assert isinstance(shown, EndPrompt)
    assert [(one.event, one.waits) for one in shown.choices if one.kind == "replace"] == [
        (ev.Replace("signal/fuse"), True)
    ]
    listed = prompt(step(walk, ev.ShowAll()).walk)
    assert {one.event: one.waits for one in listed.choices if one.kind == "replace"}[ev.Replace("signal/fuse")]


@pytest.mark.parametrize("answer", ["silence", "click"])
def test_no_unlikely_part_is_proposed_in_place_of_a_likely_one_that_waits(answer: str) -> None:
    """A check, or the end for today, but never a repair on the off chance."""
    walk = walked(*asked("click", answer))
    for unit in walk.open_case.units():
        turn = step(walk, ev.NotToday("unit", unit.unit))
        walk = turn.walk
        if isinstance(walk.pending, RepairStep):
            order = [one.unit for one in walk.open_case.units()]
            assert not {lack.name for lack in walk.lacks} & set(order[: order.index(walk.pending.unit)])


def test_a_step_that_waits_can_be_taken_up_all_the_same() -> None:
    """The person knows best; the screen repeats what was said to be missing."""
    shown = prompt(walked(METER, ev.TakeUp("voltage")))
    assert isinstance(shown, StepPrompt)
    assert shown.step.missing == ("multimeter",)


def test_the_list_offers_to_take_back_what_is_left_out() -> None:
    """With the number of steps that wait for it."""
    shown = prompt(walked(PANEL, ev.ShowAll()))
    assert isinstance(shown, ListPrompt)
    last = shown.choices[-1]
    assert (last.kind, last.event, last.detail) == (
        "available",
        ev.Available("access", "signal/panel"),
        "2 steps wait for it",
    )


def test_undo_takes_back_answers_and_not_what_is_missing() -> None:
    """A tool does not come back because an answer is taken back."""
    walk = walked(METER, *asked("click", "click"), ev.Undo())
    assert walk.lacks == (Lack("tool", "multimeter"),)


# --- cannot duplicate --------------------------------------------------------------------------


def test_cannot_duplicate_changes_no_figure() -> None:
    """Neither the ranking nor the advice: it is no evidence."""
    before = walked(*asked("supply-seen", "yes"))
    after = step(before, ev.CannotDuplicate()).walk
    assert after.open_case == before.open_case
    assert after.open_case.ranking() == before.open_case.ranking()
    assert (after.phase, after.pending) == (before.phase, before.pending)
    assert after.unseen


def test_cannot_duplicate_says_what_it_does_and_does_not_change() -> None:
    """That the report stands, what it weakens, and what to do next, in the reported situation."""
    turn = step(walked(), ev.CannotDuplicate())
    (said,) = turn.said
    assert isinstance(said, Explained)
    text = " ".join(said.sentences)
    for words in (
        "It changes no figure and clears nothing.",
        "The report stands as it was made",
        "how far a good reading can be trusted",
        "set up the same again (power on and the button pressed)",
        "not the same as no fault found",
    ):
        assert words in text


def test_a_report_that_may_be_mistaken_was_doubted_from_the_beginning() -> None:
    """`false_report` is in the figures already; that the symptom is away does not count twice."""
    doubted = load_texts({"signal.yaml": SIGNAL.replace("    retest: 5\n", "    retest: 5\n    false_report: 0.02\n")})
    walk = step(step(start(doubted), ev.Begin(("dark",))).walk, ev.Acknowledge()).walk
    turn = step(walk, ev.CannotDuplicate())
    assert "(2.0 % for “the signal lamp stays dark”)" in str(turn.said)
    assert turn.walk.open_case.ranking() == walk.open_case.ranking()


def test_after_a_repair_it_may_be_untold_whether_the_symptom_is_gone() -> None:
    """Where it was away before, its being away proves nothing: the unit is good, the others stay as likely."""
    walk = walked(ev.CannotDuplicate(), ev.Replace("fuse"), ev.Acknowledge())
    shown = prompt(walk)
    assert isinstance(shown, StepPrompt)
    assert shown.step.unseen  # type: ignore[union-attr]
    after = step(walk, ev.CannotTell()).walk
    assert after.open_case.steps[-1] == ("signal/fuse", None)
    assert after.reason is None
    before = {one.cause: one.probability for one in walk.open_case.ranking()}
    now = {one.cause: one.probability for one in after.open_case.ranking()}
    assert now.pop("signal/fuse-blown") == 0.0
    assert now == pytest.approx({cause: p for cause, p in before.items() if cause != "signal/fuse-blown"})


def test_the_last_sighting_counts() -> None:
    """Seen again, and away again: each is kept with its place among the steps."""
    walk = walked(ev.CannotDuplicate(), *asked("click", "click"), ev.SeenAgain())
    assert [(one.after, one.seen) for one in walk.sightings] == [(0, False), (1, True)]
    assert not walk.unseen
    assert step(walk, ev.CannotDuplicate()).walk.unseen


# --- closed again ------------------------------------------------------------------------------


def test_what_was_closed_is_recorded_once() -> None:
    """One thing by name, or all that is left."""
    walk = walked(*asked("voltage", "no"), ev.Finish())
    turn = step(walk, ev.Closed("access", "signal/panel"))
    assert "Recorded as done: undo what was done here: take the left panel off." in str(turn.said)
    assert "Nothing is left open" in _said(turn.walk, ev.Closed())
    assert step(walk, ev.Closed()).walk.undone == turn.walk.undone


def test_history_is_told_and_changes_nothing() -> None:
    """Each suspect in a sentence, the steps by number, the ones that moved nobody named."""
    walk = walked(*asked("click", "silence"), ev.TakeUp("voltage"), ev.Acknowledge(), ev.CannotTell())
    turn = step(walk, ev.AskHistory())
    assert turn.walk is walk
    (said,) = turn.said
    assert isinstance(said, Explained)
    assert said.sentences[0] == "Step 1: listen to the relay: What do you hear? Nothing."
    assert said.sentences[-1] == "Step 2 moved none of them."


# --- who is at the aircraft --------------------------------------------------------------------


def test_whose_checks_are_proposed_can_be_changed_at_any_time() -> None:
    """The step on view gives way where it is for others, and the screen says what it is limited to."""
    walk = walked(*asked("click", "silence"), ev.TakeUp("bench"))
    turn = step(walk, ev.By(("line",)))
    assert turn.said == (Told("Only checks by the line are proposed."),)
    assert turn.walk.by == ("line",)
    shown = prompt(turn.walk)
    assert isinstance(shown, StepPrompt)
    assert shown.only == "only checks by the line are proposed"
    assert isinstance(turn.walk.pending, CheckStep)
    assert small().checks[turn.walk.pending.check].by == "line"
    back = step(turn.walk, ev.By())
    assert (back.walk.by, back.said) == (None, (Told("Checks by anyone again."),))


def test_a_step_that_they_can_make_stays_on_view() -> None:
    before = walked(ev.TakeUp("voltage"))
    after = step(before, ev.By(("shop", "line"))).walk
    assert (after.pending, after.phase, after.by) == (before.pending, before.phase, ("line", "shop"))


def test_a_repair_gives_way_to_the_crews_checks() -> None:
    """A crew puts nothing right."""
    after = step(walked(ev.Replace("fuse"), ev.Acknowledge()), ev.By(("crew",))).walk
    assert after.pending == CheckStep("signal/click")


def test_everyone_is_no_limit_and_the_same_again_is_said() -> None:
    assert step(walked(by=("crew",)), ev.By(("crew", "line", "shop"))).walk.by is None
    assert "That is so already: checks by anyone are proposed." in _said(walked(), ev.By())
    assert "That is so already: only checks by the crew" in _said(walked(by=("crew",)), ev.By(("crew",)))
    assert "'pilot' is none of crew, line, shop and anyone" in _said(walked(), ev.By(("pilot",)))


def test_an_end_of_some_peoples_checks_says_that_others_could_tell_more() -> None:
    """And opens again where these others are there; the list and the hand-over say the same."""
    walk = walked(ev.TakeUp("click"), ev.CannotTell(), by=("crew",))
    shown = prompt(walk)
    assert walk.reason is Reason.NOTHING_LEFT
    assert isinstance(shown, EndPrompt)
    assert shown.others_tell == "the crew"
    assert "Only checks by the crew are proposed" in shown.handover
    assert step(walk, ev.By()).walk.phase is not Phase.OVER
    listed = prompt(step(walk, ev.ShowAll()).walk)
    assert isinstance(listed, ListPrompt)
    assert listed.only == "only checks by the crew are proposed"


def test_what_stands_out_only_for_want_of_checks_says_so() -> None:
    """Likely enough where the crew can tell no more; a mechanic would make one more check."""
    shown = prompt(walked(*asked("click", "click"), by=("crew",)))
    assert isinstance(shown, EndPrompt)
    assert (shown.reason, shown.others_tell) == (Reason.STANDS_OUT, "the crew")
    sure = prompt(walked(*asked("click", "click"), *asked("voltage", "yes"), by=("crew",)))
    assert isinstance(sure, EndPrompt)
    assert (sure.reason, sure.others_tell) == (Reason.STANDS_OUT, "")


def test_who_was_there_is_kept_with_the_case_and_who_is_there_now_goes_before() -> None:
    """Whoever takes it up reads it at the notice."""
    data = saved.pack(walked(*asked("click", "silence"), by=("line",)))
    assert data["walk"]["by"] == ["line"]  # type: ignore[index]
    taken = step(start(small()), ev.Resume(data)).walk
    assert (taken.by, taken.unsaved) == (("line",), False)
    shown = prompt(taken)
    assert isinstance(shown, NoticePrompt)
    assert shown.records[0].startswith("Only checks by the line are proposed. Type by and who is there")
    now = step(start(small(), ("shop",)), ev.Resume(data)).walk
    assert (now.by, now.unsaved) == (("shop",), False)


@pytest.mark.parametrize("by", ["line", ["pilot"], [1]])
def test_a_saved_case_with_somebody_else_is_refused(by: object) -> None:
    data = {**saved.pack(walked()), "walk": {"by": by}}
    (said,) = step(start(small()), ev.Resume(data)).said
    assert isinstance(said, Refused)
