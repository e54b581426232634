"""How well and how fast charts are compiled: `python -m tests.benchmarks.bench_chart [INSTANCES] [SECONDS]`.

Random instances of one fault among some causes. For the goals `cause` and `item` every check answers yes or no
and parts a random share of the causes; for `restore` every cause is mended by a repair of its own. What is
measured: the time until the chart is proven to be the best, beside posing the problem; how far simple rules are from
the best; and, where the best is out of reach, how far the chart is from the bound that is proven. Seconds are
those of the processor, so that other work on the machine changes them little.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Sequence
from statistics import fmean, median
from time import process_time
from typing import NamedTuple

from faultree.strategy.chart.compile import compile_chart, posed_chart
from faultree.strategy.chart.policies import Best, Followed, Rules
from faultree.strategy.chart.search import Search, Stopped
from faultree.strategy.chart.space import Space
from faultree.strategy.chart.value import Goal
from tests.benchmarks.machine import machine, quantile, verdict
from tests.oracles.least_minutes import Instance, Look, least_minutes
from tests.oracles.random_puzzles import Draw, drawn, library_of

WITHIN = 1.03


class Kind(NamedTuple):
    """How instances are drawn, for which goal, and in how many seconds the best is to be proven (None: no promise)."""

    title: str
    draw: Draw
    goal: Goal
    reach_s: float | None


KINDS = (
    Kind("cause, 20 x 20", Draw(20, 20, exact=True), "cause", 5.0),
    Kind("cause, 40 x 40", Draw(40, 40, exact=True), "cause", 5.0),
    Kind("cause, 40 x 40, 3 shared access", Draw(40, 40, access=3, exact=True), "cause", 5.0),
    Kind("item, 40 x 40, causes of one item", Draw(40, 40, items=True, exact=True), "item", 5.0),
    Kind("restore, 10 x 10", Draw(10, 10, restore=True, exact=True), "restore", 10.0),
    Kind("restore, 14 x 14", Draw(14, 14, restore=True, exact=True), "restore", 10.0),
    Kind("restore, 14 x 14, 3 shared access", Draw(14, 14, access=3, restore=True, exact=True), "restore", 10.0),
    Kind("cause, 24 x 24, each check reads 2 to 4", Draw(24, 24, exact=True, reads=(2, 4)), "cause", None),
    Kind("cause, 40 x 40, each check reads 2 to 4", Draw(40, 40, exact=True, reads=(2, 4)), "cause", None),
    Kind("cause, 60 x 60", Draw(60, 60, exact=True), "cause", None),
    Kind("restore, 24 x 24", Draw(24, 24, restore=True, exact=True), "restore", None),
    Kind("restore, 32 x 32", Draw(32, 32, restore=True, exact=True), "restore", None),
)
"""The first seven are to be reached; the others go beyond, in size or in how little a check tells."""


class Found(NamedTuple):
    """One instance: seconds of posing and of searching, whether proven, minutes over the bound, rules over minutes."""

    posed_s: float
    searched_s: float
    proven: bool
    gap: float
    rules: dict[str, float]


def measured(kind: Kind, seed: int, limit_s: float) -> Found:
    """One instance, searched for so many seconds at most."""
    puzzle = drawn(random.Random(seed), kind.draw)
    library = library_of(puzzle)
    begin = process_time()
    posed = posed_chart(library, ["reported"], kind.goal, None, 0.0, 0.0)
    posed_s = process_time() - begin
    space = Space(posed.task)
    end = process_time() + limit_s

    def poll() -> None:
        if process_time() > end:
            raise Stopped

    search = Search(space, poll)
    begin = process_time()
    proven = search.run()
    searched_s = process_time() - begin
    rules = Rules(search)
    simple = Followed(space, rules.plain)
    best = Followed(space, Best(search, simple)).value(space.root)
    others = {"bits": rules.by_bits, "bits a minute": rules.by_bits_per_minute, "likelihood": rules.by_likelihood}
    if kind.goal == "restore":
        others["one step, then repairs"] = rules.repairing
    costs = {name: Followed(space, policy).value(space.root) / best for name, policy in others.items()}
    return Found(posed_s, searched_s, proven, best / space.root.low, costs)


def study(kind: Kind, instances: int, limit_s: float) -> None:
    """Print one kind."""
    found = [measured(kind, seed, limit_s) for seed in range(instances)]
    seconds = [one.searched_s for one in found]
    proven = sum(one.proven for one in found)
    print(f"{kind.title}: {instances} instances, {proven} proven to be the best within {limit_s:g} s")
    print(f"  search median {median(seconds):.2f} s, slowest {max(seconds):.2f} s; posing {_per(found)}")
    if kind.reach_s is not None:
        print(f"  slowest {max(seconds):.2f} s, {verdict(max(seconds), kind.reach_s)}")
    gaps = [one.gap for one in found]
    print(
        f"  minutes over the bound: mean {fmean(gaps):.4f}, worst {max(gaps):.4f}; mean {verdict(fmean(gaps), WITHIN)}"
    )
    for name in found[0].rules:
        _ratios(name, [one.rules[name] for one in found])


def _per(found: Sequence[Found]) -> str:
    return f"takes {median(one.posed_s for one in found):.3f} s"


def _ratios(name: str, ratios: Sequence[float]) -> None:
    print(
        f"    {name:<24} {fmean(ratios):.3f} / {quantile(ratios, 0.95):.3f} / {max(ratios):.3f} (mean / 95 % / worst)"
    )


def beside_dynamic_programming(instances: int) -> None:
    """The search against dynamic programming over all sets of causes, on the same instances in the same run."""
    ratios, apart = [], 0.0
    for seed in range(instances):
        puzzle = drawn(random.Random(seed), Draw(18, 18, restore=True, exact=True))
        looks = tuple(
            Look(one.minutes, frozenset(cause for cause, given in enumerate(one.answers) if given))
            for one in puzzle.checks
        )
        instance = Instance(puzzle.chances, tuple(one.minutes for one in puzzle.repairs), looks)
        posed = posed_chart(library_of(puzzle), ["reported"], "restore", None, 0.0, 0.0)
        search = Search(Space(posed.task))
        begin = process_time()
        least = least_minutes(instance)
        middle = process_time()
        search.run()
        ratios.append((middle - begin) / (process_time() - middle))
        apart = max(apart, abs(search.space.root.low / least - 1.0))
    print(f"restore, 18 x 18, beside dynamic programming in numpy: {median(ratios):.1f} times as fast (median);")
    print(f"  largest difference {apart:.1e}, {verdict(apart, 1e-6)}")


def main() -> None:
    """Print the study."""
    instances = int(sys.argv[1]) if len(sys.argv) > 1 else 10
    limit_s = float(sys.argv[2]) if len(sys.argv) > 2 else 10.0
    print(machine())
    for kind in KINDS:
        study(kind, instances, limit_s)
    beside_dynamic_programming(instances)
    demonstration(limit_s)


def demonstration(limit_s: float) -> None:
    """Every symptom of the demonstration library, whose checks err."""
    from tests.trees.demonstration import library

    goals: tuple[Goal, ...] = ("item", "restore")
    for goal in goals:
        charts = {
            name: compile_chart(library(), [name], goal=goal, limit_s=limit_s, clock=process_time)
            for name in library().symptoms
        }
        proven = sum(chart.optimal for chart in charts.values())
        print(f"demonstration library, goal {goal}: {len(charts)} charts, {proven} proven within {limit_s:g} s")
        for name, chart in charts.items():
            if not chart.optimal:
                ratio = chart.expected_minutes / chart.lower_bound
                print(f"  {name:<40} {chart.expected_minutes:6.1f} min, {ratio:.2f} times the bound")


if __name__ == "__main__":
    main()
