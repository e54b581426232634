"""Judges each decision by what could be known when it was made: how many expected minutes it gave away.

At a decision the engine gives, for every check and repair, the expected minutes until the report is gone if
that is done next (`Case.advice`). V is the least of them, what the best next step leads to. Doing something
else first and the best afterwards is always possible, so no step costs more than V plus its own minutes:

    Q(step) = min(expected minutes with this step next, its minutes + V)        regret = Q(step) - V >= 0

The figures are estimates, and what they cannot tell apart is no mistake: a check that tells something and is within
`RESOLVES` of V gave nothing away, nor did a replacement where another one is as little better. A replacement before a
check that is better is always one, for a part that was looked at can still be replaced; and for the same reason a
check that is as good as the best replacement is the best step, until that part is nearly certain.

Where the report itself may be wrong, with chance d as far as the answers go, and nobody has looked yet, the
operational check comes first where it pays: looking costs its minutes r and ends the search with chance d, so
V' = min(V, r + (1 - d) V), and a step that is made before costs its minutes with chance d and its regret with 1 - d.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from faultree.practice.doubt import doubt
from faultree.practice.exercise import Exercise, Taken
from faultree.practice.scenario import Scenario
from faultree.practice.telling import narrows
from faultree.strategy.advice import Advice
from faultree.strategy.case import Case

Choice = tuple[Literal["check", "replace", "look", "hand over"], str]
"""What can be chosen: an action and its target (empty where it has none)."""

EVERY = 10_000
"""More checks than a library has: all of them are looked at closely, not only a shortlist."""

AHEAD = 16
"""So many of them, the best, are followed to their end: more than on a screen, as any of them may have been chosen."""

NOTHING = 1e-9
"""A regret below this is rounding."""

RESOLVES = 0.1
"""Expected minutes that differ by a smaller share of V are not told apart: the estimate is no better than that."""

CERTAIN = 0.9
"""A suspect this likely is to be acted on, where that is also the best next step."""

TELLS = 0.1
"""A check that lessens what is missing by fewer bits than this is no step towards it, however short it is."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What could be known at a decision: the least expected minutes, the step that leads to them, and all others.

    `best` is "hand over" where nothing is left to find. `values` gives the expected minutes of each choice that was
    looked at closely, `search` the least of them, as if the report were true, and `doubt` the chance that it is not.
    """

    least: float
    best: Choice
    values: Mapping[Choice, float]
    search: float = 0.0
    doubt: float = 0.0


def outlook(case: Case, scenario: Scenario, looked: bool | None) -> Outlook:
    """What could be known with these answers; `looked` says whether what was reported is there (None: not known)."""
    if looked is False:
        return Outlook(0.0, ("hand over", ""), {})
    advice = case.advice(limit=EVERY, leaving_out=scenario.closed, ahead=AHEAD)
    if not advice or not any(unit.probability > 0.0 for unit in case.units()):
        return Outlook(0.0, ("hand over", ""), {})
    values = {_choice(one): one.expected_minutes for one in advice}
    best = _best(case, advice)
    least = values[_choice(advice[0])]
    unsure = doubt(case, scenario, looked)
    if unsure > 0.0:
        first = case.library.symptoms[scenario.symptom].retest + (1.0 - unsure) * least
        if first <= least:
            return Outlook(first, ("look", ""), values, least, unsure)
    return Outlook(least, best, values, least, unsure)


def _best(case: Case, advice: Sequence[Advice]) -> Choice:
    """The step of the least expected minutes; where that is a replacement, a telling check that is as good as it."""
    first = advice[0]
    likely = {one.unit: one.probability for one in case.units()}
    if first.action == "replace" and likely.get(first.item or "", 0.0) < CERTAIN:
        for one in advice:
            if one.expected_minutes - first.expected_minutes > RESOLVES * first.expected_minutes:
                break
            if one.check is not None and one.minutes < first.minutes and narrows(case, one.check) >= TELLS:
                return _choice(one)
    return _choice(first)


def _choice(advice: Advice) -> Choice:
    if advice.check is not None:
        return ("check", advice.check)
    return ("replace", advice.item or "")


def regret(seen: Outlook, taken: Taken) -> float:
    """Expected minutes given away by a step, against the best one at that moment."""
    if taken.looked is False:
        return taken.minutes
    if taken.action == "look":
        return 0.0 if seen.best == ("look", "") else min(taken.minutes, _look_first(seen, taken))
    beyond = _beyond(seen, taken)
    if seen.best == ("look", ""):
        return seen.doubt * taken.minutes + (1.0 - seen.doubt) * beyond
    return beyond


def _look_first(seen: Outlook, taken: Taken) -> float:
    """What a look costs beyond the best step, where that is another one."""
    return taken.minutes + (1.0 - seen.doubt) * seen.search - seen.least


def _beyond(seen: Outlook, taken: Taken) -> float:
    close = seen.values.get((taken.action, taken.target), float("inf"))
    found = min(close - seen.search, taken.minutes)
    if found <= NOTHING:
        return 0.0
    if found < RESOLVES * seen.search and _as_good(seen, taken):
        return 0.0
    return found


def _as_good(seen: Outlook, taken: Taken) -> bool:
    """Whether a step that is hardly worse by the estimate may as well be better."""
    if taken.action == "check":
        return narrows(taken.before, taken.target) >= TELLS
    return seen.best[0] == "replace" and ("replace", taken.target) in seen.values


def begun(exercise: Exercise) -> tuple[Case, bool | None]:
    """The case before the first step, and what was known then of the report."""
    if exercise.steps:
        first = exercise.steps[0]
        return first.before, first.looked
    return exercise.case, exercise.looked
