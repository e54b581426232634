"""What a figure was measured on, and how: the line that every benchmark prints, and times of a run."""

from __future__ import annotations

import os
import platform
from collections.abc import Callable, Iterable, Sequence
from importlib.metadata import PackageNotFoundError, version
from time import perf_counter


def machine(packages: Iterable[str] = ("numpy",)) -> str:
    """Versions and cores in one line; "absent" for a package that is not installed."""
    found = [f"{name} {_version(name)}" for name in packages]
    return f"Python {platform.python_version()}, {', '.join(found)}, {os.cpu_count()} cores ({platform.machine()})"


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return "absent"


def timed(work: Callable[[], object]) -> float:
    """Seconds that one call takes."""
    begin = perf_counter()
    work()
    return perf_counter() - begin


def quantile(values: Sequence[float], share: float) -> float:
    """The smallest value that `share` of all values do not exceed.

    >>> quantile([4.0, 1.0, 3.0, 2.0], 0.5), quantile([4.0, 1.0, 3.0, 2.0], 0.95)
    (2.0, 4.0)
    """
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, max(0, -int(-share * len(ordered) // 1) - 1))]


def verdict(value: float, reach: float) -> str:
    """Whether a value that should be small is small enough."""
    return f"to reach {reach:g}: {'reached' if value <= reach else 'NOT reached'}"
