"""Which cause or item is meant by an id or some words, and whether it has a part in the reports of a case."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from faultree.base.errors import CaseError, UnknownName
from faultree.base.words import near

if TYPE_CHECKING:
    from faultree.belief.posterior import Suspect
    from faultree.journal.records import Found, Record
    from faultree.library.model import Library

AGAINST = 0.5
"""A report speaks against a cause whose probability it takes below this share of what it was."""


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
    ranking = _ranking(library, record)
    if ranking is None:
        return (*library.causes, *library.items)
    return _with_items(library, [one.cause for one in ranking])


def _likely_enough(library: Library, record: Record) -> Sequence[str]:
    """Those of them that the reports do not speak against: they make a cause of it no less likely than it was."""
    ranking = _ranking(library, record)
    if ranking is None:
        return (*library.causes, *library.items)
    return _with_items(library, [one.cause for one in ranking if one.probability >= AGAINST * one.prior])


def _ranking(library: Library, record: Record) -> Sequence[Suspect] | None:
    """The suspects of the reports alone; None where none is known or possible."""
    from faultree.reports.fit_now import symptoms_now
    from faultree.strategy.case import Case
    from faultree.walk.reported import together

    try:
        case = Case.open(library, together(library, symptoms_now(library, record)))
    except CaseError:
        return None
    return [one for one in case.ranking() if one.implicated]


def _with_items(library: Library, causes: Sequence[str]) -> Sequence[str]:
    items = dict.fromkeys(item for name in causes if (item := library.causes[name].item))
    return (*causes, *items)


def unrelated(library: Library, record: Record, found: Found) -> str:
    """Why a finding may be a mistake: it has no part in the reports, or another cause stands; empty where neither."""
    from faultree.walk.titles import title

    meant = found.cause or found.unit
    if meant not in parts_of(library, record):
        return f"'{title(library, meant)}' has no part in what case {record.head.id} reports"
    if meant not in _likely_enough(library, record):
        return f"what case {record.head.id} reports speaks against '{title(library, meant)}'"
    others = [one for one in record.findings if one.result == "confirmed"] if found.result == "confirmed" else []
    if others:
        named = title(library, others[0].cause or others[0].unit)
        return (
            f"case {record.head.id} has a confirmed cause already, '{named}' (finding {others[0].number}; 'faultree "
            f"debrief withdraw {record.head.id} --finding {others[0].number}' takes it back)"
        )
    return ""
