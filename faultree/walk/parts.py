"""Reads the parts of a saved walk that stand beside its case; what names a thing that is gone is kept as unfit."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar, get_args

from faultree.base.errors import CaseError, UnknownName
from faultree.base.words import near
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library, Who
from faultree.walk import today
from faultree.walk.fitting import because, named, read_step
from faultree.walk.state import Added, Remark, Sighting, Undone, Unfit

Data = Mapping[str, object]
Value = TypeVar("Value")


@dataclass(frozen=True, slots=True)
class Parts:
    """Everything that a saved walk holds beside its case."""

    notes: tuple[Remark, ...]
    withdrawn: tuple[Reply | Repair, ...]
    unexplained: tuple[Reply | Repair, ...]
    not_today: tuple[today.Lack, ...]
    sightings: tuple[Sighting, ...]
    undone: tuple[Undone, ...]
    opened: tuple[str, ...]
    fitted: tuple[str, ...]
    added: tuple[Added, ...]
    by: tuple[str, ...]
    unfit: tuple[Unfit, ...]


def read(library: Library, own: Data, *, changed: bool) -> Parts:
    """The parts of a saved walk.

    Raises CaseError where one has the wrong form, and UnknownName where one names what the library does not hold;
    where the library has `changed` since, that part is kept as unfit instead, and what was unfit is tried again.
    """
    before = tuple(map(_unfit, entries(own, "unfit")))
    reader = _Reader(library, own, before if changed else (), changed)
    newest = own.get("unexplained")
    withdrawn = reader.read("withdrawn", entries(own, "withdrawn"), reader.step)
    unexplained = reader.read("unexplained", [] if newest is None else [newest], reader.step)
    lacks = reader.read("not_today", entries(own, "not_today"), reader.lack)
    undone = reader.read("undone", entries(own, "undone"), reader.undone)
    opened = reader.read("opened", entries(own, "opened"), reader.opened)
    fitted = reader.read("fitted", entries(own, "fitted"), reader.fitted)
    added = tuple(filter(None, map(reader.added, entries(own, "added"))))
    kept = [one for one in before if not changed or one.part in ("symptoms", "steps")]
    return Parts(
        notes=tuple(map(_remark, entries(own, "notes"))),
        withdrawn=withdrawn,
        unexplained=unexplained[:1],
        not_today=lacks,
        sightings=tuple(map(_sighting, entries(own, "sightings"))),
        undone=undone,
        opened=opened,
        fitted=fitted,
        added=added,
        by=tuple(map(_person, entries(own, "by"))),
        unfit=(*kept, *reader.refused),
    )


class _Reader:
    """Reads lists of parts; `refused` gathers those that name what is gone."""

    def __init__(self, library: Library, own: Data, before: Iterable[Unfit], changed: bool) -> None:
        self.library = library
        self.own = own
        self.before = tuple(before)
        self.changed = changed
        self.refused: list[Unfit] = []

    def read(self, part: str, given: list[object], one: Callable[[object], Value]) -> tuple[Value, ...]:
        """The values of one part, what was unfit before behind them."""
        found = []
        for data in (*given, *(dict(kept.data) for kept in self.before if kept.part == part)):
            try:
                found.append(one(data))
            except UnknownName as error:
                if not self.changed or not isinstance(data, Mapping):
                    raise
                self.refused.append(Unfit(0, because(error), part, data))
        return tuple(found)

    def step(self, data: object) -> Reply | Repair:
        return read_step(self.library, data, [])

    def lack(self, data: object) -> today.Lack:
        if isinstance(data, Mapping) and len(data) == 1:
            ((kind, name),) = data.items()
            return today.lack_of(self.library, str(kind), str(name))
        raise CaseError(f"{data!r} is not what was missing; write one of tool, access, check and unit with its name")

    def opened(self, data: object) -> str:
        return _one(data, "access", self.library.access)

    def fitted(self, data: object) -> str:
        return _one(data, "caution", self.library.cautions)

    def added(self, data: object) -> Added | None:
        """When a report came in; None for one that is gone, which is kept among the reports."""
        if isinstance(data, Mapping):
            match dict(data):
                case {"after": int(after), "report": str(name), **words}:
                    found = named(self.library.symptoms, name, words.get("title") if self.changed else None)
                    if found is None and not self.changed:
                        raise UnknownName("symptom", name, near(name, self.library.symptoms))
                    return Added(after, found) if found is not None else None
        raise CaseError(f"{data!r} is no report that came in later; write 'after' (a number of steps) and 'report'")

    def undone(self, data: object) -> Undone:
        if isinstance(data, Mapping):
            match dict(data):
                case {"after": int(after), "access": str(name)}:
                    return Undone(after, "access", _inside(self.library.access, "access", name))
                case {"after": int(after), "caution": str(name)}:
                    return Undone(after, "caution", _inside(self.library.cautions, "caution", name))
        raise CaseError(f"{data!r} is nothing that was closed; write 'after', and 'access' or 'caution'")


def _one(data: object, kind: str, table: Mapping[str, object]) -> str:
    """The full id in a mapping that holds nothing but it."""
    name = data.get(kind) if isinstance(data, Mapping) else None
    if not isinstance(name, str):
        raise CaseError(f"{data!r} is nothing that was left open; write '{kind}' and its id")
    return _inside(table, kind, name)


def _inside(table: Mapping[str, object], kind: str, name: str) -> str:
    if name not in table:
        raise UnknownName(kind, name, near(name, table))
    return name


def entries(own: Data, key: str) -> list[object]:
    """A list below a key; CaseError where it is none."""
    found = own.get(key, [])
    if not isinstance(found, list):
        raise CaseError(f"the saved case's '{key}' is no list; write its entries as '- ...' lines")
    return found


def _remark(data: object) -> Remark:
    if isinstance(data, Mapping):
        match dict(data):
            case {"after": int(after), "text": str(text)}:
                return Remark(after, text)
    raise CaseError(f"{data!r} is no note of a case; write 'after' (a number of steps) and 'text'")


def _person(data: object) -> str:
    found = next((one for one in get_args(Who) if one == data), None)
    if found is None:
        raise CaseError(f"{data!r} is nobody who makes checks; below 'by' write crew, line or shop")
    return str(found)


def _sighting(data: object) -> Sighting:
    if isinstance(data, Mapping):
        match dict(data):
            case {"after": int(after), "seen": bool(seen)}:
                return Sighting(after, seen)
    raise CaseError(f"{data!r} does not say whether the symptom was seen again; write 'after' and 'seen'")


def _unfit(data: object) -> Unfit:
    if isinstance(data, Mapping):
        match dict(data):
            case {"after": int(after), "because": str(reason), "part": str(part), "data": Mapping() as kept}:
                if part != "symptoms" or isinstance(kept.get("symptom"), str):
                    return Unfit(after, reason, part, kept)
    raise CaseError(f"{data!r} is no part that was kept; write 'after', 'because', 'part' and 'data'")
