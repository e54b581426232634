"""A transcript holds every event and what was shown for it, and replays to the same state."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.base.errors import CaseError
from faultree.library.load import load_texts
from faultree.walk import events as ev
from faultree.walk.machine import start
from faultree.walk.transcript import (
    Transcript,
    advance,
    event_from_dict,
    event_to_dict,
    plain,
    replay,
    run,
    to_dict,
)
from tests.walk.small import DARK, SIGNAL, asked, small

EVENTS = (
    ev.Begin((DARK,)),
    ev.Acknowledge(),
    *asked("voltage", "yes"),
    ev.Note("seal worn"),
    *asked("bench", "yes"),
    ev.LookAgain("signal/voltage"),
    ev.AnswerCheck("no"),
    ev.AskWhy(""),
    ev.Undo(),
    ev.Quit(),
)


def _recorded(events: tuple[ev.Event, ...]) -> tuple[object, Transcript]:
    walk, transcript = start(small()), Transcript()
    for event in events:
        walk, transcript = advance(walk, transcript, event)
    return walk, transcript


def test_a_transcript_replays_to_the_same_state() -> None:
    """Running the events again gives the state in which the walk was left."""
    walk, transcript = _recorded(EVENTS)
    assert transcript.events == EVENTS
    assert replay(small(), transcript) == walk
    assert run(small(), transcript.events) == walk


def test_a_transcript_is_plain_data_that_json_can_hold() -> None:
    """Events, remarks and prompts come through JSON, and the events can be run from there."""
    walk, transcript = _recorded(EVENTS)
    data = json.loads(json.dumps(to_dict(transcript)))
    events = [
        event_from_dict({key: value for key, value in one.items() if key not in ("said", "shown")}) for one in data
    ]
    assert run(small(), events) == walk
    assert data[0]["shown"]["reported"][0]["title"] == "the signal lamp stays dark"
    assert data[-1]["shown"]["unsaved"] is True


def test_a_changed_library_is_noticed_at_the_exchange_that_goes_otherwise() -> None:
    """A replay does not pretend: other likelihoods show other suspects."""
    _, transcript = _recorded(EVENTS)
    changed = load_texts({"signal.yaml": SIGNAL.replace("probability: 0.02", "probability: 0.05")})
    with pytest.raises(CaseError, match="exchange 2 goes otherwise"):
        replay(changed, transcript)


@given(
    st.one_of(
        st.builds(ev.Begin, st.lists(st.text(), max_size=3).map(tuple)),
        st.builds(ev.AnswerCheck, st.text()),
        st.builds(ev.Retest, st.booleans()),
        st.builds(ev.Note, st.text()),
        st.just(ev.Undo()),
    )
)
def test_an_event_comes_back_from_its_plain_data(event: ev.Event) -> None:
    """Writing and reading an event gives an equal one."""
    assert event_from_dict(json.loads(json.dumps(event_to_dict(event)))) == event


@pytest.mark.parametrize("data", [{}, {"event": "Jump"}, {"event": "Undo", "far": 1}, {"event": "AnswerCheck"}])
def test_plain_data_that_is_no_event_is_refused(data: dict[str, object]) -> None:
    """The error is ours, and says which event does not read."""
    with pytest.raises(CaseError):
        event_from_dict(data)


@pytest.mark.parametrize(
    "event", [ev.NotToday("tool", "multimeter"), ev.Available("tool", "meter"), ev.Closed("access", "signal/panel")]
)
def test_an_event_that_names_a_kind_keeps_its_own_name_in_plain_data(event: ev.Event) -> None:
    """What a choice stands for can be told from the record of the screen as well."""
    shown = plain(event)
    assert isinstance(shown, dict)
    assert shown["kind"] == type(event).__name__
    assert event_from_dict(event_to_dict(event)) == event
