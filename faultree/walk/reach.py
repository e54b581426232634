"""Which causes a check can see at all: those that its answers are built from, through signals and events."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from faultree.library.model import Check, Library, Operand, Ref, refs
from faultree.logic.graph import definition_order, operands


@lru_cache(maxsize=4)
def seen_by_checks(library: Library) -> Mapping[str, frozenset[str]]:
    """For each check the causes that can change its answer."""
    below = {cause: frozenset({cause}) for cause in library.causes}
    for name in definition_order(library):
        below[name] = _below(below, operands(library.signals.get(name) or library.events[name]))
    return {check.id: _below(below, _answers(check)) for check in library.checks.values()}


def _answers(check: Check) -> tuple[Operand, ...]:
    read = (Ref(check.reads),) if check.reads is not None else ()
    return (*read, *(answer.when for answer in check.answers))


def _below(below: Mapping[str, frozenset[str]], parts: Iterable[Operand]) -> frozenset[str]:
    return frozenset().union(*(below.get(ref.id, frozenset()) for part in parts for ref in refs(part)))
