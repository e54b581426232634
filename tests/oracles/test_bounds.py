"""Where a result is not exact, the enumeration lies within the bound that the case states."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress

import pytest

from faultree.base.errors import Contradiction
from faultree.belief import plan
from faultree.belief.engine import Engine, Limits, TooWide, wire
from faultree.belief.evidence import Point, Repair, Reply
from faultree.belief.frame import Frame
from faultree.belief.split import split_of
from faultree.belief.table import table_of
from faultree.library.load import load_texts
from faultree.strategy.case import Case
from tests.oracles.brute import Answered, Brute
from tests.oracles.held_against import CLOSE
from tests.oracles.random_cases import random_case
from tests.oracles.random_libraries import Size, random_library
from tests.oracles.synthetic_graphs import TOP, Sharing, hidden_faults, synthetic_library, true_answer

Force = Callable[[str], None]

TABLES = {"singles": 1, "some pairs": 30, "up to triples": 100_000}
"""How many fault sets a table lists, singles always."""

HELD = {
    f"{settings} settings, tables of {cells}": Limits(held_cells=cells, settings=settings)
    for settings in (1, 3, 12, 4096)
    for cells in (24, 64)
}
"""A few chosen variables are held, so that no table is larger; at few settings, or at all of them."""

FORCED = [*TABLES, *HELD]


@pytest.fixture
def force(monkeypatch: pytest.MonkeyPatch) -> Force:
    """Makes cases do with the engine of this name; a table of single faults where nothing can be held."""

    def no_exact(*_: object) -> Engine:
        raise TooWide

    def use(name: str) -> None:
        def bounded(frame: Frame, points: Sequence[Point], _: Limits) -> Engine:
            wiring = wire(frame, points)
            if name in HELD:
                with suppress(TooWide):
                    return split_of(wiring, HELD[name])
            return table_of(frame, wiring, Limits(sets=TABLES.get(name, 1)))

        monkeypatch.setattr(plan, "compile_exact", no_exact)
        monkeypatch.setattr(plan, "compile_bounded", bounded)

    return use


def opened(brute: Brute) -> Case:
    """The case, by whatever engine there is."""
    steps = [Reply(*step) if isinstance(step, Answered) else Repair(*step) for step in brute.steps]
    return Case(brute.library, tuple(brute.symptoms), tuple(steps))


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


def brutes(first: int, count: int, steps: int, nonsense: float) -> Iterator[tuple[str, Brute]]:
    """Random cases, each with the words that tell which it is."""
    for seed in range(first, first + count):
        rng = random.Random(seed)
        drawn = random_library(rng, Size(fault_sets=128))
        brute = random_case(rng, drawn.library, steps=steps, nonsense=nonsense)
        yield f"seed {seed} {brute.symptoms} {brute.steps}\n{drawn!r}", brute


@pytest.mark.parametrize("name", FORCED)
def test_probabilities_lie_within_the_bound(force: Force, name: str) -> None:
    """Causes, answers and explanations of random cases, by each kind of engine that is not exact."""
    force(name)
    kinds: Counter[str] = Counter()
    for words, brute in brutes(6000, 30, steps=2, nonsense=0.0):
        if brute.evidence() > 0.0:
            case = opened(brute)
            assert not beyond(brute, case), words
            kinds.update(engines(case))
    assert kinds["Table" if name in TABLES else "Split"] > 5


@pytest.mark.parametrize("name", FORCED)
def test_a_contradiction_is_only_claimed_where_nothing_is_consistent(force: Force, name: str) -> None:
    """What was not looked at may explain the evidence; then the bound is 1, and nothing is said to contradict."""
    force(name)
    for words, brute in brutes(7000, 40, steps=4, nonsense=0.5):
        explained = brute.evidence() > 0.0
        try:
            opened(brute)
        except Contradiction:
            assert not explained, words


def deep(probability: float) -> str:
    """Four causes that are only seen when all of them are there."""
    causes = "".join(f"  {name}: {{title: {name}, probability: {probability}}}\n" for name in "abcd")
    events = "  all-four: {title: All four, all: [a, b, c, d]}\n"
    symptoms = "  reported: {title: All four at once, event: all-four}\n"
    return f"causes:\n{causes}events:\n{events}symptoms:\n{symptoms}"


@pytest.mark.parametrize("probability", [0.01, 0.0001])
@pytest.mark.parametrize("name", list(TABLES))
def test_four_faults_at_once_are_no_contradiction_for_a_table(force: Force, name: str, probability: float) -> None:
    """Nothing listed explains the report, yet it can be explained, however little of the prior that is."""
    library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{deep(probability)}"})
    force(name)
    assert Case.open(library, ["s/reported"]).bound == 1.0


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


@pytest.mark.parametrize("name", ["singles", "1 settings, tables of 24", "3 settings, tables of 24"])
def test_an_answer_that_says_nothing_leaves_the_bound(force: Force, name: str) -> None:
    """A check of what is settled multiplies every fault set's weight alike, looked at or not."""
    library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{SETTLED}"})
    force(name)
    case = Case.open(library, ["s/reported"])
    brute = Brute(library, ["s/reported"], [Answered("s/look", "yes")])
    answered = opened(brute)
    assert engines(case) == engines(answered) == {"Table" if name in TABLES else "Split"}
    assert answered.bound == pytest.approx(case.bound, abs=1e-12)
    assert answered.bound > 0.0
    assert not beyond(brute, answered)


@pytest.mark.parametrize(
    "names", [list(TABLES), [name for name in HELD if name.endswith(" 24")]], ids=["table", "held"]
)
def test_looking_at_more_never_widens_the_bound(force: Force, names: list[str]) -> None:
    """More fault sets, or more settings, leave less out."""
    bounds = []
    for name in names:
        force(name)
        library = load_texts({"s.yaml": f"faultree: 1\ntitle: Small\n{SETTLED}"})
        bounds.append(Case.open(library, ["s/reported"]).bound)
    assert bounds == sorted(bounds, reverse=True)
    assert bounds[0] > bounds[-1]


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize("sharing", ["local", "hubs", "global"])
@pytest.mark.parametrize("name", ["up to triples", "12 settings, tables of 64"])
def test_larger_graphs_lie_within_the_bound(force: Force, name: str, sharing: Sharing, seed: int) -> None:
    """Sixty causes are too many to enumerate; the exact engine is held against a reference elsewhere."""
    rng = random.Random(seed)
    library = synthetic_library(seed, 60, sharing)
    faults = hidden_faults(rng, library)
    steps = [Answered(one, true_answer(rng, library, one, faults)) for one in rng.sample(list(library.checks), 4)]
    exact = opened(Brute(library, [TOP], steps))
    assert exact.bound == 0.0
    figures = {one.cause: one.probability for one in exact.ranking()}
    force(name)
    other = opened(Brute(synthetic_library(seed, 60, sharing), [TOP], steps))
    assert engines(other) == {"Table" if name in TABLES else "Split"}
    assert max(abs(one.probability - figures[one.cause]) for one in other.ranking()) <= other.bound + CLOSE
