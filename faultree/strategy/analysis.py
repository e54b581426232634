"""The analysis of a symptom as one value: its fault sets, what matters most, and what the checks can tell apart."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import expm1, fsum, log1p
from typing import TYPE_CHECKING

from faultree.belief.importance import Importance, Importances, importance_of
from faultree.logic.cut_sets import CutSets, minimal_sets
from faultree.strategy.testability import Testability, assess

if TYPE_CHECKING:
    from faultree.library.model import Library, Who

TEAMS: tuple[Who, ...] = ("crew", "line", "shop")
"""Who can make a check, whoever is asked first first."""

STAGES = 3
"""So many stages are told of while an analysis is made."""


@dataclass(frozen=True, eq=False)
class Analysis:
    """What an instructor wants to know of one symptom (full id).

    `by` are those whose checks were admitted, None for everybody. `checks` speaks of the faults that cause
    the symptom alone, `cut_sets` and `importance` of all.
    """

    library: Library
    symptom: str
    by: tuple[Who, ...] | None
    cut_sets: CutSets
    importance: Importances
    checks: Testability

    @property
    def always(self) -> bool:
        """Whether the symptom is there with nothing wrong."""
        return 0 in self.cut_sets.orders

    @property
    def least_order(self) -> int:
        """The least number of faults that produce the symptom; 0 where nothing does."""
        return min(self.cut_sets.orders, default=0)

    @property
    def single_share(self) -> float:
        """About which share of the reports a single fault is behind: P(one of them is present) / P(symptom).

        That is exact for coherent logic; faults that hide the symptom can only make it less.
        """
        some = -expm1(fsum(log1p(-bad) for bad in self._single_units().values()))  # small ones keep their digits
        return min(some / self.importance.probability, 1.0) if self.importance.probability else 0.0

    def _single_units(self) -> dict[str, float]:
        """P(an item has a fault that causes the symptom alone), by item or cause without one."""
        matrix, found = self.checks.matrix, dict[str, float]()
        for cause in matrix.causes:
            found[matrix.unit(cause)] = found.get(matrix.unit(cause), 0.0) + matrix.weight(cause)
        return found

    @property
    def hindering(self) -> tuple[Importance, ...]:
        """Causes with which the symptom is less likely than without; only logic that is not coherent has any."""
        return tuple(one for one in self.importance if one.birnbaum < 0.0)

    def in_order(self, causes: Iterable[str]) -> list[str]:
        """The causes of a set in the order of the files."""
        return sorted(causes, key=self._places.__getitem__)

    @cached_property
    def _places(self) -> Mapping[str, int]:
        return {name: at for at, name in enumerate(self.library.causes)}

    @cached_property
    def teams(self) -> Mapping[tuple[Who, ...], Testability]:
        """What the checks can do that some people can make: the crew, then the line besides, then the shop.

        Only those are named who have a check that tells something; where `by` was given, only those together.
        """
        if not self.checks.matrix.causes:
            return {}
        if self.by is not None:
            return {self.by: self.checks}
        checks = self.library.checks
        telling = {checks[name].by for name in self.checks.telling}
        together = accumulate([one] for one in TEAMS if one in telling)
        return {tuple(who): assess(self.library, self.symptom, who) for who in together}

    def to_dict(self) -> dict[str, object]:
        """Plain data, safe for JSON; a reduction worth without end is None."""
        found = self.importance
        known: dict[str, object] = {"exact": found.exact}
        known |= {"probability": found.lower} if found.exact else {"lower": found.lower, "upper": found.upper}
        return {
            "symptom": self.symptom,
            **known,
            "cut_sets": [self.in_order(one) for one in self.cut_sets],
            "cut_set_probabilities": list(self.cut_sets.probabilities),
            "count": self.cut_sets.count,
            "orders": {str(order): count for order, count in self.cut_sets.orders.items()},
            "complete": self.cut_sets.complete,
            "cut_off": self.cut_sets.cut_off,
            "left_out": self.cut_sets.left_out,
            "importance": [_plain(one) for one in found],
            "importance_bound": found.bound,
            "only_bands": found.only_bands,
            "by": list(self.by or TEAMS),
            "single_share": self.single_share,
            **self.checks.to_dict(),
        }


def _plain(one: Importance) -> dict[str, object]:
    return {**one._asdict(), "reduction": one.reduction if one.reduction < float("inf") else None}


def analyse(
    library: Library,
    symptom: str,
    by: Iterable[Who] | None = None,
    *,
    max_order: int | None = None,
    least_probability: float | None = None,
    tell: Callable[[str], None] = lambda words: None,
) -> Analysis:
    """The analysis of a symptom (by full or unique short id); raises UnknownName.

    `by` admits only checks for crew, line or shop. `max_order` and `least_probability` limit which sets are
    listed, as `cut_sets` says. `tell` is called with the name of each of the STAGES as it begins.
    """
    name = library.symptom_id(symptom)
    admitted = None if by is None else frozenset(by)
    who = None if admitted is None else tuple(one for one in TEAMS if one in admitted)
    tell("Looking for the sets of faults")
    every = minimal_sets(library, name)
    listed = every.listed(max_order, least_probability)
    tell("Weighing every cause")
    weighed = importance_of(library, every)
    tell("Comparing the checks")
    return Analysis(library, name, who, listed, weighed, assess(library, name, who))
