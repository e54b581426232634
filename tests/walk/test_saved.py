"""A walk that is saved and taken up again has lost nothing but what must be read anew."""

from __future__ import annotations

import copy
from contextlib import suppress
from typing import Any

import pytest

from faultree.base.errors import CaseError, FaultreeError
from faultree.walk import events as ev
from faultree.walk import fitting, saved
from faultree.walk.machine import start, step
from faultree.walk.state import Refused
from faultree.walk.table import Phase
from tests.walk.small import asked, small, walked

WORK = (*asked("voltage", "no"), ev.Note("plug loose"), ev.Replace("fuse"), ev.Acknowledge(), ev.Retest(gone=False))
CLASH = (*asked("voltage", "yes"), *asked("bench", "yes"))


@pytest.mark.parametrize("events", [(), WORK, CLASH, (*CLASH, ev.LookAgain("signal/voltage"))])
def test_what_is_saved_comes_back(events: tuple[ev.Event, ...]) -> None:
    """Case, notes, withdrawn answers and an answer that still contradicts the others."""
    walk = walked(*events)
    back = saved.unpack(small(), saved.pack(walk))
    assert back.open_case == walk.open_case
    assert (back.remarks, back.withdrawn) == (walk.remarks, walk.withdrawn)
    assert back.fingerprint == walk.fingerprint
    assert back.unsaved is False


def test_a_resumed_walk_begins_at_the_notice_and_reads_cautions_again() -> None:
    """Whoever takes the case up may be another person."""
    walk = step(start(small()), ev.Resume(saved.pack(walked(*WORK)))).walk
    assert walk.phase is Phase.NOTICE
    assert walk.read == frozenset()


def test_a_contradiction_is_taken_up_where_it_was_left() -> None:
    """The answer that waited is held against the others again."""
    walk = step(start(small()), ev.Resume(saved.pack(walked(*CLASH)))).walk
    after = step(walk, ev.Acknowledge()).walk
    assert after.phase is Phase.CONFLICT
    assert after.conflict == walked(*CLASH).conflict


def test_changed_tree_files_are_told() -> None:
    """The figures may differ from those of the day on which the case was saved."""
    data = {**saved.pack(walked(*WORK)), "library": "another"}
    (said,) = step(start(small()), ev.Resume(data)).said
    assert "have changed" in str(said)


def _with(path: list[str | int], value: object) -> dict[str, object]:
    data: Any = copy.deepcopy(saved.pack(walked(*WORK, *asked("click", "click"))))
    spot = data
    for key in path[:-1]:
        spot = spot[key]
    spot[path[-1]] = value
    return dict(data)


@pytest.mark.parametrize(
    "data",
    [
        {},
        {"case": 99},
        _with(["case"], 2),
        _with(["symptoms"], []),
        _with(["symptoms"], ["no-such"]),
        _with(["steps"], "none"),
        _with(["steps", 0], {"check": "signal/voltage", "answer": "perhaps"}),
        _with(["steps", 0], 7),
        _with(["walk"], []),
        _with(["walk", "notes"], "a"),
        _with(["walk", "notes"], [{"after": "two", "text": "a"}]),
        _with(["walk", "withdrawn"], {"check": 1}),
        _with(["walk", "withdrawn"], [{"check": "nothing", "answer": None}]),
        _with(["walk", "unexplained"], {"repair": "signal/lamp"}),
        _with(["walk", "unexplained"], []),
    ],
)
def test_what_does_not_read_is_refused_in_words(data: dict[str, object]) -> None:
    """No malformed file raises anything but our own errors, and the machine answers it with a refusal."""
    with pytest.raises(FaultreeError):
        saved.unpack(small(), data)
    turn = step(start(small()), ev.Resume(data))
    assert turn.walk == start(small())
    assert isinstance(turn.said[0], Refused)


def test_a_step_that_is_no_step_names_what_was_expected() -> None:
    """The remedy stands in the message."""
    with pytest.raises(CaseError, match="write 'check' and 'answer', or 'repair' and 'gone'"):
        fitting.read_step(small(), {"check": 3}, [])


JUNK: tuple[object, ...] = (
    None,
    7,
    True,
    "",
    "signal/gone",
    [],
    [[1]],
    {},
    {"a": [1]},
    [None, {"check": ["a"]}],
    float("nan"),
)
"""What may stand anywhere in a file that was edited or damaged."""


def _places(data: object, path: tuple[str | int, ...] = ()) -> list[tuple[str | int, ...]]:
    """The path of every value inside plain data."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [one for key, value in pairs for one in ((*path, key), *_places(value, (*path, key)))]


def _full() -> dict[str, Any]:
    """A saved case that holds something of every kind."""
    events = (
        *asked("bench", "yes"), ev.Note("loose"), ev.CannotDuplicate(), ev.NotToday("tool", "multimeter"),
        *asked("voltage", "yes"), ev.LookAgain("signal/voltage"), ev.AnswerCheck("no"), ev.Undo(),
        ev.Finish(), ev.Closed(),
    )  # fmt: skip
    data: dict[str, Any] = copy.deepcopy(saved.pack(walked(*events)))
    unfit = ({"symptom": "signal/gone"}, {"check": "signal/gone", "answer": None}, {"tool": "gone"})
    data["walk"]["unfit"] = [
        {"after": 0, "because": "gone", "part": part, "data": one}
        for part, one in zip(("symptoms", "steps", "not_today"), unfit, strict=True)
    ]
    return data


@pytest.mark.parametrize("digest", [small().digest, "of another library"], ids=["same", "changed"])
def test_anything_in_any_place_is_read_or_refused(digest: str) -> None:
    """Nothing else is raised, whether the tree files have changed since or not."""
    good = {**_full(), "library": digest}
    assert saved.unpack(small(), good).case is not None
    for path in _places(good):
        for junk in JUNK:
            data: Any = copy.deepcopy(good)
            place = data
            for key in path[:-1]:
                place = place[key]
            place[path[-1]] = junk
            with suppress(FaultreeError):
                saved.unpack(small(), data)
