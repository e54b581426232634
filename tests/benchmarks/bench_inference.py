"""A step on synthetic fault graphs, beside general-purpose libraries: `python -m tests.benchmarks.bench_inference`.

A step is a fresh answer on a case, then `ranking()` and `checks()`: every posterior, every answer
probability, every bit. All figures are of one run on one machine; only their ratios mean much. With
`memory N` it prints the peak memory of one case with N causes, and with `wide` only the graphs that are
too wide to be compiled exactly.
"""

from __future__ import annotations

import random
import resource
import subprocess
import sys
from collections.abc import Sequence
from importlib import import_module
from statistics import median
from time import perf_counter
from typing import Any, NamedTuple

from faultree.library.model import Library
from faultree.strategy.case import Case
from tests.benchmarks.machine import machine, quantile, timed, verdict
from tests.oracles.synthetic_graphs import TOP, Sharing, hidden_faults, synthetic_library, true_answer

SEEDS = (1, 2, 3)
STEPS = 8
BESIDE = 300
"""The number of causes at which other libraries are compared."""

STEP_REACH = {300: 1.5, 1000: 6.0}
ADVICE_REACH = {300: 50.0, 1000: 200.0}
COMPILE_REACH, MEMORY_REACH, WIDE_REACH = 1.0, 300.0, 1000.0
PYAGRUM_REACH, PGMPY_REACH = 30.0, 100.0
CLOSE = 1e-9

Given = list[tuple[str, str]]


class Course(NamedTuple):
    """Seconds of one case: to open it with its checks, of each step, and of the advice after each."""

    opened: float
    steps: list[float]
    advices: list[float]
    size: int
    bounds: list[float]
    engine: str


def answers(library: Library, seed: int) -> Given:
    """What some checks answer under faults drawn from the prior among those that show the report."""
    rng = random.Random(seed)
    faults = hidden_faults(rng, library)
    checks = rng.sample(list(library.checks), min(STEPS, len(library.checks)))
    return [(check, true_answer(rng, library, check, faults)) for check in checks]


def look(case: Case) -> None:
    """What a step shows."""
    case.ranking()
    case.checks()


def course(library: Library, given: Given) -> Course:
    """Open a case and answer; each answer is fresh, nothing of it was worked out before."""
    begin = perf_counter()
    case = Case.open(library, [TOP])
    look(case)
    opened = perf_counter() - begin
    steps, advices, bounds = [], [], [case.bound]
    for check, answer in given:
        begin = perf_counter()
        case = case.answer(check, answer)
        look(case)
        steps.append(perf_counter() - begin)
        advices.append(timed(case.advice))
        bounds.append(case.bound)
    plan = case._posterior.plan
    return Course(opened, steps, advices, plan.size, bounds, type(plan.engines[0]).__name__.lower())


def local(causes: int) -> list[Course]:
    """Courses on locally shared graphs."""
    libraries = [(seed, synthetic_library(seed, causes)) for seed in SEEDS]
    return [course(library, answers(library, seed)) for seed, library in libraries]


def show_local(sizes: Sequence[int]) -> None:
    """Times on locally shared graphs of several sizes."""
    print(f"locally shared graphs, {len(SEEDS)} of each size, {STEPS} answers each; ms")
    print("causes   size   opened   step: median    p90  worst   advice: median  worst")
    for causes in sizes:
        courses = local(causes)
        steps = [1000 * one for run in courses for one in run.steps]
        advices = [1000 * one for run in courses for one in run.advices]
        opened = max(run.opened for run in courses)
        assert all(bound == 0.0 for run in courses for bound in run.bounds)
        print(
            f"{causes:>6}{max(run.size for run in courses):>7}{1000 * opened:>9.0f}"
            f"{median(steps):>15.2f}{quantile(steps, 0.9):>7.2f}{max(steps):>7.2f}"
            f"{median(advices):>17.1f}{max(advices):>7.1f}",
            flush=True,
        )
        if causes in STEP_REACH:
            print(f"       step {verdict(median(steps), STEP_REACH[causes])}", end="; ")
            print(f"advice {verdict(median(advices), ADVICE_REACH[causes])}", end="; ")
            print(f"opened in s {verdict(opened, COMPILE_REACH)}")


def beside_pyagrum(library: Library, given: Given) -> None:
    """The same steps by lazy propagation, in turn with ours; results must be equal."""
    from tests.oracles.network import Network

    checks = list(library.checks)
    begin = perf_counter()
    network = Network(library, [TOP], checks)
    network.observe([])
    print(f"pyagrum: network of {network.net.size()} variables built in {perf_counter() - begin:.1f} s")
    case = Case.open(library, [TOP])
    look(case)
    ours, theirs, off = [], [], 0.0
    for number, (check, answer) in enumerate(given, start=1):
        begin = perf_counter()
        case = case.answer(check, answer)
        look(case)
        ours.append(perf_counter() - begin)
        begin = perf_counter()
        network.observe(given[:number])
        posterior, shown = network.posterior(), {name: network.answers(name) for name in checks}
        theirs.append(perf_counter() - begin)
        off = max(off, difference(case, posterior, shown))
    ratio = median(theirs) / median(ours)
    print(f"  step {1000 * median(ours):.2f} ms, lazy propagation {1000 * median(theirs):.1f} ms: {ratio:.0f} times")
    print(f"  at least {PYAGRUM_REACH:.0f} times: {'reached' if ratio >= PYAGRUM_REACH else 'NOT reached'}", end="; ")
    print(f"largest difference {off:.1e}, {verdict(off, CLOSE)}")


def difference(case: Case, posterior: dict[str, float], shown: dict[str, dict[str, float]]) -> float:
    """The largest difference in any posterior or answer probability."""
    ranking = {one.cause: one.probability for one in case.ranking()}
    pairs = [(ranking[name], share) for name, share in posterior.items()]
    for worth in case.checks():
        pairs += [(share, shown[worth.check][answer]) for answer, share in worth.answers.items()]
    return max(abs(one - two) for one, two in pairs)


def beside_pgmpy(library: Library, given: Given) -> None:
    """One posterior by variable elimination, for one step."""
    try:
        models, inference = import_module("pgmpy.models"), import_module("pgmpy.inference")
        factors = import_module("pgmpy.factors.discrete")
    except ImportError:
        print("pgmpy: not installed, not compared (pip install pgmpy, best into an environment of its own)")
        return
    from tests.oracles.network import Network

    network = Network(library, [TOP], [check for check, _ in given])
    begin = perf_counter()
    engine = inference.VariableElimination(as_pgmpy(network, models, factors))
    print(f"pgmpy: network of {network.net.size()} variables built in {perf_counter() - begin:.1f} s")
    seen = {network.net.variable(report).name(): 1 for report in network.reports}
    for check, answer in given:
        names = [one.id for one in library.checks[check].answers]
        seen[network.net.variable(network.checks[check]).name()] = names.index(answer)
    case = Case.open(library, [TOP])
    for check, answer in given[:-1]:
        case = case.answer(check, answer)
    look(case)
    begin = perf_counter()
    case = case.answer(*given[-1])
    look(case)
    ours = perf_counter() - begin
    likely = list(case.ranking()[:3])
    theirs, off = [], 0.0
    for suspect in likely:
        name = network.net.variable(network.causes[suspect.cause]).name()
        begin = perf_counter()
        found = engine.query([name], evidence=seen, show_progress=False)
        theirs.append(perf_counter() - begin)
        off = max(off, abs(float(found.values[1]) - suspect.probability))
    ratio = median(theirs) / ours
    print(f"  step {1000 * ours:.2f} ms, one query {1000 * median(theirs):.0f} ms: {ratio:.0f} times faster")
    print(f"  at least {PGMPY_REACH:.0f} times: {'reached' if ratio >= PGMPY_REACH else 'NOT reached'}", end="; ")
    print(f"largest difference {off:.1e}, {verdict(off, CLOSE)}")


def as_pgmpy(network: Any, models: Any, factors: Any) -> Any:
    """The same network for pgmpy: its tables have the variable's own values along the first axis."""
    net = network.net
    model = models.DiscreteBayesianNetwork()
    names = {node: net.variable(node).name() for node in net.nodes()}
    model.add_nodes_from(names.values())
    model.add_edges_from((names[tail], names[head]) for tail, head in net.arcs())
    for node, name in names.items():
        table = net.cpt(node)
        parents = [one for one in table.names if one != name]
        order = [name, *parents]
        axes = [list(table.names)[::-1].index(one) for one in order]
        values = table.toarray().transpose(axes).reshape(table.variable(name).domainSize(), -1)
        sizes = [table.variable(one).domainSize() for one in parents]
        model.add_cpds(factors.TabularCPD(name, values.shape[0], values, evidence=parents, evidence_card=sizes))
    return model


def show_memory(causes: int) -> None:
    """Peak memory of a process that opens one case, answers and asks for advice."""
    command = [sys.executable, "-m", "tests.benchmarks.bench_inference", "memory", str(causes)]
    printed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    before, peak = map(float, printed.split())
    print(
        f"memory at {causes} causes: peak {peak:.0f} MB, of which {before:.0f} MB before the case was opened", end="; "
    )
    print(verdict(peak, MEMORY_REACH))


def measure_memory(causes: int) -> None:
    """Print the peak resident megabytes before and after."""
    library = synthetic_library(1, causes)
    given = answers(library, 1)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    course(library, given)
    print(before, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


def show_wide() -> None:
    """Graphs with hubs and with global sharing: exact where they fit, else bounded."""
    print("graphs with far sharing, seeds 1 and 2; ms")
    print("sharing causes seed  engine     size   opened  step: median   worst   advice: worst   bound: first    last")
    kinds: tuple[Sharing, ...] = ("hubs", "global")
    worst = 0.0
    for sharing in kinds:
        for causes in (100, 300, 1000):
            for seed in SEEDS[:2]:
                library = synthetic_library(seed, causes, sharing)
                run = course(library, answers(library, seed))
                worst = max(worst, *run.steps)
                print(
                    f"{sharing:<7}{causes:>7}{seed:>5}  {run.engine:<7}{run.size:>9}{1000 * run.opened:>9.0f}"
                    f"{1000 * median(run.steps):>14.1f}{1000 * max(run.steps):>8.1f}{1000 * max(run.advices):>16.0f}"
                    f"{run.bounds[0]:>15.1e}{run.bounds[-1]:>8.0e}",
                    flush=True,
                )
    print(f"slowest step in ms {verdict(1000 * worst, WIDE_REACH)}")


def main() -> None:
    """Print the figures beside what they are meant to reach."""
    arguments = sys.argv[1:]
    if arguments[:1] == ["memory"]:
        measure_memory(int(arguments[1]))
        return
    print(machine(["numpy", "pyagrum", "pgmpy"]))
    if arguments[:1] != ["wide"]:
        show_local((30, 100, 300, 1000))
        show_memory(1000)
        library = synthetic_library(SEEDS[0], BESIDE)
        beside_pyagrum(library, answers(library, SEEDS[0]))
        beside_pgmpy(library, answers(library, SEEDS[0]))
    show_wide()


if __name__ == "__main__":
    main()
