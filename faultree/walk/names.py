"""What a person means by a few typed words: a suspect, an item, a check or a symptom by id or by title."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from faultree.base.errors import UnknownName
from faultree.base.words import near
from faultree.library.model import Entry, Library
from faultree.strategy.case import Case


def words(text: str) -> list[str]:
    """The words of a text, without case and signs.

    >>> words("Left wheel-speed sensor: DEAD")
    ['left', 'wheel', 'speed', 'sensor', 'dead']
    """
    return re.findall(r"\w+", text.casefold().replace("_", " "))


def fits(typed: str, text: str) -> bool:
    """True where every typed word begins a word of `text`.

    >>> fits("left sens", "Left wheel-speed sensor dead"), fits("right", "Left sensor")
    (True, False)
    """
    have = words(text)
    return all(any(one.startswith(word) for one in have) for word in words(typed))


def matches(typed: str, table: Mapping[str, str]) -> list[str]:
    """The keys of `table` (id to text) that `typed` can mean: an exact id or text alone, else all that fit best.

    What holds the typed words in a row goes before what holds each of them somewhere, and that before what only
    has words that begin so.

    >>> matches("pump", {"h/pump": "Pump worn", "h/line": "Pump line"})
    ['h/pump']
    >>> matches("pump li", {"h/pump": "Pump worn", "h/line": "Pump line"})
    ['h/line']
    >>> matches("row a", {"h/one": "Look at row A", "h/two": "Look at row B above the door"})
    ['h/one']
    """
    said = words(typed)
    if not said:
        return [key for key in table if key.casefold() == typed.strip().casefold()]
    exact = [key for key, text in table.items() if said in (words(key), words(_short(key)), words(text))]
    if exact:
        return exact
    fitting = [key for key, text in table.items() if fits(typed, f"{key} {text}")]
    in_a_row = [key for key in fitting if _holds(words(_short(key)), said) or _holds(words(table[key]), said)]
    whole = [key for key in fitting if set(said) <= {*words(key), *words(table[key])}]
    return in_a_row or whole or fitting


def _holds(have: list[str], said: list[str]) -> bool:
    """Whether some words stand in others, in a row."""
    return any(have[place : place + len(said)] == said for place in range(len(have) - len(said) + 1))


def symptoms(library: Library, typed: str) -> list[str]:
    """The symptoms that `typed` can mean, looking also at the phrases that crews use."""
    table = {name: one.title for name, one in library.symptoms.items()}
    found = matches(typed, table)
    if found:
        return found
    phrases = {name: " ".join((name, one.title, *one.words)) for name, one in library.symptoms.items()}
    return matches(typed, phrases)


def in_case(case: Case, typed: str) -> str:
    """The cause, item or check of this case that `typed` means; UnknownName where none or several.

    Where all that fits belongs to one item, the item is meant. What has no part in the case is found by
    its id, so that it can be said that it has none.
    """
    tables = _tables(case)
    found = [name for table in tables for name in matches(typed, table)]
    exact = [name for name in found if typed.strip().casefold() in (name.casefold(), _short(name).casefold())]
    found = list(dict.fromkeys(exact or found))
    items = {case.library.causes[name].item if name in case.library.causes else name for name in found}
    if len(found) == 1 or (len(items) == 1 and None not in items):
        return found[0] if len(found) == 1 else str(items.pop())
    if found:
        raise UnknownName("suspect or check", typed, found[:6], ambiguous=True)
    named = typed.strip().casefold()
    idle = [
        name
        for name in (*case.library.causes, *case.library.items)
        if named in (name.casefold(), _short(name).casefold())
    ]
    if len(idle) == 1:
        return idle[0]
    raise UnknownName("suspect or check", typed, idle or near(typed, [name for table in tables for name in table]))


def unit_in_case(case: Case, typed: str) -> str:
    """The unit (item, or cause without one) that `typed` means, likely ones first; UnknownName otherwise."""
    library = case.library
    likely = [unit.unit for unit in case.units()]
    loose = [cause.id for cause in library.causes.values() if cause.item is None]
    for pool in (likely, [*library.items, *loose]):
        found = matches(typed, _titles(library, pool))
        if len(found) == 1:
            return found[0]
        if found:
            raise UnknownName("item", typed, found[:6], ambiguous=True)
    raise UnknownName("item", typed, near(typed, likely))


def _tables(case: Case) -> tuple[dict[str, str], ...]:
    library = case.library
    implicated = [suspect.cause for suspect in case.ranking() if suspect.implicated]
    items = dict.fromkeys(item for name in implicated if (item := library.causes[name].item))
    return (
        _titles(library, implicated),
        _titles(library, items),
        _titles(library, library.checks),
    )


def _titles(library: Library, names: Iterable[str]) -> dict[str, str]:
    entries: dict[str, Entry] = {**library.checks, **library.causes, **library.items}
    return {name: entries[name].title for name in names}


def _short(name: str) -> str:
    return name.partition("/")[2]
