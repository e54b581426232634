"""How close the live advice comes to the best policy: `python -m tests.benchmarks.bench_advice [INSTANCES]`.

Random instances of 12 causes of which exactly one is present, with random minutes. The policy under
study follows `case.advice()[0]` to the end; its expected minutes are worked out exactly, over every
answer, and divided by those of the best policy (`tests/oracles/least_minutes.py`, where the cost model
stands). Other simple policies stand beside it.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Callable
from statistics import fmean
from time import perf_counter
from typing import NamedTuple

from faultree.library.load import load_texts
from faultree.library.model import Library
from faultree.strategy.advice import Advice
from faultree.strategy.case import Case
from tests.benchmarks.machine import machine, quantile, verdict
from tests.oracles.least_minutes import Instance, Look, least_minutes
from tests.oracles.tree_text import Plain, document

CAUSES = 12
RETEST = 5.0
MEAN_REACH, P95_REACH = 1.03, 1.08
RARE = 1e-7
"""The causes' summed prior: so small that two at once do not matter, which is what one fault means."""

Policy = Callable[[Case], Advice]


class Kind(NamedTuple):
    """How instances are drawn: checks and their longest minutes, causes that each reads, largest error."""

    title: str
    looks: int = 12
    minutes: float = 30.0
    reads: tuple[int, int] = (1, CAUSES - 1)
    error: float = 0.0


KINDS = (
    Kind("12 checks without error of 1 to 30 minutes"),
    Kind("12 checks without error of 1 to 60 minutes", minutes=60.0),
    Kind("12 checks without error of 1 to 30 minutes, each reads 2 to 4 causes", reads=(2, 4)),
    Kind("6 checks of 1 to 30 minutes that err up to 20 %", looks=6, error=0.2),
)
"""The first is the one that the figures to reach are meant for; the others show how far it depends on the kind."""


def drawn(rng: random.Random, kind: Kind) -> Instance:
    """Chances of 1 to 20 against each other, repairs of 10 to 120 minutes with a retest after it."""
    raw = [20.0 ** rng.random() for _ in range(CAUSES)]
    repairs = tuple(rng.uniform(10.0, 120.0) + RETEST for _ in raw)
    return Instance(tuple(one / sum(raw) for one in raw), repairs, tuple(_look(rng, kind) for _ in range(kind.looks)))


def _look(rng: random.Random, kind: Kind) -> Look:
    shows = frozenset(rng.sample(range(CAUSES), rng.randint(*kind.reads)))
    return Look(rng.uniform(1.0, kind.minutes), shows, kind.error * rng.random(), kind.error * rng.random())


def library_of(instance: Instance) -> Library:
    """The instance as a tree file: one item for each cause, one symptom that any of them shows."""
    items: dict[str, Plain] = {f"i{n}": {"title": f"Item {n}", "minutes": m - RETEST} for n, m in _each(instance)}
    causes: dict[str, Plain] = {
        f"c{n}": {"title": f"Cause {n}", "item": f"i{n}", "probability": float(f"{RARE * chance:.17g}")}
        for n, chance in enumerate(instance.chances)
    }
    events: dict[str, Plain] = {"failed": {"title": "Something failed", "any": [f"c{n}" for n in range(CAUSES)]}}
    checks: dict[str, Plain] = {}
    for n, look in enumerate(instance.looks):
        events[f"e{n}"] = {"title": f"Sign {n}", "any": [f"c{cause}" for cause in sorted(look.shows)]}
        checks[f"k{n}"] = {"title": f"Check {n}", "ask": "Is it so", "reads": f"e{n}", "minutes": look.minutes}
        checks[f"k{n}"] |= {"false_yes": look.false_yes, "false_no": look.false_no}  # type: ignore[operator]
    symptoms: dict[str, Plain] = {"reported": {"title": "Reported", "event": "failed", "retest": RETEST}}
    sections = {"items": items, "causes": causes, "events": events, "checks": checks, "symptoms": symptoms}
    return load_texts({"s.yaml": document("One fault among a few causes", sections)})


def _each(instance: Instance) -> list[tuple[int, float]]:
    return list(enumerate(instance.repairs))


class Followed:
    """The exact expected minutes of a policy on an instance; the engine is only asked what to do next."""

    def __init__(self, instance: Instance, policy: Policy) -> None:
        self.instance, self.policy = instance, policy
        self.known: dict[object, float] = {}
        self.asked = 0

    def minutes(self) -> float:
        """Expected minutes from the report to the end."""
        return self._from(Case.open(library_of(self.instance), ["reported"]), self.instance.chances)

    def _from(self, case: Case, weights: tuple[float, ...]) -> float:
        """Minutes times the probability of this state; `weights` is the joint chance of each cause."""
        if not any(weights):
            return 0.0
        key = (case.steps if self._errs else None, tuple(weight > 0.0 for weight in weights))
        if key not in self.known:
            self.known[key] = self._act(case, weights) / sum(weights)
        return self.known[key] * sum(weights)

    @property
    def _errs(self) -> bool:
        return any(look.false_yes or look.false_no for look in self.instance.looks)

    def _act(self, case: Case, weights: tuple[float, ...]) -> float:
        advice = self.policy(case)
        self.asked += 1
        if advice.action == "replace":
            return self._repair(case, weights, str(advice.item))
        look = self.instance.looks[int(str(advice.check).removeprefix("s/k"))]
        total = look.minutes * sum(weights)
        for answer in ("yes", "no"):
            chance = [look.yes(cause) if answer == "yes" else 1.0 - look.yes(cause) for cause in range(CAUSES)]
            left = tuple(weight * share for weight, share in zip(weights, chance, strict=True))
            total += self._from(case.answer(str(advice.check), answer), left) if any(left) else 0.0
        return total

    def _repair(self, case: Case, weights: tuple[float, ...], item: str) -> float:
        number = int(item.removeprefix("s/i"))
        left = tuple(0.0 if cause == number else weight for cause, weight in enumerate(weights))
        spent = self.instance.repairs[number] * sum(weights)
        return spent + (self._from(case.repair(item, gone=False), left) if any(left) else 0.0)


def advised(case: Case) -> Advice:
    """The policy under study."""
    return case.advice()[0]


def repairs_only(case: Case) -> Advice:
    """Never check: repair by probability over minutes."""
    return next(one for one in case.advice(limit=3) if one.action == "replace")


def isolate_first(case: Case) -> Advice:
    """Most bits per minute while any check tells something, then repair."""
    telling = [worth for worth in case.checks() if worth.bits > 1e-6]
    if not telling:
        return repairs_only(case)
    best = max(telling, key=lambda worth: worth.bits / worth.minutes)
    return Advice("check", best.check, None, best.bits, best.minutes, 0.0, best.answers)


def most_bits(case: Case) -> Advice:
    """Most bits, whatever the minutes, while any check tells something, then repair."""
    best = case.checks()[0] if case.checks() else None
    if best is None or best.bits <= 1e-6:
        return repairs_only(case)
    return Advice("check", best.check, None, best.bits, best.minutes, 0.0, best.answers)


def study(name: str, policy: Policy, instances: list[Instance], best: list[float]) -> list[float]:
    """Print and return the ratios of a policy to the best."""
    begin = perf_counter()
    runs = [Followed(instance, policy) for instance in instances]
    ratios = [run.minutes() / least for run, least in zip(runs, best, strict=True)]
    asked = sum(run.asked for run in runs)
    figures = f" {fmean(ratios):.3f} / {quantile(ratios, 0.95):.3f} / {max(ratios):.3f}"
    print(f"  {name:<28}{figures}   ({asked} decisions, {1000 * (perf_counter() - begin) / asked:.1f} ms each)")
    assert min(ratios) > 1.0 - 1e-6, "a policy cannot be better than the best"
    return ratios


def compare(title: str, instances: list[Instance], others: dict[str, Policy]) -> None:
    """One table: the advice, and other policies beside it."""
    begin = perf_counter()
    best = [least_minutes(instance) for instance in instances]
    print(f"{title}: {len(instances)} instances (best policy found in {perf_counter() - begin:.1f} s)")
    print("  ratio to the best policy       mean / p95 / worst")
    ratios = study("advice", advised, instances, best)
    for name, policy in others.items():
        study(name, policy, instances, best)
    print(f"  mean {fmean(ratios):.3f}, {verdict(fmean(ratios), MEAN_REACH)}")
    print(f"  p95  {quantile(ratios, 0.95):.3f}, {verdict(quantile(ratios, 0.95), P95_REACH)}")


def main() -> None:
    """Print the study; an instance with checks that err takes a hundred times the work, so there are fewer."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 200
    print(machine())
    print(f"{CAUSES} causes, one of them present")
    others: dict[str, Policy] = {
        "repairs by chance per minute": repairs_only,
        "bits per minute, then repair": isolate_first,
        "most bits, then repair": most_bits,
    }
    for number, kind in enumerate(KINDS):
        rng = random.Random(2024 + number)
        instances = [drawn(rng, kind) for _ in range(count // 5 if kind.error else count)]
        compare(kind.title, instances, others if number == 0 else {})


if __name__ == "__main__":
    main()
