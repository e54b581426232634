"""Which cause or item is meant by an id or some words, and whether it has a part in the reports of a case."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from faultree.base.errors import CaseError, UnknownName
from faultree.base.words import near

if TYPE_CHECKING:
    from faultree.journal.records import Found, Record
    from faultree.library.model import Library


def cause_named(library: Library, record: Record, typed: str) -> str:
    """The cause (full id) of an id, or of words that fit only one: of the case, else of the library."""
    return _named("cause", {name: one.title for name, one in library.causes.items()}, parts_of(library, record), typed)


def item_named(library: Library, record: Record, typed: str) -> str:
    """The item (full id) of an id, or of words that fit only one: of the case, else of the library."""
    return _named("item", {name: one.title for name, one in library.items.items()}, parts_of(library, record), typed)


def _named(kind: str, titles: dict[str, str], parts: Sequence[str], typed: str) -> str:
    from faultree.walk import names

    here = {name: title for name, title in titles.items() if name in parts}
    for pool in (here, titles):
        found = names.matches(typed, pool)
        if len(found) == 1:
            return found[0]
        if found:
            raise UnknownName(kind, typed, found[:6], ambiguous=True)
    raise UnknownName(kind, typed, _close(typed, here) or _close(typed, titles))


def _close(typed: str, titles: dict[str, str]) -> list[str]:
    """The ids that come near, or whose titles do."""
    by_title = {title: name for name, title in titles.items()}
    short = {name.partition("/")[2]: name for name in titles}
    found = [by_title[one] for one in near(typed, by_title)] or [short[one] for one in near(typed, short)]
    return list(dict.fromkeys(found))


def parts_of(library: Library, record: Record) -> Sequence[str]:
    """The causes and items that have a part in the reports of a case; all of them where it has none that can be."""
    from faultree.reports.fit_now import symptoms_now
    from faultree.strategy.case import Case
    from faultree.walk.reported import together

    try:
        case = Case.open(library, together(library, symptoms_now(library, record)))
    except CaseError:
        return (*library.causes, *library.items)
    causes = [one.cause for one in case.ranking() if one.implicated]
    return (*causes, *_items(library, causes))


def _items(library: Library, causes: Iterable[str]) -> Iterable[str]:
    return dict.fromkeys(item for name in causes if (item := library.causes[name].item))


def unrelated(library: Library, record: Record, found: Found) -> str:
    """Why a finding may be a mistake: it has no part in the reports, or another cause stands; empty where neither."""
    from faultree.walk.titles import title

    meant = found.cause or found.unit
    if meant not in parts_of(library, record):
        return f"'{title(library, meant)}' has no part in what case {record.head.id} reports"
    others = [one for one in record.findings if one.result == "confirmed"] if found.result == "confirmed" else []
    if others:
        named = title(library, others[0].cause or others[0].unit)
        return (
            f"case {record.head.id} has a confirmed cause already, '{named}' (finding {others[0].number}; 'faultree "
            f"debrief withdraw {record.head.id} --finding {others[0].number}' takes it back)"
        )
    return ""
