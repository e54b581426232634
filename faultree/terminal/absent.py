"""What a person means by a few words behind "not today", "available" and "closed": what is missing, or left open."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

from faultree.terminal.meant import Meant, Unclear, number
from faultree.walk import events as ev
from faultree.walk import names, titles, today, undoing
from faultree.walk.prompt import Prompt
from faultree.walk.state import CheckStep, Walk
from faultree.walk.today import Lack
from faultree.walk.view import event_of

Thing = TypeVar("Thing", Lack, undoing.Left)

THIS = ("this", "it", "this check", "this step", "this part", "this one")
"""Words that mean the step on view by itself."""

ALL = ("all", "everything")
"""Words that mean all of them."""


def not_today(rest: str, shown: Prompt, walk: Walk) -> Meant:
    """What is missing: behind the words, by number, or on the step on view."""
    chosen = event_of(shown, number(rest)) if rest.isdecimal() else None
    if isinstance(chosen, ev.TakeUp):
        return ev.NotToday("check", chosen.check)
    if isinstance(chosen, ev.Replace):
        return ev.NotToday("unit", chosen.unit)
    found = _missing(walk, rest) if rest else _on_view(walk)
    if len(found) == 1:
        return ev.NotToday(*found[0])
    if not found:
        lead = f"No step needs '{rest}'. " if rest else "What is missing? "
        return Unclear(f"{lead}Type: not today, and some words of a tool, an access or a check.")
    options = [today.words(walk.library, one) for one in found]
    if not rest:
        options = [*options[:-1], "this (only this step)"]
        events = tuple(ev.NotToday(*one) for one in found)
        return Unclear("What is missing? Type: not today, and one of these", tuple(options), events)
    events = tuple(ev.NotToday(*one) for one in found[:6])
    return Unclear(f"'{rest}' fits more than one:", tuple(options[:6]), events)


def available(rest: str, shown: Prompt, walk: Walk) -> Meant:
    """What is there after all: by words of it, or all."""
    del shown
    found = _back(walk, "" if rest in ALL else rest)
    if rest in ALL or not walk.lacks:
        return ev.Available()
    if len(found) == 1:
        return ev.Available(*found[0])
    options = tuple(today.words(walk.library, one) for one in found or walk.lacks)
    events = tuple(ev.Available(*one) for one in found or walk.lacks)
    return Unclear("What is there after all? Type: available, and one of these, or all", options, events)


def closed(rest: str, shown: Prompt, walk: Walk) -> Meant:
    """What was closed or taken out: by words of it, or all."""
    del shown
    found = _closed(walk, "" if rest in ALL else rest)
    if rest in ALL:
        return ev.Closed()
    if len(found) == 1:
        return ev.Closed(found[0].kind, found[0].name)
    meant = found or _closed(walk, "")
    if not meant:
        return Unclear("Nothing is left open in this case.")
    events = tuple(ev.Closed(one.kind, one.name) for one in meant)
    options = tuple(one.words for one in meant)
    return Unclear(
        "What was closed or taken out? Type: closed, and some words of one of these, or all", options, events
    )


def _on_view(walk: Walk) -> tuple[Lack, ...]:
    """What the step on view needs and is not missing yet: its tools, its access, and last the step itself."""
    if walk.pending is None:
        return ()
    name = walk.pending.check if isinstance(walk.pending, CheckStep) else walk.pending.unit
    return tuple(one for one in today.needs(walk.library, name) if one not in walk.lacks)


def _missing(walk: Walk, typed: str) -> tuple[Lack, ...]:
    """What can be meant as missing: on the step on view, then anywhere; steps only where no tool or access fits."""
    if typed.casefold() in THIS:
        return _on_view(walk)[-1:]
    library = walk.library
    steps = {
        **{Lack("check", one.id): one.title for one in library.checks.values()},
        **{Lack("unit", one.unit): titles.unit_title(library, one.unit) for one in walk.open_case.units()},
    }
    here = {one: today.words(library, one) for one in _on_view(walk) if one.kind in ("tool", "access")}
    for table in (here, today.nameable(library), steps):
        found = _matching(table, typed)
        if found:
            return found
    return ()


def _back(walk: Walk, typed: str) -> tuple[Lack, ...]:
    """What can be meant as there after all."""
    return _matching({one: today.words(walk.library, one) for one in walk.lacks}, typed)


def _closed(walk: Walk, typed: str) -> tuple[undoing.Left, ...]:
    """What can be meant as closed or taken out again."""
    return _matching({one: one.words for one in undoing.left(walk) if not one.closed}, typed)


def _matching(table: Mapping[Thing, str], typed: str) -> tuple[Thing, ...]:
    by_key = {f"{one.kind} {one.name}": one for one in table}
    found = names.matches(typed, {key: table[one] for key, one in by_key.items()}) if typed else list(by_key)
    return tuple(by_key[key] for key in found)
