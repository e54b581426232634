"""The least expected minutes to restoration by dynamic programming, for one fault among a few causes.

The cost model. Exactly one cause is present. A check costs its minutes and gives one answer, once. A
repair of a cause costs its minutes, the operational check included, after which one knows whether the
report is gone; it is gone when the cause repaired was the one. The work ends when the report is gone.

Nothing of the engine is used here. All sums are kept unnormalised (cost times probability of the
state), so that no state's value is divided by a small number.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


class Look(NamedTuple):
    """A yes/no check: its minutes, under which causes "yes" is right, and how often it errs."""

    minutes: float
    shows: frozenset[int]
    false_yes: float = 0.0
    false_no: float = 0.0

    def yes(self, cause: int) -> float:
        """P(answer yes / this cause is the one present)."""
        return 1.0 - self.false_no if cause in self.shows else self.false_yes


class Instance(NamedTuple):
    """Causes with their probabilities (sum 1) and minutes of repair, and the checks there are."""

    chances: tuple[float, ...]
    repairs: tuple[float, ...]
    looks: tuple[Look, ...]


def least_minutes(instance: Instance) -> float:
    """Expected minutes of the best policy, over every answer that checks may give.

    With perfect checks a state is the set of causes still possible. With checks that err it is what each
    check answered and what was repaired: 3 ** checks * 2 ** causes states, so only a few checks.

    >>> round(least_minutes(Instance((0.5, 0.3, 0.2), (12.0, 5.0, 4.0), ())), 9)
    13.8
    """
    if all(look.false_yes == look.false_no == 0.0 for look in instance.looks):
        return _perfect(instance)
    return _erring(instance)


def _perfect(instance: Instance) -> float:
    count = len(instance.chances)
    weight = _weights(np.array([instance.chances]), count)[0]
    best = np.zeros(1 << count)
    masks = [sum(1 << cause for cause in look.shows) for look in instance.looks]
    for sets in _by_size(count):
        found = np.full(len(sets), np.inf)
        for look, mask in zip(instance.looks, masks, strict=True):
            inside, outside = sets & mask, sets & ~mask
            tells = (inside != 0) & (outside != 0)
            found[tells] = np.minimum(found[tells], (look.minutes * weight[sets] + best[inside] + best[outside])[tells])
        best[sets] = found
        _repair(instance, best[None, :], weight[None, :], sets)
    return float(best[-1])


def _erring(instance: Instance) -> float:
    """States are numbered by answers (0 not asked, 1 no, 2 yes for each check) and by causes not repaired."""
    count, looks = len(instance.chances), instance.looks
    answers = np.array(list(product(range(3), repeat=len(looks))), dtype=np.intp).reshape(-1, len(looks))
    weight = _weights(_joint(instance, answers), count)
    best = np.zeros_like(weight)
    stride = [3 ** (len(looks) - 1 - place) for place in range(len(looks))]
    asked = (answers > 0).sum(axis=1)
    for number in range(len(looks), -1, -1):
        rows = np.flatnonzero(asked == number)
        found = np.full((len(rows), 1 << count), np.inf)
        for place, look in enumerate(looks):
            free = answers[rows, place] == 0
            next_no, next_yes = rows[free] + stride[place], rows[free] + 2 * stride[place]
            cost = look.minutes * weight[rows[free]] + best[next_no] + best[next_yes]
            found[free] = np.minimum(found[free], cost)
        found[:, 0] = 0.0
        here = weight[rows]
        for sets in _by_size(count):
            _repair(instance, found, here, sets)
        best[rows] = found
    return float(best[0, -1])


def _joint(instance: Instance, answers: NDArray[np.intp]) -> Floats:
    """P(cause and answers), one row for each row of answers."""
    joint = np.repeat(np.array([instance.chances]), len(answers), axis=0)
    for place, look in enumerate(instance.looks):
        yes = np.array([look.yes(cause) for cause in range(len(instance.chances))])
        joint *= np.stack([np.ones_like(yes), 1.0 - yes, yes])[answers[:, place]]
    return joint


def _weights(joint: Floats, count: int) -> Floats:
    """The weight of every set of causes (as bits), for each row of `joint`."""
    holds = (np.arange(1 << count)[None, :] >> np.arange(count)[:, None]) & 1
    return np.asarray(joint @ holds)


def _by_size(count: int) -> Iterator[NDArray[np.intp]]:
    """All sets of causes but the empty one, as bits, smaller ones first."""
    every = np.arange(1, 1 << count)
    sizes = np.array([int(one).bit_count() for one in every])
    for size in range(1, count + 1):
        yield every[sizes == size]


def _repair(instance: Instance, best: Floats, weight: Floats, sets: Sequence[int] | NDArray[np.intp]) -> None:
    """Lower `best` of these sets (columns) by what each repair would lead to; smaller sets must be done."""
    columns = np.asarray(sets)
    for cause, minutes in enumerate(instance.repairs):
        holding = columns[(columns >> cause & 1) == 1]
        cost = minutes * weight[:, holding] + best[:, holding ^ (1 << cause)]
        best[:, holding] = np.minimum(best[:, holding], cost)
