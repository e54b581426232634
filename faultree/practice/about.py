"""What a manual would say of a system or a part: where it is, what it does and what that hangs on; never how likely."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from faultree.base.words import listing
from faultree.library.model import Event, Gate, Library, Operand, Signal, refs
from faultree.logic.graph import operands
from faultree.walk.names import matches
from faultree.walk.titles import unit_title


class About(NamedTuple):
    """A title, sentences, and lines of a label and what belongs to it."""

    title: str
    sentences: tuple[str, ...]
    lines: tuple[tuple[str, str], ...]


KINDS = {"all": "all of", "any": "one of", "none": "none of", "one_of": "exactly one of", "not": "not"}
"""The gates in words, before what they join."""


def about(library: Library, symptom: str, words: str) -> About | tuple[str, ...]:
    """What `words` mean: a system or a part, the reported system where there are none; else what they fit (titles)."""
    if not words:
        name = symptom.partition("/")[0]
        more = f"about {name} shows how it works, about and a part where that is"
        return about_system(library, name)._replace(lines=(("More", more),))
    if words in library.systems:
        return about_system(library, words)
    units = {
        unit: unit_title(library, unit) for unit in dict.fromkeys(one.item or one.id for one in library.causes.values())
    }
    found = matches(words, units)
    if len(found) == 1:
        return about_unit(library, found[0])
    if not found:
        found = matches(words, {name: one.title for name, one in library.systems.items()})
        return about_system(library, found[0]) if len(found) == 1 else ()
    return tuple(units[one] for one in found)


def about_system(library: Library, name: str) -> About:
    """A system (file id): its summary, and of each of its signals what it needs."""
    system = library.systems[name]
    nodes = [one for table in (library.signals, library.events) for one in table.values() if one.system == name]
    lines = tuple((one.title, needs) for one in nodes if (needs := _needs(library, one)))
    authority = (f"Manual: {system.authority}.",) if system.authority else ()
    return About(system.title, (*filter(None, (system.summary,)), *authority), lines)


def about_unit(library: Library, unit: str) -> About:
    """A part (full id of an item, or of a cause without one): where it is, what it acts on, what that leads to."""
    return About(unit_title(library, unit), (), tuple(_lines(library, unit)))


def _lines(library: Library, unit: str) -> Iterator[tuple[str, str]]:
    item = library.items.get(unit)
    if item is not None and item.place:
        yield "Where", item.place
    manual = item.manual if item is not None else library.causes[unit].manual
    if manual:
        yield "Manual", manual
    causes = {one.id for one in library.causes.values() if (one.item or one.id) == unit}
    for node in _users(library, causes):
        yield "Acts on", node.title
        if needs := _needs(library, node):
            yield "", f"which needs {needs}"
        if onward := listing([one.title for one in _users(library, {node.id})]):
            yield "", f"and leads to: {onward}"


def _users(library: Library, names: set[str]) -> Iterator[Signal | Event]:
    """The signals and events that hang on one of these nodes directly."""
    for table in (library.signals, library.events):
        for node in table.values():
            if any(ref.id in names for operand in operands(node) for ref in refs(operand)):
                yield node


def _needs(library: Library, node: Signal | Event) -> str:
    """What a signal follows, or an event consists of, in words; empty where it hangs on nothing."""
    operand = node.follows if isinstance(node, Signal) else node.gate
    return "" if operand is None else _words(library, operand)


def _words(library: Library, operand: Operand) -> str:
    if not isinstance(operand, Gate):
        tables = (library.signals, library.events, library.causes, library.conditions)
        return next(table[operand.id].title for table in tables if operand.id in table)
    inner = listing(_inside(library, one) for one in operand.operands)
    if operand.kind == "not":
        return f"not {inner}"
    count = f"at least {operand.count} of" if operand.kind == "at_least" else KINDS[operand.kind]
    return f"{count}: {inner}"


def _inside(library: Library, operand: Operand) -> str:
    said = _words(library, operand)
    return f"({said})" if isinstance(operand, Gate) and operand.kind != "not" else said
