"""Short marks of what the figures rest on, by system and by check, so that a later change of the files can be told."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

from faultree.library.model import Check, Gate, Library, Operand

LENGTH = 10
"""Signs of a mark: enough that a change is not missed by chance, few enough to be read in a file."""


def systems(library: Library) -> dict[str, str]:
    """For each system a mark of its logic, likelihoods, situations, checks and reports.

    Titles, times, places, cautions and notes do not count: no probability rests on them.
    """
    parts: dict[str, list[str]] = {name: [] for name in library.systems}
    for name, form in _forms(library):
        parts[name.partition("/")[0]].append(f"{name}={form}")
    return {name: _mark("\n".join(sorted(lines))) for name, lines in parts.items()}


def check(entry: Check, settings: Mapping[str, bool]) -> str:
    """A mark of what a check reads, in which setting of the conditions, and how often its answers are wrong."""
    return _mark(f"{_check(entry)};{sorted(settings.items())}")


def _mark(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:LENGTH]


def _forms(library: Library) -> Iterator[tuple[str, str]]:
    """Every entry on which a figure can rest, by full id, in a form that changes whenever its meaning does."""
    for condition in library.conditions.values():
        yield condition.id, str(condition.usually)
    for situation in library.situations.values():
        yield situation.id, str(sorted(situation.sets.items()))
    for cause in library.causes.values():
        yield cause.id, f"{cause.item} {cause.probability!r}"
    for signal in library.signals.values():
        parts = (signal.follows, *signal.lost_if, None, *signal.forced_if)
        yield signal.id, " ".join(_form(one) if one else "-" for one in parts)
    for event in library.events.values():
        yield event.id, _form(event.gate)
    for entry in library.checks.values():
        yield entry.id, _check(entry)
    for symptom in library.symptoms.values():
        yield symptom.id, f"{symptom.sees} {symptom.situation} {symptom.false_report!r}"


def _check(entry: Check) -> str:
    answers = " ".join(f"{one.id}:{_form(one.when)}" for one in entry.answers)
    return f"{entry.situation} {answers} {entry.false_yes!r} {entry.false_no!r} {entry.error!r}"


def _form(operand: Operand) -> str:
    if isinstance(operand, Gate):
        return f"{operand.kind}{operand.count or ''}({','.join(map(_form, operand.operands))})"
    return operand.id
