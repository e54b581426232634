"""What the checks can tell apart: ambiguity groups, faults that none reveals, checks that add nothing, and shares."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import fsum
from typing import TYPE_CHECKING, NamedTuple

from faultree.strategy.dependency import Matrix, dependency_matrix
from faultree.strategy.observe import Split, best_split

if TYPE_CHECKING:
    from faultree.library.model import Library

DETECTED_OF = "the prior probability of all single faults that cause the symptom"
"""What the fraction detected is a fraction of."""

ISOLATED_OF = "the prior probability of the single faults that some check reveals"
"""What the fractions isolated are fractions of."""

SIZES = (1, 2, 3)
"""Fractions isolated are given for so many replaceable items or fewer."""


class Idle(NamedTuple):
    """A check that adds nothing beside another one: whatever it tells, `beside` tells as well and as surely.

    With `equal` each tells what the other does (the matrix has equal columns); else `beside` tells more.
    """

    check: str
    beside: str
    equal: bool


@dataclass(frozen=True, eq=False)
class Testability:
    """What follows from a dependency matrix; sums are of prior probabilities, one fault at a time.

    `answers` of imperfect checks are taken as the right ones, so every figure says what the checks could
    tell at best. Terms: IEEE 1522 and MIL-HDBK-2165 (ambiguity group, fraction detected, fraction isolated).
    """

    __test__ = False  # so that pytest does not take the class for a test

    matrix: Matrix

    @cached_property
    def alike(self) -> tuple[tuple[str, ...], ...]:
        """All faults parted by their rows, likeliest first: within a part every check gives the same answer."""
        parts: dict[tuple[str, ...], list[str]] = {}
        for cause in sorted(self.matrix.causes, key=self._by_weight):
            parts.setdefault(self.matrix.rows[cause], []).append(cause)
        return tuple(sorted(map(tuple, parts.values()), key=lambda part: -self.weight(part)))

    @property
    def groups(self) -> tuple[tuple[str, ...], ...]:
        """The ambiguity groups: two or more causes that no check separates."""
        return tuple(part for part in self.alike if len(part) > 1)

    @property
    def item_groups(self) -> tuple[tuple[str, ...], ...]:
        """Items (or causes without one), two or more, that share an ambiguity group: a fault in each looks the same."""
        found = (self.units(part) for part in self.alike)
        return tuple(dict.fromkeys(units for units in found if len(units) > 1))

    @cached_property
    def unrevealed(self) -> tuple[str, ...]:
        """Causes with which every check shows what it shows with nothing wrong, likeliest first."""
        return tuple(one for part in self.alike for one in part if not self.matrix.responding[one])

    @cached_property
    def detected(self) -> float | None:
        """The fraction detected, of DETECTED_OF; None where no single fault causes the symptom."""
        whole = self.weight(self.matrix.causes)
        return min(self._revealed_weight / whole, 1.0) if whole else None

    @cached_property
    def isolated(self) -> Mapping[int, float | None]:
        """For 1, 2 and 3 items: the fraction isolated to so many or fewer, of ISOLATED_OF.

        None where no check reveals any of the faults.
        """
        revealed = [part for part in self.alike if self.matrix.responding[part[0]]]
        whole = self._revealed_weight
        found: dict[int, float | None] = {}
        for size in SIZES:
            small = fsum(self.weight(part) for part in revealed if len(self.units(part)) <= size)
            found[size] = min(small / whole, 1.0) if whole else None  # rounding may lead out of the range
        return found

    @cached_property
    def telling(self) -> tuple[str, ...]:
        """The checks that do not show the same whatever is wrong, in library order."""
        return tuple(name for name in self.matrix.checks if len(set(_column(self.matrix, name))) > 1)

    @cached_property
    def idle(self) -> tuple[Idle, ...]:
        """The telling checks that add nothing beside another one, in library order.

        What a check tells is how it parts the faults and the good state; it tells it as surely as another one
        where its worst chance of a wrong answer is no larger. Of checks that are equal in both, the quickest
        counts as the one that adds something.
        """
        return tuple(_idle(self.matrix, self.telling))

    @cached_property
    def splits(self) -> tuple[Split | None, ...]:
        """For each of `groups`, the signal or event that would split it best if it could be observed."""
        return tuple(best_split(self.matrix, group) for group in self.groups)

    def units(self, causes: Iterable[str]) -> tuple[str, ...]:
        """The items (or causes without one) of some causes, each once."""
        return tuple(dict.fromkeys(map(self.matrix.unit, causes)))

    def weight(self, causes: Iterable[str]) -> float:
        """The sum of the prior probabilities of some causes."""
        return fsum(map(self.matrix.weight, causes))

    @property
    def _revealed_weight(self) -> float:
        return self.weight(one for one in self.matrix.causes if self.matrix.responding[one])

    def _by_weight(self, cause: str) -> float:
        return -self.matrix.weight(cause)

    def to_dict(self) -> dict[str, object]:
        """Plain data, safe for JSON; what a fraction is of stands beside it."""
        return {
            "single_faults": list(self.matrix.causes),
            "groups": [list(one) for one in self.groups],
            "item_groups": [list(one) for one in self.item_groups],
            "splits": [one._asdict() if one else None for one in self.splits],
            "unrevealed": list(self.unrevealed),
            "idle_checks": [one._asdict() for one in self.idle],
            "detected": self.detected,
            "detected_of": DETECTED_OF,
            "isolated": {str(size): share for size, share in self.isolated.items()},
            "isolated_of": ISOLATED_OF,
        }


def assess(library: Library, symptom: str, by: Iterable[str] | None = None) -> Testability:
    """What the checks tell of the single faults behind a symptom (full id).

    `by` admits only checks for crew, line or shop.
    """
    return Testability(dependency_matrix(library, symptom, by))


def _column(matrix: Matrix, check: str) -> tuple[str, ...]:
    """A check's answers for every fault, and last with nothing wrong."""
    return (*matrix.answers[check], matrix.usual[check])


def _parted(column: Iterable[str]) -> tuple[int, ...]:
    """What a column tells, whatever its answers are called: for each place, where its answer stands first.

    >>> _parted(["no", "yes", "no"]) == _parted(["lit", "dark", "lit"])
    True
    """
    first: dict[str, int] = {}
    return tuple(first.setdefault(answer, at) for at, answer in enumerate(column))


def _finer(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    """Whether what is alike to `one` is alike to `other`, so that `one` tells all that `other` tells.

    >>> _finer((0, 1, 2), (0, 1, 0)), _finer((0, 1, 0), (0, 1, 2))
    (True, False)
    """
    return len(set(zip(one, other, strict=True))) == len(set(one))


class _Told(NamedTuple):
    """What a check tells, how often it errs at worst, and how long it takes."""

    parted: tuple[int, ...]
    errs: float
    minutes: float

    def covers(self, other: _Told) -> bool:
        """Whether this tells all that the other tells, and as surely."""
        return self.errs <= other.errs and _finer(self.parted, other.parted)


def _idle(matrix: Matrix, checks: Iterable[str]) -> Iterator[Idle]:
    library = matrix.library
    told = {
        name: _Told(_parted(_column(matrix, name)), errs(library, name), minutes_of(library, name)) for name in checks
    }
    needed: list[str] = []
    for name in sorted(told, key=lambda one: (-len(set(told[one].parted)), told[one].errs, told[one].minutes)):
        if not any(told[one].covers(told[name]) for one in needed):
            needed.append(name)
    for name, own in told.items():
        if name not in needed:
            covering = [one for one in needed if told[one].covers(own)]
            beside = min(covering, key=lambda one: (told[one].parted != own.parted, told[one].minutes))
            yield Idle(name, beside, equal=told[beside].parted == own.parted)


def errs(library: Library, check: str) -> float:
    """The worst chance of a check to give a wrong answer."""
    entry = library.checks[check]
    return max(entry.false_yes, entry.false_no, entry.error)


def minutes_of(library: Library, check: str) -> float:
    """The minutes of a check with all the access that it needs."""
    entry = library.checks[check]
    return entry.minutes + fsum(library.access[name].minutes for name in entry.access)
