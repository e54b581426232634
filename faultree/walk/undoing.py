"""What was opened, fitted or tagged in a case and has to be undone: access, and what cautions asked for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from faultree.base.errors import CaseError
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Check, Item, Library
from faultree.strategy.case import Case
from faultree.walk.cautions import of_access, of_situation
from faultree.walk.state import Walk


class Left(NamedTuple):
    """One thing to undo: an access or a caution (full id) and what is to be done; `closed` once that was recorded."""

    kind: str
    name: str
    words: str
    closed: bool


def left(walk: Walk) -> tuple[Left, ...]:
    """Everything that the steps so far opened, fitted or tagged, access first, each once.

    A caution counts once it was acknowledged, even where the step behind it was not finished: the locks may be in.
    """
    if walk.case is None:
        return ()
    used = _last_uses(walk)
    done = {(one.kind, one.name): one.after for one in walk.undone}
    found = []
    for (kind, name), last in used.items():
        what = words(walk.library, kind, name)
        if what:
            found.append(Left(kind, name, what, done.get((kind, name), -1) >= last))
    return tuple(sorted(found, key=lambda one: one.kind))


def words(library: Library, kind: str, name: str) -> str:
    """What has to be done to undo this; empty for a caution that asks for nothing that stays."""
    if kind == "access":
        entry = library.access[name]
        return entry.afterwards or f"undo what was done here: {entry.title}"
    return library.cautions[name].afterwards


def _last_uses(walk: Walk) -> dict[tuple[str, str], int]:
    """For each access and caution, after how many steps it was needed last."""
    used: dict[tuple[str, str], int] = {("caution", name): 0 for name in sorted(walk.locks)}
    used.update({("access", name): 0 for name in sorted(walk.opened)})
    case = walk.open_case
    for step in (*walk.withdrawn, *((walk.conflict.newest,) if walk.conflict else ())):
        used.update(dict.fromkeys(_of_step(walk, step), 0))
    for count, step in enumerate(case.steps, 1):
        used.update(dict.fromkeys(_of_step(walk, step), count))
    return used


def _of_step(walk: Walk, step: Reply | Repair) -> Iterator[tuple[str, str]]:
    library, none = walk.library, frozenset[str]()
    entry = _entry(library, step)
    if entry is not None:
        yield from (("access", name) for name in entry.access)
        yield from (("caution", name) for name in (*of_access(library, entry.access, none), *entry.cautions))
    if isinstance(step, Reply):
        situations = [library.checks[step.check].situation]
    else:
        situations = [library.symptoms[name].situation for name in walk.open_case.symptoms]
    for situation in situations:
        yield from (("caution", name) for name in of_situation(library, situation))


def _entry(library: Library, step: Reply | Repair) -> Check | Item | None:
    return library.checks[step.check] if isinstance(step, Reply) else library.items.get(step.unit)


def taken_back(walk: Walk, step: Reply | Repair) -> Walk:
    """The walk that remembers the access of a step which counts no more: taking an answer back closes no panel."""
    entry = _entry(walk.library, step)
    return replace(walk, opened=walk.opened.union(entry.access)) if entry else walk


def lacking(walk: Walk, case: Case, step: Reply | Repair) -> Walk:
    """The walk with a case that lacks one of its steps.

    What was recorded after so many steps is numbered anew, so that a step which is made again opens again.
    """
    place = walk.open_case.steps.index(step)
    again = {(one.kind, one.name) for one in left(walk) if not one.closed}
    undone = (one for one in walk.undone if (one.kind, one.name) not in again)
    return replace(
        taken_back(walk, step),
        case=case,
        undone=tuple(replace(one, after=one.after - (one.after > place)) for one in undone),
        sightings=tuple(replace(one, after=one.after - (one.after > place)) for one in walk.sightings),
        remarks=tuple(replace(one, after=one.after - (one.after > place)) for one in walk.remarks),
        added=tuple(replace(one, after=one.after - (one.after > place)) for one in walk.added),
    )


def still_open(walk: Walk, kind: str, name: str) -> tuple[Left, ...]:
    """Those that are left open and meant: one, or all for an empty name; CaseError where there is none."""
    found = tuple(one for one in left(walk) if not one.closed and (not name or (one.kind, one.name) == (kind, name)))
    if not found:
        raise CaseError("nothing is left open in this case" if not name else f"'{name}' is not left open in this case")
    return found
