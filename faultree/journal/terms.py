"""The words for what became of a unit and for how a case stands: one thing has one name wherever it is shown."""

from __future__ import annotations

from collections.abc import Mapping

INVENTED = "demonstration"
"""The origin of a case that was made to show what a record can show."""

NO_FAULT = "no fault found"

RESULTS: Mapping[str, str] = {"confirmed": "confirmed", "replaced": "put right", "not found": NO_FAULT}
"""What a finding's result is called; the journal's tables hold the keys."""

STATES: Mapping[str, str] = {
    "confirmed": "the case ended: confirmed",
    "no fault found": f"the case ended: {NO_FAULT}",
    "deferred": "the case was deferred",
    "handed over": "the case was handed over",
    "open": "the case was opened again",
}
"""What is said when a case comes to stand so."""


def result(name: object) -> str:
    """A finding's result in words.

    >>> result("not found")
    'no fault found'
    """
    return RESULTS.get(str(name), str(name))


def state(name: object) -> str:
    """How a case came to stand, in words.

    >>> state("handed over")
    'the case was handed over'
    """
    return STATES.get(str(name), f"the case is {name}")
