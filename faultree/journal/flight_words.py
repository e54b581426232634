"""A day and a phase of a flight as people write them, in the form that the journal keeps."""

from __future__ import annotations

import re
from datetime import date, timedelta

from faultree.base.words import listing, near

PHASES = (
    "parked", "push-back", "taxi", "take-off", "climb", "cruise", "descent", "holding", "approach", "go-around",
    "landing", "other",
)  # fmt: skip
"""The phases of a flight; what is none of them is written as "other: in a hangar"."""

OTHER = "other"

MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")

FORM = "write it as 2031-05-04, today or yesterday"


def day_of(typed: str, today: date) -> date:
    """The day that is meant; ValueError in words for what is none, can be read in two ways, or is still to come.

    >>> day_of("yesterday", date(2031, 5, 4)), day_of("30/4/2031", date(2031, 5, 4))
    (datetime.date(2031, 5, 3), datetime.date(2031, 4, 30))
    >>> day_of("3 May 2031", date(2031, 5, 4))
    datetime.date(2031, 5, 3)
    """
    said = " ".join(typed.casefold().split())
    known = {"today": today, "yesterday": today - timedelta(days=1)}
    day = known[said] if said in known else _written(said, typed)
    if day > today:
        raise ValueError(f"{day} is still to come; today is {today}")
    return day


def _written(said: str, typed: str) -> date:
    try:
        return date.fromisoformat(said) if re.fullmatch(r"\d{4}-\d\d-\d\d", said) else _in_parts(said)
    except ValueError as error:
        raise ValueError(str(error) if "two ways" in str(error) else f"'{typed}' is no day; {FORM}") from error


def _in_parts(said: str) -> date:
    """Day, month and year with other signs between them; ValueError where which is which cannot be told."""
    named = re.fullmatch(r"(\d{1,2})[ -]?([a-z]{3})[a-z]*[ -]?(\d{4})", said)
    if named:
        return date(int(named[3]), MONTHS.index(named[2]) + 1, int(named[1]))
    found = re.fullmatch(r"(\d{1,2})[./-](\d{1,2})[./-](\d{4})", said)
    if not found:
        raise ValueError(said)
    first, second, year = map(int, found.groups())
    if first <= 12 and second <= 12 and first != second and "." not in said:
        one, other = date(year, second, first), date(year, first, second)
        raise ValueError(f"'{said}' can be read in two ways, {one} and {other}; {FORM}")
    return date(year, first, second) if first <= 12 < second else date(year, second, first)


def phase_of(typed: str) -> str:
    """The phase that is meant, which may be shortened; ValueError in words for what is none.

    >>> phase_of("Land"), phase_of("takeoff"), phase_of("other: in the hangar")
    ('landing', 'take-off', 'other: in the hangar')
    """
    said = " ".join(typed.split())
    kind, sign, rest = said.partition(":")
    if kind.casefold() == OTHER and sign and rest.strip():
        return f"{OTHER}: {rest.strip()}"
    plain = _plain(said)
    exact = [one for one in PHASES if _plain(one) == plain]
    begun = exact or [one for one in PHASES if plain and _plain(one).startswith(plain)]
    if len(begun) == 1:
        return begun[0]
    if begun:
        quoted = (f"'{one}'" for one in begun)
        raise ValueError(f"'{said}' can mean {listing(quoted, 'or')}")
    close = near(said, PHASES, 1)
    hint = f"did you mean '{close[0]}'?" if close else f"choose one of {', '.join(PHASES)}."
    raise ValueError(
        f"'{said}' is no phase of a flight; {hint} What is none of them is written as 'other: in a hangar'"
    )


def _plain(words: str) -> str:
    return words.casefold().replace("-", "").replace(" ", "")
