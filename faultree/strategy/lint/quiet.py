"""Silences: `x-quiet` at an entry, or at a whole file, names rules that do not apply there and says why."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from itertools import chain
from typing import TYPE_CHECKING, NamedTuple

from faultree.base.problem import Problem
from faultree.base.words import did_you_mean, listing
from faultree.strategy.lint.study import called
from faultree.strategy.lint.table import IDLE_QUIET, QUIET, RULES, UNDECIDED

if TYPE_CHECKING:
    from faultree.base.problem import Place
    from faultree.library.model import Entry, Library
    from faultree.strategy.lint.study import Found

KEY = "x-quiet"

ERRORS = frozenset(rule.name for rule in RULES if rule.level == "error")
QUIETABLE = (*(rule.name for rule in RULES if rule.level != "error"), UNDECIDED)
"""The rules that may be silenced."""


class Silence(NamedTuple):
    """A rule that is silent at an entry; `of` says which entry, as `called` does."""

    owner: tuple[str, str]
    rule: str
    of: str
    at: Place


def key_of(entry: Entry) -> tuple[str, str]:
    """What tells an entry from all others: ids are unique only within their kind."""
    return type(entry).__name__, entry.id


def entries_of(library: Library) -> Iterator[Entry]:
    """Every entry of a library that has a place, the heads of files included."""
    tables: tuple[Mapping[str, Entry], ...] = (
        library.systems, library.conditions, library.situations, library.items, library.causes, library.signals,
        library.events, library.access, library.cautions, library.checks, library.symptoms,
    )  # fmt: skip
    return chain.from_iterable(table.values() for table in tables)


def silences(library: Library) -> tuple[Silence, ...]:
    """Every silence that is written as it should be."""
    return tuple(
        Silence(key_of(entry), name, called(entry), entry.at)
        for entry in entries_of(library)
        for name, reason in _pairs(entry.extra)
        if name in QUIETABLE and _is_reason(reason)
    )


def _pairs(extra: Mapping[str, object]) -> list[tuple[str, object]]:
    written = extra.get(KEY)
    return list(written.items()) if isinstance(written, Mapping) else []


def _is_reason(reason: object) -> bool:
    return isinstance(reason, str) and any(character.isalpha() for character in reason)


def silenced(found: Found, rule: str, known: Mapping[tuple[tuple[str, str], str], Silence]) -> list[Silence]:
    """The silences that apply to something found: at its entry, at its partners, or at their files."""
    entries = (found.entry, *found.partners)
    owners = [*map(key_of, entries), *(("System", entry.system) for entry in entries)]
    return [known[owner, rule] for owner in dict.fromkeys(owners) if (owner, rule) in known]


def wrong(library: Library) -> Iterator[Problem]:
    """Silences that name no rule, or no reason, or stand where nothing can be silenced."""
    for entry in entries_of(library):
        yield from _wrong_at(called(entry), entry.at, entry.extra)
    for check in library.checks.values():
        for answer in check.answers:
            if KEY in answer.extra:
                message = f"'{KEY}' stands at answer '{answer.id}' of {called(check)}"
                yield _problem(check.at, message, "write it at the check")
    for example in library.examples:
        if KEY in example.extra:
            message = f"'{KEY}' stands at the example “{example.title}”"
            yield _problem(example.at, message, "remove it: what an example claims must hold")


def _wrong_at(of: str, at: Place, extra: Mapping[str, object]) -> Iterator[Problem]:
    if KEY in extra and not _pairs(extra):
        yield _problem(at, f"'{KEY}' of {of} silences no rule", f"write '{KEY}: {{rule: reason}}', or remove it")
    for name, reason in _pairs(extra):
        if name in ERRORS:
            yield _problem(at, f"'{KEY}' of {of} names '{name}', which is an error", "mend what is wrong instead")
        elif name not in QUIETABLE:
            hint = did_you_mean(name, QUIETABLE, f"the rules are {listing(QUIETABLE)}")
            yield _problem(at, f"'{KEY}' of {of} names the unknown rule '{name}'", hint)
        elif not _is_reason(reason):
            message = f"'{KEY}' of {of} silences '{name}' without a reason"
            yield _problem(at, message, f"write why, as in '{name}: both valves share one connector'")


def _problem(at: Place, message: str, hint: str) -> Problem:
    return Problem(at, message, hint, "error", QUIET)


def idle(known: Iterable[Silence], used: Iterable[Silence], asked: Iterable[str]) -> Iterator[Problem]:
    """Silences of rules that were asked, and found nothing there."""
    busy, rules = set(used), set(asked)
    for one in known:
        if one not in busy and one.rule in rules:
            message = f"'{KEY}' of {one.of} silences '{one.rule}', which finds nothing there"
            yield Problem(one.at, message, "remove it", "advice", IDLE_QUIET)
