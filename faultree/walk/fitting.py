"""Fits a saved case into a library that may have changed since: what still fits, what was renamed, what no longer fits.

Nothing is thrown away. What the tree has no place for is kept as it was written, says why, counts for nothing, and is
tried again when the files have changed once more.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from faultree.base.errors import CaseError, Contradiction, FaultreeError, UnknownName
from faultree.base.words import near
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Check, Entry, Library
from faultree.strategy.case import Case
from faultree.walk import steps
from faultree.walk.state import Unfit

Data = Mapping[str, object]

GONE = {
    "symptom": "the report is no longer in the tree",
    "check": "the check is no longer in the tree",
    "answer": "the check has no such answer any more",
    "unit": "what was put right is no longer in the tree",
    "tool": "no check needs this tool any more",
    "access": "the access is no longer in the tree",
    "caution": "the caution is no longer in the tree",
}
"""Why something no longer fits, by what is gone."""

CONTRADICTS = "in the tree as it is now it contradicts the steps before it"

LEFT = "nothing of it was changed"
"""What becomes of a case that fits nowhere."""


@dataclass
class Fitted:
    """What a saved case has become: `notes` say what was renamed or fits again, `total` counts the steps it had."""

    case: Case
    unfit: list[Unfit] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    total: int = 0


def fit(library: Library, symptoms: Sequence[Data], saved: Sequence[tuple[Data, bool]]) -> Fitted:
    """The case of these reports and steps as far as they fit; a step's flag says that it did not fit before.

    Raises CaseError where no report is left, or where the reports cannot all be true together.
    """
    notes: list[str] = []
    unfit: list[Unfit] = []
    names = list(_reports(library, symptoms, notes, unfit))
    if not names:
        lost = "; ".join(str(one.get("title", one["symptom"])) for one in symptoms)
        raise CaseError(f"none of the reports of this case is in the tree files any more ({lost}); {LEFT}")
    try:
        fitted = Fitted(Case.open(library, names), unfit, notes, len(saved))
    except Contradiction as error:
        raise CaseError(f"the reports of this case cannot all be true any more ({error}); {LEFT}") from error
    for data, before in saved:
        _add(fitted, data, unfit_before=before)
    return fitted


def _reports(library: Library, symptoms: Sequence[Data], notes: list[str], unfit: list[Unfit]) -> Iterator[str]:
    for one in symptoms:
        name = named(library.symptoms, str(one["symptom"]), one.get("title"))
        if name is None:
            unfit.append(Unfit(0, GONE["symptom"], "symptoms", one))
        else:
            if name != one["symptom"] and "/" in str(one["symptom"]):
                notes.append(f"The report “{library.symptoms[name].title}” has a new id: {name}.")
            yield name


def _add(fitted: Fitted, data: Data, *, unfit_before: bool) -> None:
    """Add one saved step to the case, or keep it with the reason why it does not fit."""
    try:
        step = read_step(fitted.case.library, data, fitted.notes)
        if any(type(one) is type(step) and one[0] == step[0] for one in fitted.case.steps):
            raise CaseError("another step of the case says the same or has taken its place")
        fitted.case = steps.add(fitted.case, step)
    except FaultreeError as error:
        fitted.unfit.append(Unfit(len(fitted.case.steps), because(error), "steps", data))
    else:
        if unfit_before:
            fitted.notes.append(f"{_title(data)} fits the tree again and counts again.")


def because(error: FaultreeError) -> str:
    """Why something does not fit, in a few words."""
    if isinstance(error, Contradiction):
        return CONTRADICTS
    if isinstance(error, UnknownName):
        return GONE.get(error.kind, f"the {error.kind} is no longer in the tree")
    return str(error)


def _title(data: Data) -> str:
    return f"“{data.get('title', data.get('check', data.get('repair')))}”"


def read_step(library: Library, data: object, notes: list[str]) -> Reply | Repair:
    """One saved step in the library as it is now, found by its title or wording where the id is gone.

    Raises CaseError where it has not the form of a step, and UnknownName where it names what is gone; adds to
    `notes` what was renamed.
    """
    match dict(data) if isinstance(data, Mapping) else {}:
        case {"check": str(check), "answer": answer, **words} if answer is None or isinstance(answer, str):
            name = _known("check", library.checks, check, words.get("title"))
            if name != check and "/" in check:
                notes.append(f"The check “{library.checks[name].title}” has a new id: {name}.")
            return Reply(name, None if answer is None else _answer(library.checks[name], answer, words, notes))
        case {"repair": str(unit), "gone": gone, **words} if gone is None or isinstance(gone, bool):
            return Repair(_known("unit", {**library.causes, **library.items}, unit, words.get("title")), gone)
    raise CaseError(f"{data!r} is no step of a case; write 'check' and 'answer', or 'repair' and 'gone'")


def _known(kind: str, table: Mapping[str, Entry], name: str, title: object) -> str:
    found = named(table, name, title)
    if found is None:
        raise UnknownName(kind, name, near(name, table))
    return found


def _answer(check: Check, answer: str, words: Data, notes: list[str]) -> str:
    """The id of an answer, by its id or else by its wording."""
    if any(one.id == answer for one in check.answers):
        return answer
    alike = [one.id for one in check.answers if one.text == words.get("found")]
    if len(alike) != 1:
        raise UnknownName("answer", answer, near(answer, [one.id for one in check.answers]))
    notes.append(f"The answer “{words.get('found')}” of “{check.title}” has a new id: {alike[0]}.")
    return alike[0]


def named(table: Mapping[str, Entry], name: str, title: object) -> str | None:
    """The full id of something by its id, its short id, or its title where that fits one thing alone."""
    if name in table:
        return name
    short = [full for full in table if "/" not in name and full.partition("/")[2] == name]
    alike = short or [full for full, entry in table.items() if entry.title == title]
    return alike[0] if len(alike) == 1 else None


def merged(saved: Sequence[Data], unfit: Iterable[Unfit]) -> list[tuple[Data, bool]]:
    """The steps of a file in their order, those that did not fit before at their old places and marked."""
    waiting = list(unfit)
    found: list[tuple[Data, bool]] = []
    for count in range(len(saved) + 1):
        found += [(one.data, True) for one in waiting if min(one.after, len(saved)) == count]
        found += [(saved[count], False)] if count < len(saved) else []
    anew = {_subject(one) for one in saved}
    # An answer that was given anew stands; the old one is kept behind it, where it is refused as a second one.
    return sorted(found, key=lambda one: one[1] and _subject(one[0]) in anew)


def _subject(data: Data) -> tuple[str, str]:
    """What a step is about: its check, or the unit put right."""
    named = ((key, data.get(key)) for key in ("check", "repair"))
    return next(((key, name) for key, name in named if isinstance(name, str)), ("", ""))
