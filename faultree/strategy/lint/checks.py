"""Rules about what checks can tell, and which causes they tell of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from faultree.belief.engine import TooWide
from faultree.strategy.lint.study import Found, Study, called, name_in, undecided, where

if TYPE_CHECKING:
    from faultree.library.model import Check

NO_DIFFERENCE = 1e-12
"""Answers whose probabilities differ by less, whatever is right, are alike."""


def silent_check(study: Study) -> Iterator[Found]:
    """Checks that can never tell anything for any symptom."""
    for check in study.library.checks.values():
        study.oracle.effort.renew()
        try:
            found = _silence(study, check)
        except TooWide:
            yield undecided(check, f"whether {called(check)} can tell anything")
            continue
        if found is not None:
            yield Found(check, *found)


def _silence(study: Study, check: Check) -> tuple[str, str] | None:
    """Why a check tells nothing, and the remedy; None where it tells something."""
    if _only_noise(check):
        message = f"{called(check)} tells nothing: its errors make every answer as likely as if another were right"
        return message, "lower its 'error', 'false_yes' or 'false_no'"
    if check.id in study.telling.told.checks:
        return None
    always = _only_answer(study, check)
    if always is not None:
        message = f"the right answer of {called(check)} is '{always}' whatever is wrong"
        return f"{message}, {where(check, check.situation)}", "read another node, or choose another situation"
    if study.telling.tells(check.id):
        return None
    message = f"{called(check)} tells nothing for any symptom"
    return message, "let it read a node of which a symptom leaves open how it is, or remove it"


def _only_noise(check: Check) -> bool:
    first, *others = [answer.id for answer in check.answers]
    return all(abs(check.confusion(first, first) - check.confusion(first, other)) < NO_DIFFERENCE for other in others)


def _only_answer(study: Study, check: Check) -> str | None:
    """The one answer that is ever right, or None."""
    view, oracle = study.oracle.view(check.situation), study.oracle
    for answer, literal in zip(check.answers, study.frame.answers[check.id], strict=True):
        left = view.literal(literal)
        if oracle.witness(left) is not None:
            return answer.id if oracle.witness(left ^ 1) is None else None
    return None


def unrevealed(study: Study) -> Iterator[Found]:
    """Causes that no check tells from any other cause that explains the same symptom."""
    for name, cause in study.library.causes.items():
        if name not in study.telling.told.causes:
            study.oracle.effort.renew()
            try:
                rival = _untold(study, name)
            except TooWide:
                yield undecided(cause, f"whether a check tells {called(cause)} from others")
                continue
            if rival is not None:
                symptom, other = (name_in(cause, one) for one in rival)
                message = f"no check tells {called(cause)} from {other}, which explains symptom {symptom} as well"
                yield Found(cause, message, "add a check whose answer differs between them")


def _untold(study: Study, cause: str) -> tuple[str, str] | None:
    """A symptom and a cause that explains it as well, where no check tells this cause from any such."""
    telling = study.telling
    rival = next(telling.rivals(cause), None)
    if rival is None:
        return None
    told = (telling.singles_out(check, cause, symptom) for symptom in telling.reports for check in telling.checks)
    return None if any(told) else rival
