"""Rules about the answers of a check: exactly one is right in every state."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from faultree.belief.engine import TooWide
from faultree.logic.simulate import evaluate, value_of
from faultree.strategy.lint.study import Found, Study, called, faults_in, names_in, undecided, where

if TYPE_CHECKING:
    from faultree.library.model import Check


def overlap(study: Study) -> Iterator[Found]:
    """Checks of which two answers are right at the same time."""
    for check in _with_answers(study):
        question = f"whether two answers of {called(check)} can be right at once"
        yield from _searched(study, check, "at_least", question)


def gap(study: Study) -> Iterator[Found]:
    """Checks of which no answer may be right."""
    for check in _with_answers(study):
        yield from _searched(study, check, "none", f"whether {called(check)} always has a right answer")


def _with_answers(study: Study) -> Iterator[Check]:
    """The checks whose author wrote the answers; those of a node that is read are right by construction."""
    return (check for check in study.library.checks.values() if check.reads is None)


def _searched(study: Study, check: Check, gate: str, question: str) -> Iterator[Found]:
    view = study.oracle.view(check.situation)
    study.oracle.effort.renew()
    answers = [view.literal(one) for one in study.frame.answers[check.id]]
    try:
        faults = study.oracle.witness(study.oracle.target.gate(gate, answers, 2))
    except TooWide:
        yield undecided(check, question)
        return
    if faults is not None:
        yield _counterexample(study, check, faults)


def _counterexample(study: Study, check: Check, faults: frozenset[str]) -> Found:
    """What is wrong with a check under a fault set, found once more by simulating that set."""
    values = evaluate(study.frame.graph, study.library.settings(check.situation), faults)
    literals = study.frame.answers[check.id]
    right = [one.id for one, literal in zip(check.answers, literals, strict=True) if value_of(values, literal)]
    state = f"{faults_in(check, faults)}, {where(check, check.situation)}"
    if right:
        what = f"answers {names_in(check, [f'{check.system}/{one}' for one in right])}"
        message = f"{what} of {called(check)} are right at once {state}"
        return Found(check, message, "let their 'when' exclude each other")
    message = f"no answer of {called(check)} is right {state}"
    return Found(check, message, "widen a 'when', or let the last answer say 'when: otherwise'")
