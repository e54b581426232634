"""The least expected minutes of a chart with checks that err, by plain recursion over every answer.

Exactly one cause is present. A check has the answer 0 and those that some cause gives. It gives the right one with
probability 1 - error, any other with error / (number of answers - 1); it is made once on a branch. Where an
answer was not the one that a cause would rightly give, that cause takes an error. To tell apart: a branch may end
where, with the least likely of the causes that take an error left aside while together they are no likelier than
`doubt`, no check not yet made has different right answers for two causes that call for different things; and where a
check that errs was made on it and its probability is below `least`. Causes that every check answers alike call for
one thing together. To restore: a repair ends the work if it was the right one.

Nothing of the project is used here. All values are minutes times the probability of the state.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import fsum
from typing import NamedTuple

from tests.oracles.least_chart import Asked, Puzzle


class Left(NamedTuple):
    """A cause that is still possible: its number, its joint chance with the answers, and whether it takes an error."""

    cause: int
    chance: float
    erred: bool


class Erring(NamedTuple):
    """A puzzle whose checks err: `errors` by check, and when a branch may end."""

    puzzle: Puzzle
    errors: tuple[float, ...]
    doubt: float = 0.0
    least: float = 0.0


def least_with_errors(erring: Erring) -> float:
    """Expected minutes of the best way; to restore where the puzzle has repairs, else to tell apart.

    >>> one = Asked(4.0, (0, 1))
    >>> least_with_errors(Erring(Puzzle((0.5, 0.5), (0, 1), (one,)), (0.01,), 0.05))
    4.0
    >>> round(least_with_errors(Erring(Puzzle((0.5, 0.5), (0, 1), (one, one)), (0.1, 0.1), 0.05)), 9)
    8.0
    """
    puzzle = erring.puzzle
    calls = _calls(puzzle)

    @cache
    def least(left: frozenset[Left], asked: frozenset[int], opened: frozenset[int]) -> float:
        if _over(erring, calls, left, asked):
            return 0.0
        total = fsum(one.chance for one in left)
        found = []
        for number in sorted(set(range(len(puzzle.checks))) - asked):
            check = puzzle.checks[number]
            branches = [branch for branch in _answered(check, erring.errors[number], left) if branch]
            if len({check.answers[one.cause] for one in left}) > 1:
                cost = check.minutes + fsum(puzzle.access[way] for way in check.access - opened)
                found.append(
                    cost * total + fsum(least(branch, asked | {number}, opened | check.access) for branch in branches)
                )
        for repair in puzzle.repairs:
            rest = frozenset(one for one in left if one.cause not in repair.causes)
            if rest != left:
                cost = repair.minutes + fsum(puzzle.access[way] for way in repair.access - opened)
                found.append(cost * total + least(rest, asked, opened | repair.access))
        return min(found)

    start = frozenset(Left(cause, chance, False) for cause, chance in enumerate(puzzle.chances))
    return least(start, frozenset(), frozenset())


def _answered(check: Asked, error: float, left: frozenset[Left]) -> Iterator[frozenset[Left]]:
    """What each possible answer of a check leaves."""
    kinds = sorted({0, *check.answers})
    for answer in kinds:
        branch = set()
        for one in left:
            right = check.answers[one.cause] == answer
            share = 1.0 - error if right else error / (len(kinds) - 1)
            if share > 0.0:
                branch.add(Left(one.cause, one.chance * share, one.erred or not right))
        yield frozenset(branch)


def _calls(puzzle: Puzzle) -> list[object]:
    """What each cause calls for; causes that answer all alike, but call for different things, are one."""
    rows = [tuple(check.answers[cause] for check in puzzle.checks) for cause in range(len(puzzle.chances))]
    found: list[object] = []
    for cause, row in enumerate(rows):
        wanted = {puzzle.calls[other] for other, same in enumerate(rows) if same == row}
        found.append(puzzle.calls[cause] if len(wanted) == 1 else row)
    return found


def _over(erring: Erring, calls: list[object], left: frozenset[Left], asked: frozenset[int]) -> bool:
    puzzle, total = erring.puzzle, fsum(one.chance for one in left)
    if puzzle.repairs:
        return not left
    if any(erring.errors[number] for number in asked) and total < erring.least:
        return True
    kept = set(left)
    spare = erring.doubt * total
    for one in sorted((one for one in left if one.erred), key=lambda one: one.chance):
        spare -= one.chance
        if spare < 0.0 or len(kept) == 1:
            break
        kept.remove(one)
    open_checks = [check for number, check in enumerate(puzzle.checks) if number not in asked]
    return not any(
        calls[one.cause] != calls[two.cause] and check.answers[one.cause] != check.answers[two.cause]
        for one in kept
        for two in kept
        for check in open_checks
    )
