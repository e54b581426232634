"""The live advice: which check or repair next leads to the least expected minutes to restoration.

One step is looked ahead. After each answer, the rest is estimated by the repairs alone: units are
put right in order of probability over minutes, each followed by the operational check, until the
report is gone. That order is optimal for one fault and repairs only (an exchange argument: Kadane &
Simon 1977 treat it as search with a linear order).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from faultree.belief.engine import Given, On
from faultree.belief.evidence import Reply, reading_of
from faultree.belief.plan import finding

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.posterior import Posterior
    from faultree.strategy.worth import Worth

    Floats = NDArray[np.float64]

Action = Literal["check", "replace"]


HARDLY = 0.02
"""A repair less likely than this to end the search is advised only where it is the best one."""


BARELY = 1e-6
"""A unit less likely than this to have to do with the report is not looked at closely."""


class Advice(NamedTuple):
    """One thing to do next.

    `minutes` is its own time with the access still to open (for a repair also the operational
    check), `expected_minutes` the expected time until the report is gone if this is done next.
    `item` is the unit for "replace": an item, or a cause that has none. `bits` and `answers` belong
    to checks.
    """

    action: Action
    check: str | None
    item: str | None
    bits: float
    minutes: float
    expected_minutes: float
    answers: Mapping[str, float]


@dataclass(frozen=True, eq=False)
class Bench:
    """What repairs cost: for each unit that could be at fault, its minutes and its access.

    `untold` says that the report may be gone already, as nobody could tell what came of the last repair. Then what
    the units do not account for is taken as gone, and takes no more time.
    """

    units: tuple[str, ...]
    rows: NDArray[np.intp]
    minutes: Floats
    access: tuple[Mapping[str, float], ...]
    clearing: Floats
    prior: Floats
    untold: bool = False

    def costs(self, opened: Iterable[str]) -> Floats:
        """Minutes to put each unit right and look again, given the access already open."""
        done = frozenset(opened)
        extra = [sum(cost for name, cost in needs.items() if name not in done) for needs in self.access]
        return np.asarray(self.minutes + np.array(extra))

    def shares(self, units: Floats) -> Floats:
        """How likely each unit's repair ends the search (columns kept).

        A unit may be at fault by coincidence, as likely as ever, and then its repair clears nothing. With x the
        chance that it has to do with the report, P(at fault) = x + (1 - x) prior; so x is what P(at fault)
        exceeds the prior by, over 1 - prior.
        """
        return self._concerned(units) * self.clearing.reshape(-1, *(1,) * (units.ndim - 1))

    def open_share(self, shares: Floats) -> Floats:
        """P(there is still something to repair) for each column of shares."""
        whole = np.minimum(shares.sum(axis=0), 1.0)
        return whole if self.untold else np.ones_like(whole)

    def suspected(self, units: Floats) -> NDArray[np.intp]:
        """The units that may have to do with the report, by their place on the bench."""
        return np.flatnonzero(self._concerned(units) > BARELY)

    def _concerned(self, units: Floats) -> Floats:
        prior = self.prior.reshape(-1, *(1,) * (units.ndim - 1))
        return np.clip((units - prior) / (1.0 - prior), 0.0, 1.0)


def unit_probabilities(posterior: Posterior, bench: Bench, causes: Floats) -> Floats:
    """P(unit is at fault) for the units of a bench, from those of all causes (columns kept)."""
    sizes = [len(root.causes) for root in posterior.frame.prior.roots]
    starts = np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.intp)
    return np.asarray(np.add.reduceat(causes, starts, axis=0)[bench.rows])


def units_after(posterior: Posterior, bench: Bench, branches: Sequence[On]) -> Floats:
    """P(unit is at fault / evidence and branch), a row for each unit of the bench, a column for each branch.

    Either every branch is supposed in turn or every unit that is suspected, whichever are fewer.
    """
    suspected = bench.suspected(unit_probabilities(posterior, bench, posterior.result.causes))
    if len(posterior.plan.engines) > 1 or len(suspected) >= len(branches):
        return by_branch(posterior, bench, branches)
    return by_unit(posterior, bench, branches, suspected)


def by_branch(posterior: Posterior, bench: Bench, branches: Sequence[On]) -> Floats:
    """The same with every branch supposed in turn."""
    results = posterior.plan.run_columns(posterior.findings, [[on] for on in branches])
    return unit_probabilities(posterior, bench, np.stack([result.causes for result in results], axis=1))


def by_unit(posterior: Posterior, bench: Bench, branches: Sequence[On], suspected: NDArray[np.intp]) -> Floats:
    """The same by Bayes' rule from P(branch / unit at fault); units that are not suspected stay as likely as now."""
    plan, roots = posterior.plan, posterior.frame.prior.roots
    rows = bench.rows[suspected].tolist()
    faulty = [Given(row, (0.0, *(1.0 for _ in roots[row].causes))) for row in rows]
    found = plan.engines[0].run(posterior.findings, [[given] for given in faulty])
    places = [plan.place[on.point] for on in branches]
    off, on = np.array([one.off for one in branches]), np.array([one.on for one in branches])
    now = unit_probabilities(posterior, bench, posterior.result.causes)
    likelihood = off + (on - off) * found.points[places].T
    chance = off + (on - off) * posterior.view.points[places]
    units = np.repeat(now[:, None], len(branches), axis=1)
    units[suspected] = now[suspected, None] * likelihood / np.maximum(chance, 1e-300)
    return np.clip(units, 0.0, 1.0)


def repair_minutes(shares: Floats, costs: Floats, whole: Floats | float = 1.0) -> Floats:
    """Expected minutes of repairs in order of share over cost, for each column of shares (and costs).

    `whole` is the chance, for each column, that there is something to repair at all.
    """
    order = np.argsort(-shares / costs, axis=0, kind="stable")
    sorted_shares = np.take_along_axis(shares, order, axis=0)
    sorted_costs = np.take_along_axis(costs, order, axis=0)
    before = np.cumsum(sorted_shares, axis=0) - sorted_shares
    left = np.maximum(whole - before, 0.0)
    left[left < 1e-12] = 0.0
    return np.asarray((sorted_costs * left).sum(axis=0))


def advise(
    posterior: Posterior,
    bench: Bench,
    shortlist: Sequence[Worth],
    opened: frozenset[str],
    repairs: int = 5,
    leaving_out: Collection[str] = (),
) -> tuple[Advice, ...]:
    """Advice for a shortlist of checks and the best few repairs, least expected minutes first.

    A unit that is left out is not advised, but whatever is done next, its repair may have to follow later.
    """
    if not bench.units:
        return tuple(_plain(worth) for worth in shortlist)
    found = _replacing(posterior, bench, opened, repairs, leaving_out) + _checking(posterior, bench, shortlist, opened)
    return tuple(sorted(found, key=lambda one: one.expected_minutes))


def _plain(worth: Worth) -> Advice:
    return Advice("check", worth.check, None, worth.bits, worth.minutes, worth.minutes, worth.answers)


def _replacing(
    posterior: Posterior, bench: Bench, opened: frozenset[str], most: int, leaving_out: Collection[str]
) -> list[Advice]:
    shares = bench.shares(unit_probabilities(posterior, bench, posterior.result.causes))
    costs = bench.costs(opened)
    order = np.argsort(-shares / costs, kind="stable")
    whole = float(bench.open_share(shares))
    advice: list[Advice] = []
    possible = [row for row in order.tolist() if bench.units[row] not in leaving_out]
    for row in possible[:most]:
        if shares[row] <= 0.0 or (advice and shares[row] < HARDLY):
            continue
        rest = np.delete(np.arange(len(shares)), row)
        remaining = whole - float(shares[row])
        later = 0.0
        if remaining > 1e-12 and len(rest):
            later = remaining * float(repair_minutes((shares[rest] / remaining)[:, None], costs[rest][:, None])[0])
        cost = float(costs[row])
        advice.append(Advice("replace", None, bench.units[row], 0.0, cost, cost + later, {}))
    return advice


def _checking(posterior: Posterior, bench: Bench, shortlist: Sequence[Worth], opened: frozenset[str]) -> list[Advice]:
    checks = posterior.frame.library.checks
    branches: list[tuple[int, float, On]] = []
    for number, worth in enumerate(shortlist):
        for answer, probability in worth.answers.items():
            if probability > 1e-12:
                reading = reading_of(posterior.frame, Reply(worth.check, answer), posterior.repaired)
                branches.append((number, probability, finding(reading)))
    expected = [worth.minutes for worth in shortlist]
    if branches:
        shares = bench.shares(units_after(posterior, bench, [on for _, _, on in branches]))
        costs = [bench.costs(opened.union(checks[worth.check].access)) for worth in shortlist]
        spent = np.stack([costs[number] for number, _, _ in branches], axis=1)
        later = repair_minutes(shares, spent, bench.open_share(shares))
        for (number, probability, _), minutes in zip(branches, later.tolist(), strict=True):
            expected[number] += probability * minutes
    return [
        Advice("check", worth.check, None, worth.bits, worth.minutes, minutes, worth.answers)
        for worth, minutes in zip(shortlist, expected, strict=True)
    ]
