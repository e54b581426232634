"""Advice that looks to the end: the best first steps, each followed by a simple policy among the leading suspects."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.evidence import Reply, reading_of
from faultree.belief.plan import finding
from faultree.strategy.bench import Bench, repair_minutes, unit_probabilities
from faultree.strategy.rollout import Field, Moves, minutes_behind
from faultree.strategy.suppose import Group, Supposed, groups_of, likelihoods, suppose

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.engine import On
    from faultree.belief.posterior import Posterior
    from faultree.strategy.worth import Worth

    Floats = NDArray[np.float64]

LEADING = 1e-3
"""Groups of causes less likely than this to have to do with the report are taken together as one hypothesis."""

HYPOTHESES = 48
"""So many groups, the likeliest, are hypotheses of their own."""

CELLS = 10_000_000
"""Where supposing the hypotheses touches more numbers than this, one step ahead has to do."""

CHECKS = 64
"""So many checks, the best by bits per minute, may be made further on."""

APART = 0.02
"""A check whose answers are as likely, to within this, under every leading hypothesis tells none from another."""


def concerned(posterior: Posterior, bench: Bench, groups: Sequence[Group]) -> Floats:
    """How likely each group has to do with a report that is certain: its part of what its unit has.

    They sum to 1 at least, as the shares of repairs do.
    """
    units = unit_probabilities(posterior, bench, posterior.result.causes)
    ending = bench.concerned(units) * bench.clearing
    places = [group.unit for group in groups]
    parts = np.array([group.chance for group in groups]) / units[places]
    return np.asarray(parts * bench.concerned(units)[places] * bench.scale(ending))


def leading(posterior: Posterior, bench: Bench, supposed: Supposed | None) -> tuple[Supposed, Floats] | None:
    """The leading groups, supposed, and how likely each has to do with the report; None where it is too much work.

    What was supposed already is not worked out again.
    """
    groups = supposed.groups if supposed else groups_of(posterior, bench)
    chances = concerned(posterior, bench, groups)
    order = np.argsort(-chances, kind="stable")[:HYPOTHESES]
    places = np.sort(order[chances[order] >= LEADING]).tolist()
    if len(places) < 2:
        return None
    if supposed is None:
        if len(posterior.plan.engines) > 1 or posterior.plan.size * len(places) > CELLS:
            return None
        return suppose(posterior, [groups[place] for place in places]), chances[places]
    return supposed.only(places), chances[places]


@dataclass(frozen=True, eq=False)
class Foresight:
    """The field of the leading suspects in a case: what first steps there take to their end.

    `checks` may be made at any time, `opened` is the access open now. `supposed` and `chances` are the hypotheses.
    `given` is P(answer / hypothesis), the answers of one check behind those of the other, and `chance` P(answer).
    """

    posterior: Posterior
    bench: Bench
    opened: frozenset[str]
    checks: tuple[Worth, ...]
    supposed: Supposed
    chances: Floats
    given: Floats
    chance: Floats

    def minutes(self, checks: Sequence[str], units: Sequence[str]) -> list[float]:
        """Expected minutes until the report is gone if one of these checks or units is next, in this order."""
        check_place = {worth.check: place for place, worth in enumerate(self.checks)}
        unit_place = {self.bench.units[row]: place for place, row in enumerate(self.units.tolist())}
        places = [check_place[name] for name in checks] + [unit_place[name] for name in units]
        moves = Moves(np.arange(len(places)) < len(checks), np.array(places, dtype=np.intp))
        return minutes_behind(self.field, self.weights, moves).tolist()  # type: ignore[no-any-return]

    def knows(self, unit: str) -> bool:
        """Whether a unit belongs to a hypothesis."""
        return unit in {self.bench.units[row] for row in self.units.tolist()}

    @cached_property
    def units(self) -> NDArray[np.intp]:
        """The units of the hypotheses, by their place on the bench."""
        return np.unique([group.unit for group in self.supposed.groups])

    @cached_property
    def weights(self) -> Floats:
        """How likely each hypothesis is, the last being that none of the leading suspects has to do with it."""
        return np.append(self.chances, max(1.0 - float(self.chances.sum()), 0.0))

    @cached_property
    def field(self) -> Field:
        """The field."""
        shows, outcomes = self._outcomes
        library = self.posterior.frame.library
        access = [name for name in library.access if name not in self.opened]
        owns = np.array([[group.unit == unit for unit in self.units.tolist()] for group in self.supposed.groups])
        unit_needs = [[way in self.bench.access[unit] for way in access] for unit in self.units.tolist()]
        check_needs = [[way in library.checks[one.check].access for way in access] for one in self.checks]
        return Field(
            shows=shows,
            outcomes=outcomes,
            check_minutes=np.array([library.checks[one.check].minutes for one in self.checks]),
            check_needs=np.array(check_needs, dtype=np.bool_).reshape(len(self.checks), len(access)),
            owns=owns.astype(np.float64),
            clearing=self.bench.clearing[self.units],
            unit_minutes=self.bench.minutes[self.units],
            unit_needs=np.array(unit_needs, dtype=np.bool_).reshape(len(self.units), len(access)),
            access=np.array([library.access[name].minutes for name in access]),
            beyond=self._beyond,
        )

    @cached_property
    def _outcomes(self) -> tuple[Floats, NDArray[np.intp]]:
        """P(answer / hypothesis), and the rows of each check.

        The last hypothesis answers so that each answer is as likely, over all hypotheses, as it is now.
        """
        sizes = [len(worth.answers) for worth in self.checks]
        starts = np.cumsum([0, *sizes])[:-1]
        rest = self.weights[-1]
        expected = self.given @ self.chances
        left = np.clip((self.chance - expected) / rest, 0.0, 1.0) if rest > LEADING else self.chance
        left = left / np.repeat(np.maximum(np.add.reduceat(left, starts), 1e-300), sizes)
        shows = np.concatenate([self.given, left[:, None]], axis=1)
        outcomes = np.full((len(sizes), max(sizes, default=0)), len(shows), dtype=np.intp)
        for place, (start, size) in enumerate(zip(starts.tolist(), sizes, strict=True)):
            outcomes[place, :size] = np.arange(start, start + size)
        return np.concatenate([shows, np.zeros((1, shows.shape[1]))]), outcomes

    @cached_property
    def _beyond(self) -> float:
        """Minutes of the repairs that remain when all leading suspects were put right in vain.

        So much that repairs alone take as long here as with every unit on the bench, but not more than all others take.
        """
        shares = self.bench.shares(unit_probabilities(self.posterior, self.bench, self.posterior.result.causes))
        costs = self.bench.costs(self.opened)
        everything = float(repair_minutes(shares[:, None], costs[:, None])[0])
        listed = shares[self.units]
        here = float(repair_minutes(listed[:, None], costs[self.units][:, None])[0])
        left = 1.0 - float(listed.sum())
        others = float(costs.sum() - costs[self.units].sum())
        return min(max(everything - here, 0.0) / left, others) if left > 1e-12 else 0.0


def branches_of(posterior: Posterior, checks: Sequence[Worth]) -> list[On]:
    """Every answer of every check as evidence, one check after the other."""
    replies = [Reply(worth.check, answer) for worth in checks for answer in worth.answers]
    return [finding(reading_of(posterior.frame, reply, posterior.repaired)) for reply in replies]


def foresight(
    posterior: Posterior,
    bench: Bench,
    checks: Sequence[Worth],
    first: Sequence[str],
    opened: frozenset[str],
    supposed: Supposed | None,
) -> Foresight | None:
    """The field of a case; None where it would be too much work, or no two suspects lead, or the report is uncertain.

    `checks` can be made (best first by bits per minute); of those that tell the suspects apart the first few may be
    made further on, and all those of `first`.
    """
    found = leading(posterior, bench, supposed) if bench.certain else None
    if found is None:
        return None
    given, chance = likelihoods(posterior, branches_of(posterior, checks), found[0].points)
    sizes = [len(worth.answers) for worth in checks]
    telling = [worth.check for worth, apart in zip(checks, _apart(given, sizes), strict=True) if apart]
    names = {*telling[:CHECKS], *first}
    kept = np.repeat([worth.check in names for worth in checks], sizes).astype(np.bool_)
    chosen = tuple(one for one in checks if one.check in names)
    return Foresight(posterior, bench, opened, chosen, *found, given[kept], chance[kept])


def _apart(given: Floats, sizes: Sequence[int]) -> list[bool]:
    """Which checks (of so many answers each) have an answer that is more likely under some hypothesis than another."""
    if not sizes:
        return []
    starts = np.cumsum([0, *sizes])[:-1]
    return (np.maximum.reduceat(np.ptp(given, axis=1), starts) > APART).tolist()  # type: ignore[no-any-return]
