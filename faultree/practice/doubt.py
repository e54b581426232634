"""How likely it is that the report is wrong, as far as a trainee can know who was told how many reports are.

Bayes' rule over what the scenarios of a doubtful report hold: with chance d the report is wrong, and then there is
nothing at fault or one harmless fault (`faultree.practice.scenario`), each of which answers the checks in its own way.
"""

from __future__ import annotations

from math import exp

import numpy as np

from faultree.belief.evidence import Reply
from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.practice.draw import Faults, draw_of, shown_in
from faultree.practice.scenario import HARMLESS, Scenario
from faultree.strategy.case import Case


def doubt(case: Case, scenario: Scenario, looked: bool | None) -> float:
    """P(what was reported is not there / the answers), before anybody looked; 0 once somebody did, or where none is.

    `case` holds answers to checks alone: behind a repair the operational check is repeated, and that is a look.
    """
    if looked is not None or scenario.doubt <= 0.0:
        return 0.0
    replies = [one for one in case.steps if isinstance(one, Reply) and one.answer is not None]
    if not replies:
        return scenario.doubt
    wrong = scenario.doubt * _if_wrong(case, scenario, replies)
    right = (1.0 - scenario.doubt) * _if_right(case)
    return wrong / (wrong + right) if wrong + right > 0.0 else scenario.doubt


def _if_right(case: Case) -> float:
    """P(answers / report)."""
    posterior = Posterior(frame_of(case.library), case.symptoms, case.steps)
    return exp(posterior.log_z_of(case.steps) - posterior.log_z_of(()))


def _if_wrong(case: Case, scenario: Scenario, replies: list[Reply]) -> float:
    """P(answers / the report is wrong)."""
    sets, chances = draw_of(case.library, scenario.symptom).harmless()
    weights = np.array([1.0]) if not sets else np.concatenate([[1.0 - HARMLESS], HARMLESS * chances])
    faults: list[Faults] = [frozenset(), *sets]
    for reply in replies:
        weights = weights * _chances(case, reply, faults)
    return float(weights.sum())


def _chances(case: Case, reply: Reply, faults: list[Faults]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
    """P(answer / fault set) for each fault set."""
    library, frame = case.library, frame_of(case.library)
    check = library.checks[reply.check]
    settings = library.settings(check.situation)
    found = np.zeros(len(faults))
    for answer, literal in zip(check.answers, frame.answers[check.id], strict=True):
        right = shown_in(frame, literal, settings, faults)
        found[right] = check.confusion(str(reply.answer), answer.id)
    return found
