"""The worth of a check: how many bits its answer tells, and how likely each answer is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import log2
from typing import TYPE_CHECKING, NamedTuple
from weakref import WeakKeyDictionary

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.plan import Plan
    from faultree.belief.posterior import Posterior
    from faultree.library.model import Check

    Floats = NDArray[np.float64]


class Worth(NamedTuple):
    """What a check can tell now.

    `bits` is the mutual information between its answer and the fault set, given the evidence;
    `minutes` its time with the access that it still has to open; `answers` the probability of each.
    """

    check: str
    bits: float
    minutes: float
    answers: Mapping[str, float]


@dataclass(frozen=True, eq=False)
class _Meter:
    """The yes/no checks of a plan as arrays, so that all are measured at once."""

    checks: tuple[str, ...]
    places: NDArray[np.intp]
    turned: NDArray[np.bool_]
    false_yes: Floats
    false_no: Floats
    noise_on: Floats
    noise_off: Floats

    def measure(self, points: Floats) -> tuple[list[float], list[float]]:
        """Bits of each check and P(its answer is yes), from the probability of every point."""
        true = np.clip(points.take(self.places), 0.0, 1.0)  # rounding may lead out of the range
        true = np.where(self.turned, 1.0 - true, true)
        yes = true * (1.0 - self.false_no) + (1.0 - true) * self.false_yes
        bits = _binary(yes) - true * self.noise_on - (1.0 - true) * self.noise_off
        return np.maximum(bits, 0.0).tolist(), yes.tolist()


_meters: WeakKeyDictionary[Plan, dict[frozenset[int], _Meter]] = WeakKeyDictionary()


def worths(posterior: Posterior, names: Sequence[str], minutes: Mapping[str, float]) -> list[Worth]:
    """The worth of some checks, most bits first; `minutes` gives each check's time.

    For a yes/no check the mutual information is H(q) - P(node true) H(false_no) - P(node false)
    H(false_yes) with q = P(answer yes); for several answers H(answer) - H(error spread).
    """
    checks = posterior.frame.library.checks
    meter = _meter(posterior)
    measured = dict(zip(meter.checks, zip(*meter.measure(posterior.view.points), strict=True), strict=True))
    found = []
    for name in names:
        if name in measured:
            bits, yes = measured[name]
            found.append(Worth(name, bits, minutes[name], {"yes": yes, "no": 1.0 - yes}))
        else:
            bits, answers = _several(posterior, checks[name])
            found.append(Worth(name, bits, minutes[name], answers))
    found.sort(key=lambda one: -one.bits)
    return found


def _meter(posterior: Posterior) -> _Meter:
    kept = _meters.setdefault(posterior.plan, {})
    if posterior.repaired not in kept:
        checks = [check for check in posterior.frame.library.checks.values() if check.reads is not None]
        points = [posterior.check_points[check.id][0] for check in checks]
        false_yes = np.array([check.false_yes for check in checks])
        false_no = np.array([check.false_no for check in checks])
        kept[posterior.repaired] = _Meter(
            tuple(check.id for check in checks),
            np.array([posterior.plan.place[point] for point, _ in points], dtype=np.intp),
            np.array([turned for _, turned in points], dtype=np.bool_),
            false_yes,
            false_no,
            _binary(false_no),
            _binary(false_yes),
        )
    return kept[posterior.repaired]


def _several(posterior: Posterior, check: Check) -> tuple[float, dict[str, float]]:
    right = [posterior.probability(point) for point in posterior.check_points[check.id]]
    names = [answer.id for answer in check.answers]
    spread = check.error / (len(names) - 1)
    answers = {name: p * (1.0 - check.error) + (1.0 - p) * spread for name, p in zip(names, right, strict=True)}
    noise = _entropy([1.0 - check.error, *[spread] * (len(names) - 1)])
    return max(_entropy(answers.values()) - noise, 0.0), answers


def _entropy(probabilities: Iterable[float]) -> float:
    return -sum(p * log2(p) for p in probabilities if p > 0.0)


def _binary(p: Floats) -> Floats:
    """The entropy of a yes/no answer, in bits, for arrays."""
    q = 1.0 - p
    return -(p * np.log2(np.where(p > 0.0, p, 1.0)) + q * np.log2(np.where(q > 0.0, q, 1.0)))
