"""Width, size and times of the demonstration library: `python -m tests.benchmarks.bench_demonstration [PAIRS]`.

One line for each symptom; one for each after its likeliest unit was repaired in vain, which adds a
world; and, for some pairs of symptoms drawn at random (60, or as many as asked for, `all` for all of
them), the widest and the slowest pair and totals.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable, Iterable, Iterator
from copy import copy
from functools import partial
from itertools import combinations
from math import log2
from statistics import fmean, median
from time import perf_counter
from typing import NamedTuple

from faultree.base.errors import Contradiction
from faultree.belief.engine import Engine, Exact
from faultree.belief.order import eliminate
from faultree.belief.tables import dense_cells, tables_of
from faultree.library.load import load
from faultree.library.model import Library
from faultree.strategy.case import Case
from tests.benchmarks.machine import machine, timed
from tests.house.source import ROOT

STEPS = 8
PAIRS = 60


class Line(NamedTuple):
    """The figures of one case; see `HEADS` for what stands in each column."""

    name: str
    causes: int
    worlds: int
    vectors: float
    most: int
    bits: float
    states: int
    engines: str
    size: int
    compiled: float
    step: float
    advice: float
    slowest: float
    bound: float


HEADS = {
    "causes": "causes that the evidence or a check reaches",
    "worlds": "settings of the conditions in the widest engine",
    "vectors": "response vectors of a node on average (nodes that can vary)",
    "most": "response vectors of the node with the most",
    "bits": "log2 of the cells in the largest clique's dense table",
    "states": "configurations kept of the largest clique",
    "engines": "engines for the evidence + engines for the checks (one serves both where only one is named)",
    "size": "configurations of all engines",
    "compiled": "ms to open the case (compiling included)",
    "step": "ms of a fresh answer with ranking() and checks(), median",
    "advice": "ms of advice() after it, median",
    "slowest": "ms of the slowest advice()",
    "bound": "largest bound on any probability, at any step",
}


def engines_of(case: Case) -> list[Engine]:
    """Every engine that a case uses, the evidence's first."""
    posterior = case._posterior
    return list(dict.fromkeys([*posterior.core.engines, *posterior.plan.engines]))


def named(case: Case) -> str:
    """How many engines of which kind serve the evidence and the checks."""
    posterior = case._posterior
    parts = [posterior.core.engines]
    if posterior.plan is not posterior.core:
        parts.append(posterior.plan.engines)
    return "+".join(f"{len(part)} {type(part[0]).__name__.lower()}" for part in parts)


def widths(engine: Engine) -> tuple[int, int, list[int], float, int]:
    """Causes, worlds, response vectors of each node, bits of the largest clique, and its configurations."""
    if not isinstance(engine, Exact):
        return 0, 0, [0], 0.0, 0
    network = engine.wiring.network
    cliques = eliminate(network.sizes, [relation[:3] for relation in network.relations])
    bits = max(log2(dense_cells(network.sizes, clique)) for clique in cliques)
    states = max(table.values.shape[1] for table in tables_of(network, cliques))
    causes = sum(len(engine.wiring.frame.prior.roots[root].causes) for root in network.roots)
    vectors = [network.sizes[relation.output] for relation in network.relations]
    return causes, len({point.world for point in engine.points}), vectors, bits, states


def line(name: str, opening: Callable[[], Case], most: int = STEPS) -> Line:
    """Open a case, play some steps, and gather the figures."""
    begin = perf_counter()
    case = opening()
    case.checks()
    compiled = perf_counter() - begin
    engines = engines_of(case)
    found = [widths(engine) for engine in engines]
    size, kinds = sum(engine.size for engine in engines), named(case)
    steps, advices, bounds = play(case, most)
    causes, worlds, _, bits, states = (max(column) for column in zip(*found, strict=True))
    outputs = [one for _, _, vectors, _, _ in found for one in vectors]
    return Line(
        name=name,
        causes=causes,
        worlds=worlds,
        vectors=fmean(outputs),
        most=max(outputs),
        bits=bits,
        states=states,
        engines=kinds,
        size=size,
        compiled=1000 * compiled,
        step=1000 * median(steps),
        advice=1000 * median(advices),
        slowest=1000 * max(advices),
        bound=max(bounds),
    )


def play(case: Case, most: int) -> tuple[list[float], list[float], list[float]]:
    """Seconds of some steps and of the advice after each, and the bounds; the likeliest answer is given."""
    steps, advices, bounds = [], [timed(case.advice)], [case.bound]
    for _ in range(most):
        telling = next((worth for worth in case.checks() if worth.bits > 1e-6), None)
        if telling is None:
            break
        answer = max(telling.answers, key=telling.answers.__getitem__)
        begin = perf_counter()
        case = case.answer(telling.check, answer)
        case.ranking(), case.checks()
        steps.append(perf_counter() - begin)
        advices.append(timed(case.advice))
        bounds.append(case.bound)
    return steps or [0.0], advices, bounds


def lines(library: Library, groups: Iterable[tuple[str, ...]], impossible: list[str], most: int) -> Iterator[Line]:
    """One line for each group of symptoms that some fault set explains, with so many steps at most."""
    for symptoms in groups:
        name = " & ".join(symptoms)
        try:
            yield line(name, partial(Case.open, library, symptoms), most)
        except Contradiction:
            impossible.append(name)


def repaired(library: Library, symptom: str) -> Case | None:
    """The case of a symptom after its likeliest unit was repaired in vain; None if nothing else explains it."""
    case = Case.open(library, [symptom])
    try:
        return case.repair(case.units()[0].unit, gone=False)
    except Contradiction:
        return None


def show(title: str, rows: Iterable[Line]) -> list[Line]:
    """Print a table, row by row."""
    heads = "causes worlds vectors most  bits states         engines   size compiled  step advice slowest bound"
    print(f"\n{title}\n{heads:>103}")
    shown = []
    for row in rows:
        shown.append(row)
        print(
            f"{row.causes:>12}{row.worlds:>7}{row.vectors:>8.2f}{row.most:>5}{row.bits:>6.1f}{row.states:>7}"
            f" {row.engines:>15}{row.size:>7}{row.compiled:>9.0f}{row.step:>6.2f}{row.advice:>7.1f}"
            f"{row.slowest:>8.1f}{row.bound:>6.0e}  {row.name}",
            flush=True,
        )
    return shown


def summary(rows: list[Line], impossible: list[str]) -> None:
    """Print what the rows have in common."""
    exact = sum(row.bound == 0.0 for row in rows)
    print(f"bound 0 in {exact} of {len(rows)}; {len(impossible)} that nothing explains together")
    for place, name in enumerate(Line._fields):
        column = [row[place] for row in rows]
        if all(isinstance(one, int | float) for one in column):
            print(f"  {name}: {min(column)!r:.6} to {max(column)!r:.6}", end=";")
    print()


def main() -> None:
    """Print the tables."""
    print(machine())
    library = load(ROOT / "trees")
    sizes = f"{len(library.causes)} causes, {len(library.checks)} checks, {len(library.symptoms)} symptoms"
    print(f"demonstration library: {sizes}, {len(library.situations)} situations")
    for head, words in HEADS.items():
        print(f"  {head}: {words}")
    impossible: list[str] = []
    summary(
        show("single symptoms", lines(library, [(one,) for one in library.symptoms], impossible, STEPS)), impossible
    )
    after = {name: case for name in library.symptoms if (case := repaired(library, name)) is not None}
    summary(show("after a repair in vain", (line(name, partial(copy, case)) for name, case in after.items())), [])
    every, impossible = list(combinations(library.symptoms, 2)), []
    asked = sys.argv[1] if len(sys.argv) > 1 else str(PAIRS)
    drawn = every if asked == "all" else random.Random(1).sample(every, min(int(asked), len(every)))
    found = list(lines(library, drawn, impossible, 1))
    outer = {max(found, key=key) for key in (by_bits, by_size, by_opening)}
    show(f"{len(drawn)} of {len(every)} pairs of symptoms: the widest, the largest, the slowest", outer)
    summary(found, impossible)


def by_bits(row: Line) -> float:
    """The widest clique."""
    return row.bits


def by_size(row: Line) -> float:
    """The largest circuit."""
    return row.size


def by_opening(row: Line) -> float:
    """The longest opening."""
    return row.compiled


if __name__ == "__main__":
    main()
