"""The dearer figures of a case, each worked out once however often a screen asks for it.

A case is a value, so what follows from it never changes; only the last few cases are remembered.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from faultree.strategy.advice import Advice
from faultree.strategy.case import Case, Outlook
from faultree.strategy.worth import Worth
from faultree.walk.today import ANY, Today, waiting

REMEMBERED = 8
"""So many cases are remembered: the one on view, what came before it, and room for going back."""

OUTLOOKS = 128
"""So many outlooks are remembered: those of the checks on view, and of those looked through to find them."""


@lru_cache(maxsize=REMEMBERED)
def advice(case: Case, today: Today = ANY, *, units_wait: bool = True) -> tuple[Advice, ...]:
    """The advice of a case, best first, for who and what is there today.

    With `units_wait` False, units are advised that cannot be put right today: what is wrong does not depend on that.
    """
    out = waiting(case.library, today.lacks)
    return case.advice(today.by, leaving_out=out if units_wait else out.intersection(case.library.checks))


@lru_cache(maxsize=REMEMBERED)
def checks(case: Case, today: Today = ANY) -> tuple[Worth, ...]:
    """The checks of a case that have no reply yet and can be made today, most bits first."""
    return case.checks(today.by, leaving_out=waiting(case.library, today.lacks))


@lru_cache(maxsize=OUTLOOKS)
def outlook(case: Case, check: str) -> Mapping[str, Outlook]:
    """What each answer to a check would leave."""
    return case.outlook(check)


@lru_cache(maxsize=REMEMBERED)
def together(case: Case, least: float) -> tuple[tuple[tuple[str, ...], float], ...]:
    """Explanations of two faults or more (their causes), from a least probability on."""
    found = case.explanations(limit=5, least=least)
    return tuple((one.causes, one.probability) for one in found if len(one.causes) > 1)
