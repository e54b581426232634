"""The least expected minutes of a troubleshooting chart by plain dynamic programming, for one fault among a few causes.

The cost model. Exactly one cause is present. A check costs its minutes, and those of every access that it needs
and that is not yet open on the way; its answer is a function of the cause. To tell apart: the work may end where no two
causes that are still possible call for different things and give different answers to some check. To
restore: a repair costs its minutes (the operational check included) and its access, and ends the work if it
was the right one; the work ends when the report is gone.

Nothing of the project is used here. A state is the set of causes still possible and the access that is open.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from math import fsum
from typing import NamedTuple


class Asked(NamedTuple):
    """A check: its minutes, the answer that each cause gives, and the access that it needs (by number)."""

    minutes: float
    answers: tuple[int, ...]
    access: frozenset[int] = frozenset()


class Mended(NamedTuple):
    """A repair: its minutes, the causes that it puts right, and the access that it needs."""

    minutes: float
    causes: frozenset[int]
    access: frozenset[int] = frozenset()


class Puzzle(NamedTuple):
    """Causes with their chances (sum 1) and what each calls for; checks, minutes of access, and repairs."""

    chances: tuple[float, ...]
    calls: tuple[int, ...]
    checks: tuple[Asked, ...]
    access: tuple[float, ...] = ()
    repairs: tuple[Mended, ...] = ()


State = tuple[frozenset[int], frozenset[int]]


def least_to_tell_apart(puzzle: Puzzle) -> float:
    """Expected minutes of the best way to tell apart what calls for different things, as far as that is possible.

    >>> two = Asked(3.0, (0, 1, 1)), Asked(5.0, (0, 0, 1))
    >>> least_to_tell_apart(Puzzle((0.5, 0.25, 0.25), (0, 1, 2), two))
    5.5
    """

    def over(possible: frozenset[int]) -> bool:
        return not any(
            puzzle.calls[one] != puzzle.calls[two]
            and any(asked.answers[one] != asked.answers[two] for asked in puzzle.checks)
            for one in possible
            for two in possible
        )

    return _least(puzzle, over, ())


def least_to_restore(puzzle: Puzzle) -> float:
    """Expected minutes of the best way until the report is gone.

    >>> parts = Mended(12.0, frozenset({0})), Mended(5.0, frozenset({1})), Mended(4.0, frozenset({2}))
    >>> round(least_to_restore(Puzzle((0.5, 0.3, 0.2), (0, 1, 2), (), (), parts)), 9)
    13.8
    """
    return _least(puzzle, lambda possible: not possible, puzzle.repairs)


def _least(puzzle: Puzzle, over: Callable[[frozenset[int]], bool], repairs: Iterable[Mended]) -> float:
    def opening(needed: frozenset[int], opened: frozenset[int]) -> float:
        return fsum(puzzle.access[way] for way in needed - opened)

    @cache
    def least(possible: frozenset[int], opened: frozenset[int]) -> float:
        """Minutes still to be spent, times the chance that it comes to this."""
        if over(possible):
            return 0.0
        share = fsum(puzzle.chances[cause] for cause in possible)
        found = []
        for asked in puzzle.checks:
            parts: dict[int, set[int]] = {}
            for cause in possible:
                parts.setdefault(asked.answers[cause], set()).add(cause)
            if len(parts) > 1:
                later = fsum(least(frozenset(part), opened | asked.access) for part in parts.values())
                found.append(share * (asked.minutes + opening(asked.access, opened)) + later)
        for repair in repairs:
            if possible & repair.causes:
                later = least(possible - repair.causes, opened | repair.access)
                found.append(share * (repair.minutes + opening(repair.access, opened)) + later)
        return min(found)

    return least(frozenset(range(len(puzzle.chances))), frozenset())
