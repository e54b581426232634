"""The course of a walk as data: in which phase what may happen, and where that may lead.

The machine checks every step against this table, so a diagram drawn from it is true.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from enum import StrEnum

from faultree.walk.events import (
    Acknowledge,
    Also,
    AnswerCheck,
    AskHistory,
    AskWhy,
    Available,
    Back,
    Begin,
    By,
    CannotDuplicate,
    CannotTell,
    CarryOn,
    Closed,
    Event,
    Finish,
    LookAgain,
    Note,
    NotToday,
    Quit,
    Replace,
    Resume,
    Retest,
    Save,
    SeenAgain,
    ShowAll,
    TakeUp,
    Undo,
)


class Phase(StrEnum):
    """Where a walk stands."""

    REPORT = "report"  # what was reported?
    NOTICE = "notice"  # approved data and a licensed engineer decide
    CAUTIONS = "cautions"  # to be read before the step that needs them
    CHECK = "check"  # the question is on view
    REPAIR = "repair"  # replace it, then is the symptom gone?
    LIST = "list"  # everything that could be done
    CONFLICT = "conflict"  # the answers cannot all be true
    OVER = "over"  # the search has ended; sum up
    CLOSED = "closed"  # left


_NEXT = frozenset({Phase.CAUTIONS, Phase.CHECK, Phase.REPAIR, Phase.OVER})
_LEARNT = _NEXT | {Phase.CONFLICT}


def _remarks(phase: Phase) -> dict[type[Event], frozenset[Phase]]:
    """What is possible at any time once a case is open, and leaves the phase as it is."""
    kinds = (AskWhy, AskHistory, Note, Save, CannotDuplicate, SeenAgain)
    return {kind: frozenset({phase}) for kind in kinds}


def _working(phase: Phase) -> dict[type[Event], frozenset[Phase]]:
    """What is possible wherever a next step is on view."""
    return {
        TakeUp: frozenset({Phase.CAUTIONS, Phase.CHECK}),
        Replace: frozenset({Phase.CAUTIONS, Phase.REPAIR}),
        Undo: _NEXT,
        NotToday: _NEXT | {phase},
        Available: _NEXT | {phase},
        Also: _NEXT,
        By: _NEXT | {phase},
        Finish: frozenset({Phase.OVER}),
        Quit: frozenset({Phase.CLOSED}),
        **_remarks(phase),
    }


_LISTING: dict[type[Event], frozenset[Phase]] = {ShowAll: frozenset({Phase.LIST})}

TRANSITIONS: Mapping[Phase, Mapping[type[Event], frozenset[Phase]]] = {
    Phase.REPORT: {
        Begin: frozenset({Phase.NOTICE}),
        Resume: frozenset({Phase.NOTICE}),
        Quit: frozenset({Phase.CLOSED}),
    },
    Phase.NOTICE: {
        Acknowledge: _LEARNT,
        NotToday: frozenset({Phase.NOTICE}),
        Available: frozenset({Phase.NOTICE}),
        Also: frozenset({Phase.NOTICE}),
        By: frozenset({Phase.NOTICE}),
        Quit: frozenset({Phase.CLOSED}),
        **_remarks(Phase.NOTICE),
    },
    Phase.CAUTIONS: {
        Acknowledge: frozenset({Phase.CHECK, Phase.REPAIR}),
        **_LISTING,
        **_working(Phase.CAUTIONS),
    },
    Phase.CHECK: {
        AnswerCheck: _LEARNT,
        CannotTell: _NEXT,
        **_LISTING,
        **_working(Phase.CHECK),
    },
    Phase.REPAIR: {
        Retest: _LEARNT,
        CannotTell: _LEARNT,
        **_LISTING,
        **_working(Phase.REPAIR),
    },
    Phase.LIST: {
        Back: _NEXT,
        **_LISTING,
        **_working(Phase.LIST),
    },
    Phase.CONFLICT: {
        LookAgain: frozenset({Phase.CAUTIONS, Phase.CHECK, Phase.REPAIR, Phase.CONFLICT}),
        Undo: frozenset({Phase.CAUTIONS, Phase.CHECK, Phase.REPAIR}),
        Finish: frozenset({Phase.OVER}),
        Quit: frozenset({Phase.CLOSED}),
        **_remarks(Phase.CONFLICT),
    },
    Phase.OVER: {
        CarryOn: _LEARNT,
        Closed: frozenset({Phase.OVER}),
        **_LISTING,
        **_working(Phase.OVER),
    },
    Phase.CLOSED: {},
}
"""Phase, then kind of event, then the phases that may follow; an event that is refused changes nothing."""


def arrows() -> Iterator[tuple[Phase, str, Phase]]:
    """Every possible transition that changes the phase, for a diagram.

    >>> [str(after) for before, name, after in arrows() if before is Phase.REPORT and name == "Begin"]
    ['notice']
    """
    for before, row in TRANSITIONS.items():
        for kind, targets in row.items():
            for after in sorted(targets - {before}):
                yield before, kind.__name__, after
