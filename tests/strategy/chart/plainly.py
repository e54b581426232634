"""A fixed order followed hidden fault by hidden fault, as a person would: slow and obviously right."""

from __future__ import annotations

from collections.abc import Sequence

from faultree.library.model import Library
from tests.oracles.brute import Brute

Faults = frozenset[str]


def expected_minutes(
    library: Library,
    symptom: str,
    chances: dict[Faults, float],
    order: Sequence[str],
    *,
    skipping: bool,
) -> float:
    """Mean minutes of a list of checks that do not err, until one thing to replace is left or the list is over."""
    brute = Brute(library, [symptom])
    answers = {
        (name, faults): brute.right_answer(name, faults) for name in library.checks for faults in chances
    }  # fmt: skip
    kinds = {faults: _kind(library, list(chances), answers, faults) for faults in chances}
    total = 0.0
    for hidden, chance in chances.items():
        possible, opened = set(chances), set[str]()
        for name in order:
            if len({kinds[one] for one in possible}) == 1:
                break
            left = {one for one in possible if answers[name, one] == answers[name, hidden]}
            tells = len({answers[name, one] for one in possible}) > 1
            if skipping and not tells:
                continue
            check = library.checks[name]
            new = set(check.access) - opened
            total += chance * (check.minutes + sum(library.access[one].minutes for one in new))
            opened |= new
            possible = left
    return total


def _kind(
    library: Library, sets: Sequence[Faults], answers: dict[tuple[str, Faults], str], faults: Faults
) -> frozenset[str] | tuple[str, ...]:
    """What a fault set calls for, as far as all checks together can tell."""
    pattern = tuple(answers[name, faults] for name in library.checks)
    alike = [one for one in sets if tuple(answers[name, one] for name in library.checks) == pattern]
    units = {frozenset(library.causes[cause].item or cause for cause in one) for one in alike}
    return next(iter(units)) if len(units) == 1 else pattern
