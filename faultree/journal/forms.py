"""The forms that the journal's fields have, for what comes from a file: days, times, plain data, words of a list."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date, datetime
from typing import get_args

from faultree.journal.records import Kind, Result, State

LARGEST = 2**31 - 1
"""Whole numbers above this fit not every database."""


def fits(table: str, field: str, value: object) -> bool:
    """Whether a value that has the type of a field has its form too.

    >>> fits("cases", "day", "2031-05-04"), fits("cases", "day", "4 May"), fits("entries", "data", "{}")
    (True, False, True)
    """
    if isinstance(value, int):
        return 0 <= value <= LARGEST
    if not isinstance(value, str):
        return True
    form = FORMS.get((table, field))
    return _is_text(value) and (form is None or form(value))


def _is_text(value: str) -> bool:
    """Text that every database takes: no half of a sign, and no NUL."""
    return "\0" not in value and not any("\ud800" <= sign <= "\udfff" for sign in value)


def _is_day(value: str) -> bool:
    try:
        return date.fromisoformat(value).isoformat() == value
    except ValueError:
        return False


def _is_day_or_empty(value: str) -> bool:
    return not value or _is_day(value)


def _is_time(value: str) -> bool:
    try:
        return datetime.fromisoformat(value).tzinfo is not None
    except ValueError:
        return False


def _is_data(value: str) -> bool:
    try:
        return isinstance(json.loads(value), dict)
    except (ValueError, RecursionError):
        return False


FORMS: Mapping[tuple[str, str], Callable[[str], bool]] = {
    ("cases", "day"): _is_day_or_empty,
    ("cases", "due"): _is_day,
    ("cases", "opened"): _is_time,
    ("cases", "state"): get_args(State).__contains__,
    ("entries", "at"): _is_time,
    ("entries", "data"): _is_data,
    ("entries", "kind"): get_args(Kind).__contains__,
    ("findings", "at"): _is_time,
    ("findings", "result"): get_args(Result).__contains__,
    ("runs", "started"): _is_time,
    ("runs", "finished"): _is_time,
    ("runs", "summary"): _is_data,
    ("run_events", "at"): _is_time,
    ("run_events", "data"): _is_data,
}
"""Table and field, then whether a text has its form; other fields hold any text."""
