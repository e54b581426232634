"""The live advice: which check or repair next leads to the least expected minutes to restoration.

First one step is looked ahead. After each answer, the rest is estimated by the repairs alone: units are
put right in order of probability over minutes, each followed by the operational check, until the
report is gone. That order is optimal for one fault and repairs only (an exchange argument: Kadane &
Simon 1977 treat it as search with a linear order). Then the best first steps are followed to their end
by that policy (`faultree.strategy.foresight`).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from faultree.strategy.bench import Bench, repair_minutes, unit_probabilities
from faultree.strategy.foresight import Foresight, branches_of, foresight
from faultree.strategy.suppose import Supposed, by_branch, by_group, groups_of, suppose

if TYPE_CHECKING:
    from faultree.belief.posterior import Posterior
    from faultree.strategy.worth import Worth

Action = Literal["check", "replace"]


AHEAD = 6
"""So many first steps, the best by one step ahead, are followed to their end where nothing else is said.

More of them would put every quick question that hardly helps beside the best step, as asking it costs so little.
"""

REPAIRS = 5
"""So many repairs, the best by share over cost, are looked at closely."""

HARDLY = 0.02
"""A repair less likely than this to end the search is advised only where it is the best one."""


class Advice(NamedTuple):
    """One thing to do next.

    `minutes` is its own time with the access still to open (for a repair also the operational
    check), `expected_minutes` the expected time until the report is gone if this is done next: for the few best
    steps with each step after it chosen by looking one step ahead, for the others with repairs alone after it.
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


def advise(
    posterior: Posterior,
    bench: Bench,
    checks: Sequence[Worth],
    opened: frozenset[str],
    limit: int = 24,
    leaving_out: Collection[str] = (),
    ahead: int = AHEAD,
) -> tuple[Advice, ...]:
    """Advice for the first of some checks and the best few repairs, least expected minutes first.

    `checks` are all that can be made, best first by bits per minute; `limit` of them may be advised. A unit that is
    left out is not advised, but whatever is done next, its repair may have to follow later. `ahead` first steps are
    followed to their end.
    """
    if not bench.units:
        return tuple(_plain(worth) for worth in checks[:limit])
    branches = sum(len(worth.answers) for worth in checks[:limit])
    supposed = _supposed(posterior, bench, branches)
    found = _replacing(posterior, bench, opened, leaving_out)
    found += _checking(posterior, bench, checks[:limit], opened, supposed)
    found.sort(key=lambda one: one.expected_minutes)
    named = [one.check for one in found[:ahead] if one.check is not None]
    seen = foresight(posterior, bench, checks, named, opened, supposed) if found else None
    return tuple(found if seen is None else [*_followed(found[:ahead], seen), *found[ahead:]])


def _supposed(posterior: Posterior, bench: Bench, branches: int) -> Supposed | None:
    """Every suspected group of causes supposed, where they are fewer than the branches that follow from it."""
    groups = groups_of(posterior, bench)
    if len(posterior.plan.engines) > 1 or len(groups) >= branches:
        return None
    return suppose(posterior, groups)


def _followed(found: list[Advice], seen: Foresight) -> list[Advice]:
    """First steps with the minutes that they take to the end where those are fewer, least first.

    The figure of one step ahead is one that a policy keeps to (repairs alone, after that step), so the lower counts.
    """
    first = [one for one in found if one.check is not None or seen.knows(str(one.item))]
    checks, units = [one for one in first if one.check is not None], [one for one in first if one.check is None]
    minutes = seen.minutes([str(one.check) for one in checks], [str(one.item) for one in units])
    known = {(one.check, one.item): value for one, value in zip([*checks, *units], minutes, strict=True)}
    least = [min(one.expected_minutes, known.get((one.check, one.item), np.inf)) for one in found]
    revised = [one._replace(expected_minutes=value) for one, value in zip(found, least, strict=True)]
    return sorted(revised, key=lambda one: round(one.expected_minutes, 9))


def _plain(worth: Worth) -> Advice:
    return Advice("check", worth.check, None, worth.bits, worth.minutes, worth.minutes, worth.answers)


def _replacing(
    posterior: Posterior, bench: Bench, opened: frozenset[str], leaving_out: Collection[str]
) -> list[Advice]:
    shares = bench.shares(unit_probabilities(posterior, bench, posterior.result.causes))
    costs = bench.costs(opened)
    order = np.argsort(-shares / costs, kind="stable")
    whole = float(bench.open_share(shares))
    advice: list[Advice] = []
    possible = [row for row in order.tolist() if bench.units[row] not in leaving_out]
    for row in possible[:REPAIRS]:
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


def _checking(
    posterior: Posterior, bench: Bench, shortlist: Sequence[Worth], opened: frozenset[str], supposed: Supposed | None
) -> list[Advice]:
    checks = posterior.frame.library.checks
    expected = [worth.minutes for worth in shortlist]
    branches = branches_of(posterior, shortlist)
    owner = [number for number, worth in enumerate(shortlist) for _ in worth.answers]
    chances = [chance for worth in shortlist for chance in worth.answers.values()]
    likely = [place for place, chance in enumerate(chances) if chance > 1e-12]
    if likely:
        supposing = [branches[place] for place in likely]
        units = by_group(posterior, bench, supposing, supposed) if supposed else by_branch(posterior, bench, supposing)
        costs = [bench.costs(opened.union(checks[worth.check].access)) for worth in shortlist]
        shares = bench.shares(units)
        spent = np.stack([costs[owner[place]] for place in likely], axis=1)
        later = repair_minutes(shares, spent, bench.open_share(shares))
        for place, minutes in zip(likely, later.tolist(), strict=True):
            expected[owner[place]] += chances[place] * minutes
    return [
        Advice("check", worth.check, None, worth.bits, worth.minutes, minutes, worth.answers)
        for worth, minutes in zip(shortlist, expected, strict=True)
    ]
