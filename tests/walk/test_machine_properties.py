"""Whatever is thrown at the machine, it keeps its promises."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from faultree.walk import events as ev
from faultree.walk import saved
from faultree.walk.machine import start, step
from faultree.walk.state import Refused, Walk
from faultree.walk.table import TRANSITIONS, Phase
from faultree.walk.view import event_of, prompt
from tests.walk.small import DARK, small

NAMES = st.sampled_from(
    [*small().checks, *small().items, *small().causes, "voltage", "lamp", "", "no such thing", "\x00[/b]"]
)
TOOLS = st.sampled_from(["multimeter", "signal/panel", "torch"])
EVENTS: st.SearchStrategy[ev.Event] = st.one_of(
    st.sampled_from(
        [ev.Acknowledge(), ev.CannotTell(), ev.Undo(), ev.ShowAll(), ev.Back(), ev.Finish(), ev.CarryOn(), ev.Save("x")]
    ),
    st.sampled_from([ev.Begin((DARK,)), ev.Begin(("doubly-bad",)), ev.Begin(()), ev.Resume({"case": 2})]),
    st.sampled_from([(DARK,), ("button-lamp",), ("doubly-bad", "dark"), (), ("no such thing",)]).map(ev.Also),
    st.sampled_from([(), ("crew",), ("line", "shop"), ("crew", "line", "shop"), ("?",)]).map(ev.By),
    st.sampled_from(["yes", "no", "silence", "click", "?"]).map(ev.AnswerCheck),
    st.booleans().map(ev.Retest),
    st.builds(ev.TakeUp, NAMES),
    st.builds(ev.Replace, NAMES),
    st.builds(ev.LookAgain, NAMES),
    st.builds(ev.AskWhy, NAMES),
    st.builds(ev.Note, st.text(max_size=8)),
    st.sampled_from([ev.CannotDuplicate(), ev.SeenAgain(), ev.AskHistory(), ev.Available(), ev.Closed()]),
    st.builds(ev.NotToday, st.sampled_from(["tool", "access", "check", "unit", "?"]), st.one_of(NAMES, TOOLS)),
    st.builds(ev.Available, st.sampled_from(["tool", "access", "check", "unit"]), st.one_of(NAMES, TOOLS)),
    st.builds(ev.Closed, st.sampled_from(["access", "caution"]), st.sampled_from(["signal/panel", "signal/edges"])),
    st.integers(1, 9).map(lambda number: ev.Note(f"#{number}")),  # stands for a numbered choice, see _taken
)


def _taken(walk: Walk, event: ev.Event) -> ev.Event:
    """The event itself, or in the place of a note "#n" what the n-th choice on view stands for."""
    if isinstance(event, ev.Note) and event.text.startswith("#") and event.text[1:].isascii():
        return event_of(prompt(walk), int(event.text[1:] or 0) if event.text[1:].isdecimal() else 0) or event
    return event


@given(st.lists(EVENTS, max_size=14))
def test_no_sequence_of_events_raises_or_leaves_the_table(events: list[ev.Event]) -> None:
    """Every event gives a state with a prompt, in a phase that the table allows; a refusal changes nothing."""
    walk = step(step(start(small()), ev.Begin((DARK,))).walk, ev.Acknowledge()).walk
    for event in events:
        taken = _taken(walk, event)
        turn = step(walk, taken)
        if any(isinstance(said, Refused) for said in turn.said):
            assert turn.walk == walk
        else:
            assert turn.walk.phase in TRANSITIONS[walk.phase][type(taken)]
        shown = prompt(turn.walk)
        assert shown.phase is turn.walk.phase
        walk = turn.walk


@given(st.lists(EVENTS, max_size=10), st.sampled_from(["yes", "no", "silence", "click", None]))
def test_undo_after_an_answer_returns_to_an_equal_state(events: list[ev.Event], answer: str | None) -> None:
    """From wherever a question is on view: answered and undone, nothing has changed but what was opened for it."""
    walk = step(start(small()), ev.Begin((DARK,))).walk
    for event in (ev.Acknowledge(), *events):
        walk = step(walk, _taken(walk, event)).walk
    given_answer = ev.CannotTell() if answer is None else ev.AnswerCheck(answer)
    turn = step(walk, given_answer)
    if walk.phase is Phase.CHECK and not any(isinstance(said, Refused) for said in turn.said):
        assert replace(step(turn.walk, ev.Undo()).walk, opened=walk.opened) == walk


@given(st.lists(EVENTS, max_size=10))
def test_a_saved_walk_comes_back_whole(events: list[ev.Event]) -> None:
    """From wherever it stands, everything that leaving would lose is in what is saved."""
    walk = step(start(small()), ev.Begin((DARK,))).walk
    for event in (ev.Acknowledge(), *events):
        walk = step(walk, _taken(walk, event)).walk
    assert saved.unpack(small(), saved.pack(walk)).fingerprint == walk.fingerprint


@given(st.lists(EVENTS, max_size=10))
def test_a_numbered_choice_is_never_refused(events: list[ev.Event]) -> None:
    """Whatever has a number on a screen can be done."""
    walk = step(start(small()), ev.Begin((DARK,))).walk
    for event in (ev.Acknowledge(), *events):
        walk = step(walk, _taken(walk, event)).walk
    for choice in prompt(walk).choices:
        turn = step(walk, choice.event)
        assert not any(isinstance(said, Refused) for said in turn.said), choice
