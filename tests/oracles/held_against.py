"""The engine's case held against the enumerated one, figure by figure."""

from __future__ import annotations

import json
from collections.abc import Iterable

import pytest

from faultree.base.errors import Contradiction
from faultree.belief.evidence import Repair, Reply
from faultree.library.model import Library
from faultree.strategy.case import Case
from tests.oracles.brute import Answered, Brute, Repaired, same

CLOSE = 1e-9


def replayed(brute: Brute) -> Case:
    """The same symptoms and steps given to the engine."""
    case = Case.open(brute.library, list(brute.symptoms))
    for step in brute.steps:
        case = case.answer(*step) if isinstance(step, Answered) else case.repair(step.unit, gone=step.gone)
    return case


def shares(pairs: Iterable[tuple[str, float]]) -> dict[str, float]:
    """Names with their probabilities, each name once."""
    found = dict(pairs_list := list(pairs))
    assert len(found) == len(pairs_list)
    return found


def differences(brute: Brute, case: Case, tolerance: float = CLOSE) -> list[str]:
    """Everything in which the engine differs from the enumeration by more than `tolerance`, as sentences."""
    return [
        *same(shares((one.cause, one.probability) for one in case.ranking()), brute.ranking(), tolerance),
        *_units(brute, case, tolerance),
        *_explanations(brute, case, tolerance),
        *_checks(brute, case, tolerance),
        *_cleared(brute, case, tolerance),
    ]


def _units(brute: Brute, case: Case, tolerance: float) -> list[str]:
    units = brute.units()
    found = shares((one.unit, one.probability) for one in case.units())
    return same(found, {name: units[name] for name in found if name in units}, tolerance)


def _explanations(brute: Brute, case: Case, tolerance: float) -> list[str]:
    found = shares((" ".join(sorted(one.causes)), one.probability) for one in case.explanations(limit=100_000))
    expected = {" ".join(sorted(faults)): share for faults, share in brute.explanations().items()}
    return [f"explanation {words}" for words in same(found, expected, tolerance)]


def _checks(brute: Brute, case: Case, tolerance: float) -> list[str]:
    answered = {step.check for step in brute.steps if isinstance(step, Answered)}
    found = {worth.check: worth for worth in case.checks()}
    words = []
    if set(found) != set(brute.library.checks) - answered:
        words.append(f"checks still open: found {sorted(found)}")
    for check, worth in found.items():
        words += [f"answer {check} {one}" for one in same(worth.answers, brute.answers(check), tolerance)]
        words += same({f"bits of {check}": worth.bits}, {f"bits of {check}": brute.bits(check)}, tolerance)
    return words


def _cleared(brute: Brute, case: Case, tolerance: float) -> list[str]:
    """What making good the first and the last unit would clear; two, because each needs an engine of its own."""
    repaired = {step.unit for step in brute.steps if isinstance(step, Repaired)}
    left = sorted(set(brute.units()) - repaired)
    ends = list(dict.fromkeys([*left[:1], *left[-1:]]))
    found = {f"cleared by {unit}": case.clears(unit) for unit in ends}
    return same(found, {f"cleared by {unit}": brute.cleared_by(unit) for unit in ends}, tolerance)


def hold(brute: Brute) -> Case | None:
    """Play the case on both sides and assert that they agree; the engine's case, or None where nothing explains it.

    A contradiction must be raised at the very step (or at the opening) at which nothing explains
    everything any more, and what it names must be one of the minimal contradicting sets.
    """
    explained = brute.explained_steps()
    if explained == len(brute.steps):
        case = replayed(brute)
        assert case.bound == 0.0
        assert not differences(brute, case)
        return case
    if explained is None:
        with pytest.raises(Contradiction) as raised:
            Case.open(brute.library, list(brute.symptoms))
        assert (raised.value.answers, raised.value.steps) == ((), ())
        return None
    before = replayed(Brute(brute.library, brute.symptoms, brute.steps[:explained]))
    last = brute.steps[explained]
    with pytest.raises(Contradiction) as raised:
        before.answer(*last) if isinstance(last, Answered) else before.repair(last.unit, gone=last.gone)
    _minimal(Brute(brute.library, brute.symptoms, brute.steps[: explained + 1]), raised.value)
    return None


def _minimal(brute: Brute, raised: Contradiction) -> None:
    """What a contradiction names is a minimal contradicting set, and `answers` are the answers among it.

    The repairs of the case were made, whatever is doubted; one that is named is named for what was seen after it.
    """
    own = [Reply(*step) if isinstance(step, Answered) else Repair(*step) for step in brute.steps]
    named = frozenset(own.index(step) for step in raised.steps if isinstance(step, Reply | Repair))
    assert len(named) == len(raised.steps)
    assert named in brute.contradictions()
    assert [tuple(step) for step in raised.steps if isinstance(step, Reply)] == list(raised.answers)


def saved_and_loaded(case: Case, library: Library) -> Case:
    """The case after a way through JSON text, read with this library."""
    return Case.from_dict(library, json.loads(json.dumps(case.to_dict())))
