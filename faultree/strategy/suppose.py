"""What would follow if a check were answered, or if some cause were present: many suppositions in one run."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.belief.engine import Given, On
from faultree.strategy.bench import Bench, unit_probabilities

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.posterior import Posterior

    Floats = NDArray[np.float64]

APART = 1e-3
"""A cause as likely as this to have to do with the report is supposed by itself; the others of its unit together."""


class Group(NamedTuple):
    """Some causes of one unit (by its place on the bench), and P(one of them is present / evidence)."""

    unit: int
    chance: float
    present: Given


@dataclass(frozen=True, eq=False)
class Supposed:
    """Groups of causes, and P(point / group, evidence) for every point of the plan (points x groups)."""

    groups: tuple[Group, ...]
    points: Floats

    def only(self, places: Sequence[int]) -> Supposed:
        """The same for a few of the groups."""
        return Supposed(tuple(self.groups[place] for place in places), self.points[:, list(places)])


def groups_of(posterior: Posterior, bench: Bench) -> tuple[Group, ...]:
    """The causes of every suspected unit: likely ones each by itself, the others of a unit together."""
    units = unit_probabilities(posterior, bench, posterior.result.causes)
    parts = bench.concerned(units) / np.maximum(units, 1e-300)
    spans, causes = posterior.frame.prior.listed.spans, posterior.result.causes
    groups = []
    for unit in bench.suspected(units).tolist():
        row = int(bench.rows[unit])
        first, end = spans[row]
        chances = causes[first:end].tolist()
        likely = [[value] for value, chance in enumerate(chances) if chance * parts[unit] >= APART]
        others = [value for value, chance in enumerate(chances) if chance * parts[unit] < APART]
        for some in [*likely, others] if others else likely:
            factors = (0.0, *(float(value in some) for value in range(len(chances))))
            groups.append(Group(unit, sum(chances[value] for value in some), Given(row, factors)))
    return tuple(groups)


def suppose(posterior: Posterior, groups: Sequence[Group]) -> Supposed:
    """Every point with each group in turn; the plan has one engine."""
    found = posterior.plan.engines[0].run(posterior.findings, [[group.present] for group in groups])
    return Supposed(tuple(groups), found.points)


def by_branch(posterior: Posterior, bench: Bench, branches: Sequence[On]) -> Floats:
    """P(unit is at fault / evidence and branch), a row for each unit of the bench, a column for each branch."""
    results = posterior.plan.run_columns(posterior.findings, [[on] for on in branches])
    return unit_probabilities(posterior, bench, np.stack([result.causes for result in results], axis=1))


def by_group(posterior: Posterior, bench: Bench, branches: Sequence[On], supposed: Supposed) -> Floats:
    """The same by Bayes' rule from P(branch / group of causes); units without a group stay as likely as now."""
    units = np.repeat(unit_probabilities(posterior, bench, posterior.result.causes)[:, None], len(branches), axis=1)
    likelihood, chance = likelihoods(posterior, branches, supposed.points)
    places = np.array([group.unit for group in supposed.groups], dtype=np.intp)
    joint = likelihood * np.array([group.chance for group in supposed.groups])
    units[places] = 0.0
    np.add.at(units, places, (joint / np.maximum(chance, 1e-300)[:, None]).T)
    return np.clip(units, 0.0, 1.0)


def likelihoods(posterior: Posterior, branches: Sequence[On], points: Floats) -> tuple[Floats, Floats]:
    """P(branch / group) (branches x groups) from P(point / group), and P(branch) as things are."""
    places = [posterior.plan.place[on.point] for on in branches]
    off, on = np.array([one.off for one in branches]), np.array([one.on for one in branches])
    given = off[:, None] + (on - off)[:, None] * points[places]
    return given, off + (on - off) * posterior.view.points[places]
