"""A walk as plain data for a file, and back: the case's own form, and beside it what only a walk knows.

A saved walk holds the case, the notes, the answers that were withdrawn after a contradiction, and
an answer that still waits for the contradiction to be settled. Cautions that were acknowledged are
not kept: whoever takes the case up, perhaps another person on another shift, reads them again.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from faultree.base.errors import CaseError
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library
from faultree.strategy.case import Case
from faultree.walk.state import Conflict, Remark, Walk
from faultree.walk.table import Phase

KEY = "walk"
"""The key, beside those of the case, that holds what only a walk knows."""


def pack(walk: Walk) -> dict[str, object]:
    """The walk as plain data (dicts, lists, texts, numbers, true and false)."""
    own: dict[str, object] = {}
    if walk.remarks:
        own["notes"] = [{"after": remark.after, "text": remark.text} for remark in walk.remarks]
    if walk.withdrawn:
        own["withdrawn"] = [step_to_dict(step) for step in walk.withdrawn]
    if walk.conflict:
        own["unexplained"] = step_to_dict(walk.conflict.newest)
    return {**walk.open_case.to_dict(), **({KEY: own} if own else {})}


def unpack(library: Library, data: Mapping[str, object]) -> Walk:
    """The walk that `pack` gave, at its notice; CaseError or UnknownName where the data does not read."""
    case = Case.from_dict(library, {key: value for key, value in data.items() if key != KEY})
    own = data.get(KEY, {})
    if not isinstance(own, Mapping):
        raise CaseError(f"the saved case's '{KEY}' is no mapping; remove it or write its keys below it")
    newest = own.get("unexplained")
    walk = Walk(
        library,
        Phase.NOTICE,
        case,
        conflict=Conflict(step_from_dict(library, newest), ()) if newest is not None else None,
        remarks=tuple(_remark(entry) for entry in _list(own, "notes")),
        withdrawn=tuple(step_from_dict(library, entry) for entry in _list(own, "withdrawn")),
    )
    return replace(walk, saved=walk.fingerprint)


def step_to_dict(step: Reply | Repair) -> dict[str, object]:
    """One step as plain data, as a saved case writes it; an answer of None is "cannot tell"."""
    if isinstance(step, Reply):
        return {"check": step.check, "answer": step.answer}
    return {"repair": step.unit, "gone": step.gone}


def step_from_dict(library: Library, data: object) -> Reply | Repair:
    """The step that `step_to_dict` gave; CaseError or UnknownName where it does not read."""
    if isinstance(data, Mapping):
        match dict(data):
            case {"check": str(check), "answer": answer} if answer is None or isinstance(answer, str):
                known = library.checks[library.check_id(check)]
                return Reply(known.id, None if answer is None else known.answer(answer).id)
            case {"repair": str(unit), "gone": bool(gone)} if unit in library.items or unit in library.causes:
                return Repair(unit, gone)
    raise CaseError(f"{data!r} is no step of a case; write 'check' and 'answer', or 'repair' and 'gone'")


def _list(own: Mapping[str, object], key: str) -> list[object]:
    entries = own.get(key, [])
    if not isinstance(entries, list):
        raise CaseError(f"the saved case's '{key}' is no list; write its entries as '- ...' lines")
    return entries


def _remark(data: object) -> Remark:
    if isinstance(data, Mapping):
        match dict(data):
            case {"after": int(after), "text": str(text)}:
                return Remark(after, text)
    raise CaseError(f"{data!r} is no note of a case; write 'after' (a number of steps) and 'text'")
