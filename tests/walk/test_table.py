"""The course of a walk as data: complete, closed, and the only place that says what may follow what."""

from __future__ import annotations

import pytest

from faultree.walk import events as ev
from faultree.walk.table import TRANSITIONS, Phase, arrows


def test_every_phase_has_a_row_and_every_event_a_use() -> None:
    """A phase without a row would trap a walk; an event without a use could never happen."""
    assert set(TRANSITIONS) == set(Phase)
    assert {kind for row in TRANSITIONS.values() for kind in row} == set(ev.EVENTS.values())


def test_every_phase_can_be_reached_and_left() -> None:
    """From the report every phase can be reached, and from every phase the walk can be closed."""
    reached = {Phase.REPORT}
    for _ in Phase:
        reached |= {after for before, _, after in arrows() if before in reached}
    assert reached == set(Phase)
    for phase in set(Phase) - {Phase.CLOSED}:
        assert TRANSITIONS[phase][ev.Quit] == {Phase.CLOSED}
    assert TRANSITIONS[Phase.CLOSED] == {}


@pytest.mark.parametrize("kind", [ev.AskWhy, ev.Note, ev.Save])
def test_remarks_leave_the_phase_as_it_is(kind: type[ev.Event]) -> None:
    """Asking, noting and saving never move a walk."""
    for phase, row in TRANSITIONS.items():
        if kind in row:
            assert row[kind] == {phase}


def test_nothing_is_checked_or_replaced_before_the_notice() -> None:
    """Until the notice is acknowledged there is no way to a check or a replacement."""
    for phase in (Phase.REPORT, Phase.NOTICE):
        assert not {ev.AnswerCheck, ev.TakeUp, ev.Replace, ev.Retest} & set(TRANSITIONS[phase])


def test_cautions_are_left_only_by_reading_them_or_by_choosing_something_else() -> None:
    """No answer is taken while cautions are on view."""
    assert not {ev.AnswerCheck, ev.CannotTell, ev.Retest} & set(TRANSITIONS[Phase.CAUTIONS])


def test_arrows_name_events() -> None:
    """Each arrow changes the phase and carries the name of an event."""
    found = list(arrows())
    assert all(before is not after for before, _, after in found)
    assert {name for _, name, _ in found} <= set(ev.EVENTS)
