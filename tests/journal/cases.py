"""Cases of the small lamp library in a journal, made as a debrief makes them, for tests of what shows them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from faultree.journal import book
from faultree.journal.place import where
from faultree.journal.records import Flight, Record
from faultree.journal.store import Store, open_store
from faultree.strategy.case import Case
from faultree.walk import saved
from faultree.walk.changes import step_data
from faultree.walk.state import Walk
from tests.walk.small import DARK, small

FLIGHT = Flight("HM-VLA", "HM 412", "2031-05-04", "landing")

HOSTILE = (
    "<script>alert(1)</script>",
    "\"quotes\" 'and' \\backslash `tick` *stars* [link](x) #head",
    "x" * 500,
    "אורות לא נדלקו بعد الهبوط",
    "{{ 7*7 }} #set page(width: 1pt) $x$ @ref </p>",
)
"""Words that a crew might type, or somebody who means no good."""


def opened(path: Path, hour: int = 12) -> Store:
    """The journal in a file, its clock at a fixed hour."""
    clock: Callable[[], datetime] = lambda: datetime(2031, 5, 4, hour, tzinfo=UTC)  # noqa: E731 - one expression
    return open_store(where(str(path), {}, "linux", Path("/nowhere")), clock)


def debriefed(
    store: Store,
    answers: Sequence[tuple[str, str | None]] = (("click", "silence"), ("supply-seen", None)),
    words: Sequence[str] = ("lamp out",),
    symptom: str | None = DARK,
    flight: Flight = FLIGHT,
    origin: str = "debrief",
    repair: str = "",
) -> Record:
    """A case with its squawks matched and these answers given; with `repair` the symptom is gone in the end."""
    number = book.open_case(store, flight, words, small().digest, origin=origin, who="KL")
    for place in range(len(words)):
        book.match(store, number, place + 1, symptom, who="KL")
    if symptom:
        case = Case.open(small(), [symptom])
        for check, answer in answers:
            case = case.cannot_tell(check) if answer is None else case.answer(check, answer)
            _keep(store, number, case)
        if repair:
            _keep(store, number, case.repair(repair, gone=True))
    return book.read(store, number)


def _keep(store: Store, number: int, case: Case) -> None:
    data = {**step_data(small(), case.steps[-1]), "walk": saved.pack(Walk(small(), case=case))}
    book.add(store, number, "event", data, who="KL")
