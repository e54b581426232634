"""How true the aircraft of an exercise is: drawn faults against the posterior, answers against their error rates.

What is expected is worked out beside the engine: which faults show a report by recursion (`tests.oracles.brute`),
how likely the report is by a decision diagram (`faultree.strategy.analysis`), priors from the library as written.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from functools import cache
from itertools import combinations, cycle, product
from math import prod
from typing import NamedTuple

from faultree.library.model import Library
from faultree.practice.scenario import Scenario, scenario
from faultree.practice.world import World
from faultree.strategy.analysis import analyse
from faultree.strategy.case import Case
from tests.oracles.brute import World as Brute
from tests.oracles.brute import choices
from tests.practice.chances import chi_square, critical

Faults = frozenset[str]

MORE: Faults = frozenset({"more"})
"""Stands for every set of more faults than it takes."""


class Agreement(NamedTuple):
    """A chi-square statistic, its degrees of freedom, and what it exceeds once in a thousand times."""

    statistic: float
    freedom: int

    @property
    def most(self) -> float:
        """The critical value; 0 where there is nothing to compare, and the statistic is 0 too."""
        return critical(self.freedom) if self.freedom else 1e-9

    @property
    def good(self) -> bool:
        """Whether chance explains the difference."""
        return self.statistic <= self.most


def drawn(library: Library, symptom: str, level: int, count: int) -> list[Scenario]:
    """So many seeded scenarios."""
    return [scenario(library, symptom, level, seed) for seed in range(count)]


def expected(library: Library, symptom: str, level: int) -> dict[Faults, float]:
    """The chance of each set of as few faults as show the report (and, at level 2, of all MORE) given it."""
    implicated = {one.cause for one in Case.open(library, [symptom]).ranking() if one.implicated}
    options = [dict(entry) for entry in choices(library) if implicated & {name for name, _ in entry}]
    good = prod(entry[None] for entry in options)
    fewest = next(found for size in (1, 2) if (found := _showing(library, symptom, options, size)))
    if level == 1:
        return {faults: odds / sum(fewest.values()) for faults, odds in fewest.items()}
    reported = analyse(library, symptom).importance
    assert reported.exact
    shares = {faults: good * odds / reported.lower for faults, odds in fewest.items()}
    return {**shares, MORE: 1.0 - sum(shares.values())}


def _showing(
    library: Library, symptom: str, options: Sequence[Mapping[str | None, float]], size: int
) -> dict[Faults, float]:
    """The sets of a size that show the report, and how likely each is against all being good."""
    told = library.symptoms[symptom]
    found: dict[Faults, float] = {}
    for entries in combinations(options, size):
        for names in product(*([name for name in entry if name is not None] for entry in entries)):
            world = Brute(library, names, told.situation)
            if all(world.node(node) == value for node, value in told.sees):
                odds = (entry[name] / entry[None] for entry, name in zip(entries, names, strict=True))
                found[frozenset(names)] = prod(odds)
    return found


def faults_agree(made: Sequence[Scenario], chances: Mapping[Faults, float]) -> Agreement:
    """Hidden faults against their chances: one cell for each of the smallest sets, one for all MORE."""
    counts = Counter(one.hidden if one.hidden in chances else MORE for one in made)
    assert set(counts) <= set(chances), set(counts) - set(chances)
    return Agreement(*chi_square([counts[faults] for faults in chances], list(chances.values())))


def answers_agree(library: Library, made: Sequence[Scenario]) -> Agreement:
    """Wrong answers of the checks that err, one check of each scenario in turn, against their error rates.

    One cell for each rate p that is expected to show five times or more: (wrong - n p)^2 / n p (1 - p).
    """

    @cache
    def right(check: str, hidden: frozenset[str]) -> str:
        asked = library.checks[check]
        world = Brute(library, hidden, asked.situation)
        return next(one.id for one in asked.answers if world.holds(one.when))

    asked, wrong = Counter[float](), Counter[float]()
    for one, check in zip(made, cycle(erring(library)), strict=False):
        true = right(check, one.hidden)
        rate = round(1.0 - library.checks[check].confusion(true, true), 9)
        asked[rate] += 1
        wrong[rate] += World(library, one).answer(check) != true
    assert not wrong[0.0]
    cells = [(wrong[rate], count * rate, count * rate * (1.0 - rate)) for rate, count in asked.items()]
    kept = [cell for cell in cells if cell[1] >= 5.0]
    return Agreement(sum((seen - mean) ** 2 / spread for seen, mean, spread in kept), len(kept))


def erring(library: Library) -> list[str]:
    """The checks that can be wrong."""
    return [
        name
        for name, check in library.checks.items()
        if any(check.confusion(one.id, one.id) < 1.0 for one in check.answers)
    ]
