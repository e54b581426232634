"""A walk as plain data for a file, and back: the case's own form, and beside it what only a walk knows.

A saved walk holds the case with its steps in words, the notes, the answers that were withdrawn after a
contradiction, an answer that still waits for the contradiction to be settled, what was not available,
what could not be seen again, which reports came in later, whose checks were proposed, and what of the tree
the case rests on. Cautions that were acknowledged
are not kept as read: whoever takes the case up, perhaps another person on another shift, reads them again.
Those whose locks, pins or tags may be in are kept as that.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from faultree.base.errors import CaseError
from faultree.library.model import Library
from faultree.strategy.case import SAVED, Case
from faultree.walk import changes, fitting, parts
from faultree.walk.state import Added, Conflict, Unfit, Walk
from faultree.walk.table import Phase
from faultree.walk.unfit import unfit_words

KEY = "walk"
"""The key, beside those of the case, that holds what only a walk knows."""

HISTORY = "history"
"""The key that says what history the figures rested on, where one was in use."""

WITHOUT_HISTORY = (
    "It was ranked with history (“{}”); the figures now are the author's alone. With --history it is ranked so again."
)

TREE = "tree"
"""The key that holds what of the tree the case rests on."""


def pack(walk: Walk) -> dict[str, object]:
    """The walk as plain data (dicts, lists, texts, numbers, true and false)."""
    case = walk.open_case
    steps = [changes.step_data(walk.library, step) for step in case.steps]
    own = {key: value for key, value in _own(walk) if value}
    tree = changes.snapshot(case, ranked=walk.conflict is None)
    history = {HISTORY: walk.library.history} if walk.library.history else {}
    return {**case.to_dict(), "steps": steps, **({KEY: own} if own else {}), TREE: tree, **history}


def _own(walk: Walk) -> Iterator[tuple[str, object]]:
    """What only a walk knows, under its keys."""
    library = walk.library
    yield "notes", [{"after": remark.after, "text": remark.text} for remark in walk.remarks]
    yield "withdrawn", [changes.step_data(library, step) for step in walk.withdrawn]
    yield "unexplained", changes.step_data(library, walk.conflict.newest) if walk.conflict else None
    yield "not_today", [{lack.kind: lack.name} for lack in walk.lacks]
    yield "sightings", [{"after": one.after, "seen": one.seen} for one in walk.sightings]
    yield "undone", [{"after": one.after, one.kind: one.name} for one in walk.undone]
    yield "opened", [{"access": name} for name in sorted(walk.opened)]
    yield "fitted", [{"caution": name} for name in sorted(walk.locks)]
    yield "added", [_added_data(walk, one) for one in walk.added]
    yield "by", list(walk.by or ())
    yield "unfit", [_unfit_data(one) for one in walk.unfit]


def _added_data(walk: Walk, one: Added) -> dict[str, object]:
    return {"after": one.after, "report": one.symptom, "title": walk.library.symptoms[one.symptom].title}


def _unfit_data(one: Unfit) -> dict[str, object]:
    return {"after": one.after, "because": one.because, "part": one.part, "data": dict(one.data)}


def unpack(library: Library, data: Mapping[str, object]) -> Walk:
    """The walk that `pack` gave, at its notice, fitted into a library that may have changed since.

    Raises CaseError, UnknownName or Contradiction where the data does not read, or none of its reports fits.
    """
    own = data.get(KEY, {})
    if not isinstance(own, Mapping):
        raise CaseError(f"the saved case's '{KEY}' is no mapping; remove it or write its keys below it")
    changed = data.get("library") != library.digest
    found = parts.read(library, own, changed=changed)
    walk = Walk(library, Phase.NOTICE, unfit=found.unfit)
    walk = _fitted(walk, data) if changed else replace(walk, case=Case.from_dict(library, data))
    walk = replace(walk, changes=(*walk.changes, *_history(walk, data)))
    walk = replace(
        walk,
        conflict=Conflict(found.unexplained[0], ()) if found.unexplained else None,
        remarks=found.notes,
        withdrawn=found.withdrawn,
        lacks=found.not_today,
        sightings=found.sightings,
        undone=found.undone,
        opened=frozenset(found.opened),
        fitted=frozenset(found.fitted),
        by=found.by or None,
    )
    # A report that does not fit the case any more is among what is unfit, or was left out with its reason.
    walk = replace(walk, added=tuple(one for one in found.added if one.symptom in walk.open_case.symptoms))
    return replace(walk, saved=walk.fingerprint)


def _history(walk: Walk, data: Mapping[str, object]) -> Iterator[str]:
    """That the case was ranked with history, where none is in use now, and how to have it again."""
    if data.get(HISTORY) and not walk.library.history:
        yield WITHOUT_HISTORY.format(str(data[HISTORY]).partition(":")[0])
        if not walk.changes:  # what is told of a tree that has changed names these already
            yield from (f"Kept, but it counts for nothing: {unfit_words(one)}." for one in walk.unfit)


def _fitted(walk: Walk, data: Mapping[str, object]) -> Walk:
    """The case as far as it fits a library that has changed, with what has changed and what no longer fits."""
    if data.get("case") != SAVED:
        raise CaseError(f"this is not a saved case: 'case: {SAVED}' is missing")
    names, steps = data.get("symptoms"), data.get("steps", [])
    if not isinstance(names, list) or not names or not isinstance(steps, list) or not _all_read(names, steps):
        raise CaseError("a saved case needs a list of 'symptoms' and a list of 'steps' that read as such")
    kept = data.get(TREE)
    titles = kept.get("reports") if isinstance(kept, Mapping) else None
    reports: list[dict[str, object]] = [{"symptom": name, **_titled(titles, name)} for name in names]
    reports += [dict(one.data) for one in walk.unfit if one.part == "symptoms"]
    saved = fitting.merged(steps, (one for one in walk.unfit if one.part == "steps"))
    fitted = fitting.fit(walk.library, reports, saved)
    others = (one for one in walk.unfit if one.part not in ("symptoms", "steps"))
    return replace(
        walk, case=fitted.case, unfit=(*fitted.unfit, *others), changes=changes.told(data, fitted, walk.unfit)
    )


def _titled(titles: object, name: object) -> dict[str, object]:
    return {"title": titles[name]} if isinstance(titles, Mapping) and name in titles else {}


def _all_read(names: list[object], steps: list[object]) -> bool:
    """Whether these have the form of names and of steps."""
    return all(isinstance(one, str) for one in names) and all(map(_is_step, steps))


def _is_step(entry: object) -> bool:
    """Whether an entry has the form of a step; what it names may be gone."""
    if not isinstance(entry, Mapping) or not isinstance(entry.get("check", ""), str):
        return False
    answer, gone = entry.get("answer", 0), entry.get("gone", "")
    answered = isinstance(entry.get("check"), str) and (answer is None or isinstance(answer, str))
    return answered or (isinstance(entry.get("repair"), str) and (gone is None or isinstance(gone, bool)))
