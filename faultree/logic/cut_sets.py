"""The minimal cut sets of a symptom, likeliest first, and what was left out where there are too many."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import fsum
from typing import TYPE_CHECKING, NamedTuple

from faultree.logic.decisions import Decisions, Question, decide, question_of
from faultree.logic.diagram import TooLarge
from faultree.logic.families import Families
from faultree.logic.listing import Family
from faultree.logic.small_sets import singles_and_pairs

if TYPE_CHECKING:
    from faultree.library.model import Library

MOST_LISTED = 50_000
"""So many sets are listed unless told otherwise."""

MOST_PAIRS = 4_000_000
"""So many sets are kept where singles and pairs were tried one by one."""

ROUNDING = 1e-12
"""Share of a sum of probabilities that rounding may hide."""


class Limits(NamedTuple):
    """How many steps a diagram, and then a family, may take before a coarser way is tried."""

    diagram: int = 600_000
    family: int = 600_000


class CutSets(tuple[frozenset[str], ...]):
    """The minimal sets of causes that produce a symptom, as a tuple, likeliest first.

    `probabilities` holds, in the same order, P(all causes of the set are present). `complete` says whether
    every minimal set is listed; if not, `cut_off` says in words what is missing, and `left_out` bounds the
    probability that the symptom comes from missing sets alone. `count` is the number of all minimal sets,
    listed or not, or None where that is not known; `orders` splits it by size, as far as it is known.
    """

    symptom: str
    probabilities: tuple[float, ...]
    count: int | None  # type: ignore[assignment]  # hides tuple.count: no set stands in it twice
    orders: Mapping[int, int]
    cut_off: str
    left_out: float

    @property
    def complete(self) -> bool:
        """Whether every minimal set is listed."""
        return not self.cut_off

    @classmethod
    def of(
        cls,
        symptom: str,
        sets: Sequence[tuple[frozenset[str], float]],
        count: int | None,
        orders: Mapping[int, int],
        cut_off: str,
        left_out: float,
    ) -> CutSets:
        """The sets with what is known of them."""
        made = cls(one for one, _ in sets)
        made.symptom, made.probabilities = symptom, tuple(weight for _, weight in sets)
        made.count, made.orders, made.cut_off, made.left_out = count, orders, cut_off, left_out
        return made


def cut_sets(
    library: Library,
    symptom: str,
    max_order: int | None = None,
    least_probability: float | None = None,
    most: int = MOST_LISTED,
) -> CutSets:
    """The minimal cut sets of a symptom (by full or unique short id); raises UnknownName.

    A set is minimal when it produces the symptom in its situation, with nothing else wrong, and no part of it
    does; so logic with `not`, `none` or `one_of` needs no other definition. No set has two causes of one item,
    which exclude each other. `max_order` limits the causes in a set, `least_probability` its probability, and
    `most` how many are listed. Equally likely sets come smaller ones first, then in the order of the files.
    """
    return minimal_sets(library, library.symptom_id(symptom)).listed(max_order, least_probability, most)


def minimal_sets(library: Library, symptom: str, limits: Limits = Limits()) -> MinimalSets:
    """All minimal sets of a symptom (by full id), not listed yet."""
    question = question_of(library, symptom)
    probabilities = {name: library.causes[name].probability for group in question.groups for name in group}
    file_order = {name: number for number, name in enumerate(library.causes)}
    return MinimalSets(symptom, question, probabilities, file_order, limits)


class Known(NamedTuple):
    """A family of minimal sets; all of them, or with a `reach`: all of up to so many causes."""

    family: Family
    reach: int | None


@dataclass(frozen=True, eq=False)
class MinimalSets:
    """All minimal sets of a symptom as a family in a diagram, as far as that can be built.

    `probabilities` holds those of all causes that matter to the symptom.
    """

    symptom: str
    question: Question
    probabilities: Mapping[str, float]
    file_order: Mapping[str, int]
    limits: Limits = Limits()

    @cached_property
    def decisions(self) -> Decisions | None:
        """The symptom as a diagram; None where that is too large."""
        try:
            return decide(self.question, self.limits.diagram)
        except TooLarge:
            return None

    @cached_property
    def known(self) -> Known:
        """All minimal sets, or all of up to so many causes where the others cannot be had."""
        if self.decisions is not None:
            for reach in (None, 4, 3):
                families = Families(self.limits.family)
                try:
                    return Known(self._named(families, families.minimal(self.decisions, reach)), reach)
                except TooLarge:
                    continue
        return self._few

    @cached_property
    def _few(self) -> Known:
        """All sets of one or two causes, tried one by one; where even these are too many, of one."""
        place = {name: number for number, name in enumerate(self.question.names)}
        sets = [tuple(sorted(place[name] for name in one)) for one in singles_and_pairs(self.question)]
        families, reach = Families(MOST_PAIRS), 2 if len(self.question.groups) > 2 else None
        try:
            root = families.of(sets)
        except TooLarge:
            families, reach = Families(len(place)), 1
            root = families.of(one for one in sets if len(one) < 2)
        families.most += len(place)  # room to cut pairs down to single causes
        return Known(self._named(families, root), reach)

    def _named(self, families: Families, root: int) -> Family:
        names = self.question.names
        return Family(families, root, names, tuple(self.probabilities[name] for name in names))

    def listed(self, max_order: int | None = None, least: float | None = None, most: int = MOST_LISTED) -> CutSets:
        """The sets within some limits."""
        family, reach = self.known
        try:
            kept = family if max_order is None else family.limited(max_order)
        except TooLarge:  # then singles and pairs will do
            return replace(self, limits=Limits(0, 0)).listed(max_order, least, most)
        sets = kept.first(most, least or 0.0)
        missing = _missing(family, kept, len(sets), reach, max_order, least if len(sets) < most else None)
        left = self.many_faults(reach + 1) if reach is not None else 0.0
        if len(sets) < family.count:
            listed = fsum(weight for _, weight in sets)
            left += max(family.total - listed, 0.0) + family.total * ROUNDING
        ordered = sorted(sets, key=self._rank)
        count = family.count if reach is None else None
        return CutSets.of(self.symptom, ordered, count, family.orders, missing, min(left, 1.0))

    def _rank(self, one: tuple[frozenset[str], float]) -> tuple[float, int, list[int]]:
        """Likeliest first, what differs by rounding alone counting as equal; then smaller; then as in the files."""
        return -float(f"{one[1]:.12e}"), len(one[0]), sorted(self.file_order[name] for name in one[0])

    def many_faults(self, least: int) -> float:
        """P(so many units or more are at fault, and no cause is present that is enough alone).

        What a minimal set of so many causes brings about, and no single cause does, needs that.
        """
        enough = {name for name, share in self.known.family.shares.items() if share.order == 1}
        shares = [1.0] + [0.0] * least
        for group in self.question.groups:
            bad = fsum(self.probabilities[name] for name in group if name not in enough)
            good = 1.0 - fsum(self.probabilities[name] for name in group)
            shares[least] = shares[least] * (good + bad) + shares[least - 1] * bad
            for number in range(least - 1, 0, -1):
                shares[number] = shares[number] * good + shares[number - 1] * bad
            shares[0] *= good
        return shares[least]


def _missing(
    family: Family, kept: Family, listed: int, reach: int | None, max_order: int | None, least: float | None
) -> str:
    """What is not listed, in words; empty where everything is."""
    found = []
    if max_order is not None and kept.count < family.count:
        found.append(f"{_sets(family.count - kept.count)} of more than {_causes(max_order)}")
    if listed < kept.count:
        why = "less likely than those listed" if least is None else f"less likely than {least:g}"
        found.append(f"{_sets(kept.count - listed)} {why}")
    if reach is not None:
        found.append(f"all sets of more than {_causes(reach)}, which are too many to find")
    return " and ".join(found)


def _sets(number: int) -> str:
    return f"{number:,} set{'' if number == 1 else 's'}"


def _causes(number: int) -> str:
    return f"{number} cause{'' if number == 1 else 's'}"
