"""What is there today: who is at the aircraft, which tools, access and parts are missing, and what waits for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal, NamedTuple, get_args

from faultree.base.errors import CaseError, UnknownName
from faultree.base.words import listing, near
from faultree.library.model import Library
from faultree.walk import titles

LackKind = Literal["tool", "access", "check", "unit"]


class Lack(NamedTuple):
    """What is missing today: a tool (in the author's words), an access, or one check or unit by itself (full ids)."""

    kind: LackKind
    name: str


@dataclass(frozen=True, slots=True)
class Today:
    """Who can work (None: anyone) and what is missing."""

    by: tuple[str, ...] | None = None
    lacks: tuple[Lack, ...] = ()

    @property
    def repairs(self) -> bool:
        """Whether somebody is there who may put something right: anyone but the crew."""
        return self.by is None or any(one != "crew" for one in self.by)


ANY = Today()
"""Everybody and everything is there."""


def only(by: tuple[str, ...] | None) -> str:
    """Whose checks are proposed, where that is not anyone's.

    >>> only(("crew", "line")), only(None)
    ('only checks by the crew and the line are proposed', '')
    """
    return f"only checks by {people(by)} are proposed" if by is not None else ""


def people(by: tuple[str, ...]) -> str:
    """Who can work, in words.

    >>> people(("line",))
    'the line'
    """
    return listing(f"the {one}" for one in by)


def possible(library: Library, today: Today, step: str) -> bool:
    """Whether a check or the repair of a unit can be done with who and what is there today."""
    if step in waiting(library, today.lacks):
        return False
    if step in library.checks:
        return today.by is None or library.checks[step].by in today.by
    return today.repairs


@lru_cache(maxsize=64)
def waiting(library: Library, lacks: tuple[Lack, ...]) -> frozenset[str]:
    """The checks and units (full ids) that need what is missing."""
    missing = frozenset(lacks)
    if not missing:
        return frozenset()
    return frozenset(name for name in _steps(library) if not missing.isdisjoint(needs(library, name)))


def _steps(library: Library) -> Iterator[str]:
    """Every check, item and cause without item."""
    yield from library.checks
    yield from library.items
    yield from (cause.id for cause in library.causes.values() if cause.item is None)


def needs(library: Library, step: str) -> tuple[Lack, ...]:
    """What a check or the repair of a unit needs: its tools, its access, and last the step itself."""
    entry = library.checks.get(step) or library.items.get(step)
    tools = library.checks[step].tools if step in library.checks else ()
    own = Lack("check" if step in library.checks else "unit", step)
    access = entry.access if entry else ()
    return (*(Lack("tool", tool) for tool in tools), *(Lack("access", name) for name in access), own)


def nameable(library: Library) -> dict[Lack, str]:
    """Every tool and access of a library with its words."""
    tools = dict.fromkeys(Lack("tool", tool) for check in library.checks.values() for tool in check.tools)
    return {one: words(library, one) for one in (*tools, *(Lack("access", name) for name in library.access))}


def words(library: Library, lack: Lack) -> str:
    r"""What is missing, in words.

    >>> from faultree.library.load import load_texts
    >>> words(load_texts({"a.yaml": "faultree: 1\ntitle: A"}), Lack("tool", "multimeter"))
    'multimeter'
    """
    if lack.kind == "access":
        return library.access[lack.name].title
    if lack.kind == "check":
        return f"the check “{library.checks[lack.name].title}”"
    if lack.kind == "unit":
        return f"the means to put right: {titles.unit_title(library, lack.name)}"
    return lack.name


def lack_of(library: Library, kind: str, name: str) -> Lack:
    """The lack of this kind and name; CaseError for another kind, UnknownName where no step needs such a thing."""
    known = next((one for one in get_args(LackKind) if one == kind), None)
    if known is None:
        raise CaseError(f"'{kind}' is none of tool, access, check and unit")
    tables = {"check": library.checks, "unit": dict.fromkeys(set(_steps(library)) - set(library.checks))}
    names = list(tables.get(known, {})) or [one.name for one in nameable(library) if one.kind == known]
    if name not in names:
        raise UnknownName(known, name, near(name, names))
    return Lack(known, name)
