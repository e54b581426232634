"""How well counts agree with chances: the chi-square statistic and its critical value."""

from __future__ import annotations

from collections.abc import Sequence


def chi_square(counts: Sequence[int], chances: Sequence[float]) -> tuple[float, int]:
    """The statistic and its degrees of freedom; outcomes expected less than five times are taken together."""
    total = sum(counts)
    pairs = sorted(zip(counts, (total * one for one in chances), strict=True), key=lambda pair: pair[1])
    rare = [pair for pair in pairs if pair[1] < 5.0]
    common = [pair for pair in pairs if pair[1] >= 5.0]
    if rare:
        common.append((sum(one for one, _ in rare), sum(one for _, one in rare)))
    statistic = sum((seen - expected) ** 2 / expected for seen, expected in common if expected > 0.0)
    return statistic, len(common) - 1


def critical(freedom: int) -> float:
    """What the statistic exceeds once in a thousand times (Wilson & Hilferty 1931; 3.0902 is the normal quantile)."""
    part = 2.0 / (9.0 * freedom)
    return float(freedom * (1.0 - part + 3.0902 * part**0.5) ** 3)
