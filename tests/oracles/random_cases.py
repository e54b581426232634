"""Random cases on a library: symptoms, answers that a hidden fault would give or that nothing would, and repairs."""

from __future__ import annotations

import random

from faultree.library import model
from tests.oracles.brute import Answered, Brute, Faults, Repaired, Step, causes_of, unit_of


def random_case(rng: random.Random, library: model.Library, steps: int = 4, nonsense: float = 0.15) -> Brute:
    """A case of one or two symptoms and up to `steps` steps.

    Most answers are what a fault set drawn from the posterior of the symptoms would show; a share
    `nonsense` of them is drawn evenly from the check's answers and may contradict the rest. One
    symptom set in ten is taken as it comes, possible or not.
    """
    symptoms = _symptoms(rng, library)
    opened = Brute(library, symptoms)
    hidden = _hidden(rng, opened)
    checks = list(library.checks)
    rng.shuffle(checks)
    taken: list[Step] = []
    for _ in range(rng.randint(0, steps)):
        if rng.random() < 0.15:
            unit = _unit(rng, library)
            hidden = hidden - causes_of(library, unit)
            gone = not any(opened.sees(one, hidden) for one in symptoms)
            taken.append(Repaired(unit, gone if rng.random() > nonsense else rng.random() < 0.5))
        elif checks:
            check = checks.pop()
            taken.append(Answered(check, _answer(rng, opened, check, hidden, nonsense)))
    return Brute(library, symptoms, _each_unit_once(taken))


def _symptoms(rng: random.Random, library: model.Library) -> tuple[str, ...]:
    names = list(library.symptoms)
    for _ in range(10):
        chosen = tuple(rng.sample(names, min(len(names), rng.choice([1, 1, 1, 2]))))
        if rng.random() < 0.1 or Brute(library, chosen).evidence() > 0.0:
            break
    return chosen


def _hidden(rng: random.Random, opened: Brute) -> Faults:
    if opened.evidence() == 0.0:
        return frozenset()
    sets = opened.posterior()
    return rng.choices([faults for faults, _ in sets], [share for _, share in sets])[0]


def _unit(rng: random.Random, library: model.Library) -> str:
    units = sorted({unit_of(library, name) for name in library.causes})
    return rng.choice(units)


def _answer(rng: random.Random, opened: Brute, check: str, hidden: Faults, nonsense: float) -> str:
    names = [one.id for one in opened.library.checks[check].answers]
    if rng.random() < nonsense:
        return rng.choice(names)
    return rng.choices(names, [opened.answer_likelihood(check, name, hidden) for name in names])[0]


def _each_unit_once(steps: list[Step]) -> tuple[Step, ...]:
    seen: set[str] = set()
    kept: list[Step] = []
    for step in steps:
        if isinstance(step, Repaired):
            if step.unit in seen:
                continue
            seen.add(step.unit)
        kept.append(step)
    return tuple(kept)
