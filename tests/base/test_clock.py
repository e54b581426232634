"""The clock, and the day that it is here."""

from __future__ import annotations

import sys
import time
from datetime import UTC, date, datetime

import pytest

from faultree.base.clock import local_day, system_clock


def test_the_time_is_in_utc() -> None:
    assert system_clock().tzinfo is UTC


@pytest.mark.skipif(sys.platform == "win32", reason="Windows sets no zone by the environment")
@pytest.mark.parametrize(("zone", "day"), [("UTC0", 4), ("EAST-12", 5), ("WEST12", 4)])
def test_today_is_the_day_of_the_place(zone: str, day: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Late in the day of Greenwich it is tomorrow in the far East (POSIX writes zones east of it with a minus)."""
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        assert local_day(lambda: datetime(2031, 5, 4, 20, tzinfo=UTC)) == date(2031, 5, day)
    finally:
        monkeypatch.undo()
        time.tzset()
