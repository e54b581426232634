"""Judges each decision by what could be known when it was made: how many expected minutes it gave away.

At a decision the engine gives, for every check and repair, the expected minutes until the report is gone if
that is done next (`Case.advice`). V is the least of them, what the best next step leads to. Doing something
else first and the best afterwards is always possible, so no step costs more than V plus its own minutes:

    Q(step) = min(expected minutes with this step next, its minutes + V)        regret = Q(step) - V >= 0

Where the report itself may be wrong (share d of reports) and nobody has looked yet, the operational check
comes first: looking costs its minutes r and ends the search with chance d, so V' = r + (1 - d) V, and a step
that is made before costs its minutes with chance d and its regret with chance 1 - d.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from faultree.practice.exercise import Exercise, Taken
from faultree.practice.scenario import Scenario
from faultree.strategy.advice import Advice
from faultree.strategy.case import Case

Choice = tuple[Literal["check", "replace", "look", "hand over"], str]
"""What can be chosen: an action and its target (empty where it has none)."""

EVERY = 10_000
"""More checks than a library has: all of them are looked at closely, not only a shortlist."""

NOTHING = 1e-9
"""A regret below this is rounding."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What could be known at a decision: the least expected minutes, the step that leads to them, and all others.

    `best` is "hand over" where nothing is left to find. `values` gives the expected minutes of each choice that was
    looked at closely.
    """

    least: float
    best: Choice
    values: Mapping[Choice, float]


def outlook(case: Case, scenario: Scenario, looked: bool | None) -> Outlook:
    """What could be known with these answers; `looked` says whether what was reported is there (None: not known)."""
    if looked is False:
        return Outlook(0.0, ("hand over", ""), {})
    advice = case.advice(limit=EVERY, leaving_out=scenario.closed)
    if not advice or not any(unit.probability > 0.0 for unit in case.units()):
        return Outlook(0.0, ("hand over", ""), {})
    values = {_choice(one): one.expected_minutes for one in advice}
    best = _choice(advice[0])
    least = values[best]
    if looked is None:
        retest = case.library.symptoms[scenario.symptom].retest
        return Outlook(retest + (1.0 - scenario.doubt) * least, ("look", ""), values)
    return Outlook(least, best, values)


def _choice(advice: Advice) -> Choice:
    if advice.check is not None:
        return ("check", advice.check)
    return ("replace", advice.item or "")


def regret(seen: Outlook, taken: Taken, doubt: float) -> float:
    """Expected minutes given away by a step, against the best one at that moment."""
    if taken.looked is False:
        return taken.minutes
    if taken.looked is None:
        if taken.action == "look":
            return 0.0
        least = min(seen.values.values(), default=0.0)
        return doubt * taken.minutes + (1.0 - doubt) * _beyond(seen, taken, least)
    if taken.action == "look":
        return taken.minutes
    return _beyond(seen, taken, seen.least)


def _beyond(seen: Outlook, taken: Taken, least: float) -> float:
    close = seen.values.get((taken.action, taken.target), float("inf"))
    found = min(close, taken.minutes + least) - least
    return found if found > NOTHING else 0.0


def known_repair(case: Case) -> float:
    """Expected minutes to put right what is wrong if one knew what: repairs with their operational check.

    A mean over the minimal fault sets by probability; what is not listed counts as the mean of those that are.
    """
    listed = case.explanations(limit=40, least=1e-4)
    total = sum(one.probability for one in listed)
    if total <= 0.0:
        return 0.0
    return sum(one.probability * _minutes(case, one.causes) for one in listed) / total


def _minutes(case: Case, causes: tuple[str, ...]) -> float:
    library = case.library
    retest = sum(library.symptoms[name].retest for name in case.symptoms)
    units = {case.unit_id(cause) for cause in causes}
    own = sum((library.items.get(unit) or library.causes[unit]).minutes + retest for unit in units)
    needed = {name for unit in units if unit in library.items for name in library.items[unit].access}
    return own + sum(library.access[name].minutes for name in needed - case.opened)


def ignorance(case: Case, scenario: Scenario, looked: bool | None) -> float:
    """Expected minutes that not knowing the fault still costs: the least expected ones beyond the repair itself."""
    seen = outlook(case, scenario, looked)
    return max(seen.least - known_repair(case), 0.0) if seen.least > 0.0 else 0.0


def begun(exercise: Exercise) -> tuple[Case, bool | None]:
    """The case before the first step, and what was known then of the report."""
    if exercise.steps:
        first = exercise.steps[0]
        return first.before, first.looked
    return exercise.case, exercise.looked
