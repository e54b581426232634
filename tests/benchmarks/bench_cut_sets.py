"""Cut sets and exact probability of large trees: `python -m tests.benchmarks.bench_cut_sets`.

Synthetic fault graphs as in the benchmark of inference. For each: reading the question from the library, the
diagram, the minimal sets, the hundred likeliest, and P(top) with every importance. Then trees in which sharing
reaches far, up to those that no diagram holds: how long a first answer takes and how closely it encloses P(top). In the
same run a general-purpose library of decision diagrams (dd, its pure-Python back end) builds the same function
in the same order, where it is installed.
"""

from __future__ import annotations

from importlib import import_module, util
from time import perf_counter
from typing import Any, NamedTuple

from faultree.belief.importance import Importances, importance_of
from faultree.library.load import load
from faultree.library.model import Library
from faultree.logic.cut_sets import CutSets, MinimalSets, minimal_sets
from faultree.logic.decisions import Question
from faultree.logic.simulate import cone
from tests.benchmarks.machine import machine, timed, verdict
from tests.oracles.synthetic_graphs import TOP, Sharing, synthetic_library

SEEDS = (1, 2, 3)
LARGE = 2000
WHOLE_REACH, FIRST_REACH = 3.0, 10.0
WIDE: list[tuple[Sharing, int]] = [("hubs", 300), ("hubs", 1000), ("global", 300), ("global", 1000), ("global", 2000)]


class Course(NamedTuple):
    """Seconds of each part of one analysis, and what came out."""

    question: float
    diagram: float
    sets: float
    listed: float
    importance: float
    minimal: MinimalSets
    found: CutSets
    weighed: Importances

    @property
    def whole(self) -> float:
        """All of it."""
        return self.question + self.diagram + self.sets + self.listed + self.importance


def course(library: Library, symptom: str, most: int = 100) -> Course:
    """One analysis from a loaded library, part by part."""
    begin = perf_counter()
    minimal = minimal_sets(library, symptom)
    question = perf_counter() - begin
    diagram = timed(lambda: minimal.decisions)
    sets = timed(lambda: minimal.known.family.count)
    begin = perf_counter()
    found = minimal.listed(most=most)
    listed = perf_counter() - begin
    begin = perf_counter()
    weighed = importance_of(library, minimal)
    return Course(question, diagram, sets, listed, perf_counter() - begin, minimal, found, weighed)


def beside(question: Question) -> float | None:
    """Seconds in which dd builds the same function, variables in the same order and reordering off; None without it."""
    if util.find_spec("dd") is None:
        return None
    bdd = import_module("dd.autoref").BDD()
    bdd.configure(reordering=False)
    bdd.declare(*question.names)
    place = {name: number for number, name in enumerate(question.names)}
    return timed(lambda: _built(bdd, question, place))


def _built(bdd: Any, question: Question, place: dict[str, int]) -> dict[int, Any]:
    """Every node as a function of dd, inputs joined from the deepest up, as we do."""
    made: dict[int, Any] = {}
    for index in cone(question.graph, [question.literal]):
        node = question.graph.nodes[index]
        if node.kind == "cause":
            made[index] = bdd.var(node.name)
            continue
        inputs = [~made[one >> 1] if one & 1 else made[one >> 1] for one in node.inputs]
        assert node.kind == "any", "the synthetic graphs have no other gates once reduced"
        made[index] = bdd.false
        for one in sorted(inputs, key=lambda one: place.get(one.var, len(place)), reverse=True):
            made[index] |= one
    return made


def local(causes: int) -> None:
    """Graphs whose sharing stays among neighbours."""
    worst = 0.0
    for seed in SEEDS:
        one = course(synthetic_library(seed, causes), TOP)
        worst = max(worst, one.whole)
        other = beside(one.minimal.question)
        ratio = (
            "dd not installed"
            if other is None
            else f"dd builds its diagram in {other:.2f} s, ours x {other / one.diagram:.1f}"
        )
        print(
            f"{causes} causes, seed {seed}: {one.found.count:,} sets; question {one.question:.2f} s, diagram "
            f"{one.diagram:.2f}, sets {one.sets:.2f}, first {len(one.found)} {one.listed:.2f}, P and importance "
            f"{one.importance:.2f}; all {one.whole:.2f} s; {ratio}"
        )
    reach = f", {verdict(worst, WHOLE_REACH)}" if causes == LARGE else ""
    print(f"{causes} causes: slowest {worst:.2f} s{reach}")


def wide() -> None:
    """Graphs whose sharing reaches far."""
    worst = 0.0
    for sharing, causes in WIDE:
        library = synthetic_library(1, causes, sharing)
        one = course(library, TOP)
        worst = max(worst, one.whole)
        how = "all" if one.minimal.known.reach is None else f"up to {one.minimal.known.reach} causes"
        number = f"{one.minimal.known.family.count:,} sets ({how})"
        chance = f"P {one.weighed.lower:.3g}" + ("" if one.weighed.exact else f" to {one.weighed.upper:.3g}")
        print(f"{sharing}, {causes} causes: {number}, {chance} in {one.whole:.2f} s")
    print(f"slowest first answer {worst:.2f} s, {verdict(worst, FIRST_REACH)}")


def demonstration() -> None:
    """Every symptom of the demonstration library, everything listed."""
    library = load("trees")
    courses = [course(library, symptom, 50_000) for symptom in library.symptoms]
    most = max(courses, key=lambda one: len(one.found))
    slowest = max(one.whole for one in courses)
    complete = sum(one.found.complete for one in courses)
    print(f"demonstration library: {complete} of {len(courses)} symptoms complete, slowest {slowest:.3f} s")
    print(f"most sets: {len(most.found)} for {most.minimal.symptom}")


def main() -> None:
    """All of it."""
    print(machine(("numpy", "dd")))
    for causes in (300, 1000, LARGE):
        local(causes)
    wide()
    demonstration()


if __name__ == "__main__":
    main()
