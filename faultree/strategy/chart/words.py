"""What a chart says at its steps and ends: titles, cautions, manuals, and what to do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from faultree.library.model import Library

_ORDER = {"warning": 0, "caution": 1, "note": 2}


def ordered_cautions(library: Library, names: Iterable[str]) -> tuple[str, ...]:
    """Ids of cautions, warnings first, each once."""
    return tuple(sorted(dict.fromkeys(names), key=lambda name: _ORDER[library.cautions[name].level]))


def of_situation(library: Library, situation: str | None) -> Iterator[str]:
    """The cautions of a situation and of those it extends, the base first."""
    if situation is not None:
        this = library.situations[situation]
        yield from of_situation(library, this.extends)
        yield from this.cautions


def check_cautions(library: Library, check: str) -> tuple[str, ...]:
    """What stands before a check, with the cautions of the places where it is made, opened on the way or not."""
    this = library.checks[check]
    names = [*of_situation(library, this.situation), *_of_access(library, this.access), *this.cautions]
    return ordered_cautions(library, names)


def repair_cautions(library: Library, units: Sequence[str], symptoms: Sequence[str]) -> tuple[str, ...]:
    """What stands before a repair and the operational check after it, with the cautions of the places of its items."""
    items = [library.items[unit] for unit in units if unit in library.items]
    names = list(_of_access(library, dict.fromkeys(way for item in items for way in item.access)))
    for item in items:
        names += item.cautions
    for symptom in symptoms:
        names += of_situation(library, library.symptoms[symptom].situation)
    return ordered_cautions(library, names)


def _of_access(library: Library, ways: Iterable[str]) -> Iterator[str]:
    for way in ways:
        yield from library.access[way].cautions


def unit_title(library: Library, unit: str) -> str:
    """The title of an item, or of a cause that belongs to none."""
    return library.items[unit].title if unit in library.items else library.causes[unit].title


def manuals(library: Library, units: Sequence[str], causes: Iterable[str]) -> tuple[str, ...]:
    """Manual references of what is to be put right, each once: the items', then those of their causes."""
    of_items = [library.items[unit].manual for unit in units if unit in library.items]
    of_causes = [library.causes[cause].manual for cause in causes if (library.causes[cause].item or cause) in units]
    return tuple(dict.fromkeys(one for one in (*of_items, *of_causes) if one))


def listed(words: Sequence[str]) -> str:
    """Words in a row.

    >>> listed(["the pump", "the valve", "the line"])
    'the pump, the valve and the line'
    """
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


def put_right(library: Library, units: Sequence[str]) -> str:
    """What to do about some units, in a sentence without its full stop."""
    items = [unit_title(library, unit) for unit in units if unit in library.items]
    causes = [unit_title(library, unit) for unit in units if unit not in library.items]
    parts = ([f"replace or repair {listed(items)}"] if items else []) + (
        [f"put right: {listed(causes)}"] if causes else []
    )
    text = "; ".join(parts)
    return text[:1].upper() + text[1:]
