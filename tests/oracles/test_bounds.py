"""Where a result is not exact, the enumeration lies within the bound that the case states."""

from __future__ import annotations

import random

import pytest

from faultree.base.errors import Contradiction
from faultree.belief.engine import Limits
from faultree.belief.evidence import Repair, Reply
from faultree.library.load import load_texts
from faultree.strategy.case import Case
from tests.oracles.brute import Answered, Brute
from tests.oracles.held_against import CLOSE
from tests.oracles.random_cases import random_case
from tests.oracles.random_libraries import Size, random_library

TABLES = {
    "singles": Limits(cells=1, held_cells=1, sets=1),
    "some pairs": Limits(cells=1, held_cells=1, sets=30),
    "up to triples": Limits(cells=1, held_cells=1, sets=100_000),
}
"""Nothing fits a clique, and nothing can be cut small enough: a table of fault sets is left."""

HELD = {
    f"{settings} settings, tables of {cells}": Limits(cells=cells, held_cells=cells, settings=settings, sets=1)
    for settings in (1, 4, 4096)
    for cells in (96, 200)
}
"""Larger cliques do not fit: a few chosen variables are held, at few settings or at all of them."""

FORCED = TABLES | HELD


def opened(brute: Brute, limits: Limits) -> Case:
    """The case with lowered limits, whatever engine they leave."""
    steps = [Reply(*step) if isinstance(step, Answered) else Repair(*step) for step in brute.steps]
    return Case(brute.library, tuple(brute.symptoms), tuple(steps), limits)


def engines(case: Case) -> set[str]:
    """The kinds of engine behind a case."""
    return {type(engine).__name__ for engine in (*case._posterior.plan.engines, *case._posterior.core.engines)}


def beyond(brute: Brute, case: Case) -> list[str]:
    """Every probability that is off by more than the bound, and every explanation that is none."""
    allowed = case.bound + CLOSE
    ranking = brute.ranking()
    found = [
        f"{one.cause}: {one.probability} is not within {allowed} of {ranking[one.cause]}"
        for one in case.ranking()
        if abs(one.probability - ranking[one.cause]) > allowed
    ]
    for worth in case.checks():
        exact = brute.answers(worth.check)
        found += [
            f"{worth.check} {name}: {share} is not within {allowed} of {exact[name]}"
            for name, share in worth.answers.items()
            if abs(share - exact[name]) > allowed
        ]
    minimal = brute.explanations()
    for explanation in case.explanations(limit=1000):
        share = minimal.get(frozenset(explanation.causes))
        if share is None or abs(explanation.probability - share) > allowed:
            found.append(f"{explanation} should be {share}")
    return found


@pytest.mark.parametrize("name", FORCED)
def test_probabilities_lie_within_the_bound(name: str) -> None:
    """Causes, answers and explanations of random cases, by each kind of engine that is not exact."""
    for seed in range(6000, 6040):
        rng = random.Random(seed)
        drawn = random_library(rng, Size(fault_sets=128))
        brute = random_case(rng, drawn.library, steps=2, nonsense=0.0)
        if brute.evidence() > 0.0:
            case = opened(brute, FORCED[name])
            assert not beyond(brute, case), f"seed {seed} {case.symptoms} {case.steps}\n{drawn!r}"


@pytest.mark.parametrize(("limits", "kind"), [(TABLES, "Table"), (HELD, "Split")], ids=["table", "held"])
def test_the_lowered_limits_force_the_engine_they_are_for(limits: dict[str, Limits], kind: str) -> None:
    """Otherwise the rule above would be tested of another engine."""
    for name, one in limits.items():
        kinds: set[str] = set()
        for seed in range(6000, 6040):
            rng = random.Random(seed)
            brute = random_case(rng, random_library(rng, Size(fault_sets=128)).library, steps=2, nonsense=0.0)
            if brute.evidence() > 0.0:
                kinds |= engines(opened(brute, one))
        assert kind in kinds, name


@pytest.mark.parametrize("name", FORCED)
def test_a_contradiction_is_only_claimed_where_nothing_is_consistent(name: str) -> None:
    """What was not looked at may explain the evidence; then the bound is 1, and nothing is said to contradict."""
    for seed in range(7000, 7040):
        rng = random.Random(seed)
        drawn = random_library(rng, Size(fault_sets=128))
        brute = random_case(rng, drawn.library, steps=4, nonsense=0.5)
        explained = brute.evidence() > 0.0
        try:
            opened(brute, FORCED[name])
        except Contradiction:
            assert not explained, f"seed {seed} {brute.symptoms} {brute.steps}\n{drawn!r}"


DEEP = """
causes:
  a: {title: A, probability: 0.01}
  b: {title: B, probability: 0.01}
  c: {title: C, probability: 0.01}
  d: {title: D, probability: 0.01}
events:
  all-four: {title: All four, all: [a, b, c, d]}
symptoms:
  reported: {title: All four at once, event: all-four}
"""


def test_four_faults_at_once_are_no_contradiction_for_a_table_of_pairs() -> None:
    """Nothing listed explains the report, yet it can be explained."""
    library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{DEEP}"})
    case = Case.open(library, ["s/reported"], TABLES["some pairs"])
    assert case.bound == 1.0


SETTLED = """
conditions:
  armed: {title: Armed, usually: yes}
causes:
  a: {title: A, probability: 0.2}
  b: {title: B, probability: 0.3}
  c: {title: C, probability: 0.1}
  d: {title: D, probability: 0.25}
events:
  two: {title: Two of four, at_least: {count: 2, of: [a, b, c, d]}}
  odd: {title: Just one of three, one_of: [a, b, c]}
checks:
  look: {title: Look at what is so anyway, ask: Is it armed?, reads: armed, false_no: 0.95}
symptoms:
  reported: {title: Reported, sees: {two: yes, odd: yes}, false_report: 0.4}
"""


PARTLY_HELD = Limits(cells=48, held_cells=48, settings=2, sets=1)
"""Some of the settings of the held variables are tried, and some are left out."""


@pytest.mark.parametrize(
    ("limits", "kind"), [(TABLES["some pairs"], "Table"), (PARTLY_HELD, "Split")], ids=["table", "held"]
)
def test_an_answer_that_says_nothing_leaves_the_bound(limits: Limits, kind: str) -> None:
    """A check of what is settled multiplies every fault set's weight alike, listed or not."""
    library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{SETTLED}"})
    case = Case.open(library, ["s/reported"], limits)
    brute = Brute(library, ["s/reported"], [Answered("s/look", "yes")])
    answered = opened(brute, limits)
    assert engines(case) == engines(answered) == {kind}
    assert answered.bound == pytest.approx(case.bound, abs=1e-12)
    assert answered.bound > 0.0
    assert not beyond(brute, answered)


def test_lower_limits_never_tighten_the_bound_of_a_table() -> None:
    """More listed fault sets leave less out."""
    library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{SETTLED}"})
    bounds = [Case.open(library, ["s/reported"], limits).bound for limits in TABLES.values()]
    assert bounds == sorted(bounds, reverse=True)
    assert bounds[0] > bounds[-1] > 0.0
