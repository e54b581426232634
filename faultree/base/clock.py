"""The clock, as something that is passed in so that tests can hold it still."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, date, datetime

Clock = Callable[[], datetime]


def system_clock() -> datetime:
    """The time now, in UTC."""
    return datetime.now(UTC)


def local_day(clock: Clock) -> date:
    """The day that it is where this machine stands: what a person there means by "today"."""
    return clock().astimezone().date()
