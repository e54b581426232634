"""The least expected minutes of a chart with checks that err, by plain recursion over every answer.

Exactly one cause is present. A check has the answer 0 and those that some cause gives. It gives the right one with
probability 1 - error, any other with error / (number of answers - 1); it is made once on a branch. Where an
answer was not the one that a cause would rightly give, that cause takes an error. To tell apart: a branch may end
where, with the least likely of the causes that take an error left aside while together they are no likelier than
`doubt`, no check not yet made has different right answers for two causes that call for different things; and where a
check that errs was made on it and its probability is below `least`. A check of which every answer would lead to such an
end is not made; where no other is left, the branch ends before it. To tell apart, a branch also ends at an answer
that is right for no cause at all. Causes that every check answers alike call for one
thing together. To restore: a repair ends the work if it was the right one.

Nothing of the project is used here. All values are minutes times the probability of the state.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from math import fsum
from typing import NamedTuple

from tests.oracles.least_chart import Asked, Puzzle


class Left(NamedTuple):
    """A cause that is still possible: its number, its joint chance with the answers, and whether it takes an error.

    `strange` says that some answer was right for no cause at all.
    """

    cause: int
    chance: float
    erred: bool
    strange: bool = False


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
    puzzle, ways = erring.puzzle, Ways(erring)

    @cache
    def least(left: frozenset[Left], asked: frozenset[int], opened: frozenset[int]) -> float:
        if ways.over(left, asked):
            return 0.0
        total = fsum(one.chance for one in left)
        found = []
        for number in ways.useful(left, asked):
            check = puzzle.checks[number]
            cost = check.minutes + fsum(puzzle.access[way] for way in check.access - opened)
            branches = ways.behind(left, number)
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


class Ways:
    """Which checks may be made, and where a branch ends."""

    def __init__(self, erring: Erring) -> None:
        self.erring = erring
        self.calls = _calls(erring.puzzle)

    def over(self, left: frozenset[Left], asked: frozenset[int]) -> bool:
        """Whether a branch may end."""
        if self.erring.puzzle.repairs:
            return not left
        return self.settled(left, asked) or self.cut(left, asked) or not self.useful(left, asked)

    def behind(self, left: frozenset[Left], number: int) -> list[frozenset[Left]]:
        """What the answers of a check leave."""
        return [one for one in _answered(self.erring.puzzle.checks[number], self.erring.errors[number], left) if one]

    def useful(self, left: frozenset[Left], asked: frozenset[int]) -> list[int]:
        """The checks that may be made."""
        puzzle = self.erring.puzzle
        return [
            number
            for number in sorted(set(range(len(puzzle.checks))) - asked)
            if len({puzzle.checks[number].answers[one.cause] for one in left}) > 1
            and (puzzle.repairs or not all(self.cut(one, asked | {number}) for one in self.behind(left, number)))
        ]

    def cut(self, left: frozenset[Left], asked: frozenset[int]) -> bool:
        """Whether a branch is too unlikely to be followed and not settled, or an answer on it is given by no cause."""
        if any(one.strange for one in left):
            return not self.erring.puzzle.repairs
        unlikely = fsum(one.chance for one in left) < self.erring.least
        return unlikely and any(self.erring.errors[one] for one in asked) and not self.settled(left, asked)

    def settled(self, left: frozenset[Left], asked: frozenset[int]) -> bool:
        """Whether one thing is called for, or no check that is left tells apart what calls for several."""
        puzzle, calls = self.erring.puzzle, self.calls
        kept = set(left)
        spare = self.erring.doubt * fsum(one.chance for one in left)
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


def _answered(check: Asked, error: float, left: frozenset[Left]) -> Iterator[frozenset[Left]]:
    """What each possible answer of a check leaves."""
    kinds = sorted({0, *check.answers})
    for answer in kinds:
        branch = set()
        for one in left:
            right = check.answers[one.cause] == answer
            share = 1.0 - error if right else error / (len(kinds) - 1)
            if share > 0.0:
                strange = one.strange or answer not in check.answers
                branch.add(Left(one.cause, one.chance * share, one.erred or not right, strange))
        yield frozenset(branch)


def _calls(puzzle: Puzzle) -> list[object]:
    """What each cause calls for; causes that answer all alike, but call for different things, are one."""
    rows = [tuple(check.answers[cause] for check in puzzle.checks) for cause in range(len(puzzle.chances))]
    found: list[object] = []
    for cause, row in enumerate(rows):
        wanted = {puzzle.calls[other] for other, same in enumerate(rows) if same == row}
        found.append(puzzle.calls[cause] if len(wanted) == 1 else row)
    return found
