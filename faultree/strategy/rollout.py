"""What a simple policy takes to its end, for many states at once: a rollout (Tesauro & Galperin 1996).

A field has hypotheses of which one is true, units that are put right, and checks. A state says how much each
hypothesis weighs, which checks were made and what is open. The policy looks one step ahead: of a few checks (by
bits per minute) and of the best repair it does what leads to the fewest expected minutes if nothing but repairs
followed. All states of one depth are worked out together; only sizes bound the work, never a clock, so the same
field always gives the same minutes.

All minutes and weights are joint with the probability of the state: they are sums over the ways to get there.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Places = NDArray[np.intp]
    Bools = NDArray[np.bool_]

WIDTH = 4
"""So many checks, by bits per minute, are compared at each state."""

RARE = 0.01
"""A state less probable than this counts with the estimate of one step ahead."""

STATES = 24
"""So many states of one depth are followed behind each first step, the likeliest; others count as estimated."""

TELLS = 1e-9
"""Fewer bits than this are rounding."""


@dataclass(frozen=True, eq=False)
class Field:
    """The hypotheses (columns), and what checks and repairs do among them.

    The last hypothesis stands for whatever is not listed: no unit is its own, and it takes `beyond` minutes when all
    units were put right in vain. `shows` is P(outcome / hypothesis), an outcome to a row and a last row of zeros;
    `outcomes` numbers the rows of each check, filled up with that last row. `owns` says which unit (column) a listed
    hypothesis belongs to, `clearing` how far the repair of a unit ends the search. `check_needs`, `unit_needs` say
    who needs which access.
    """

    shows: Floats
    outcomes: Places
    check_minutes: Floats
    check_needs: Bools
    owns: Floats
    clearing: Floats
    unit_minutes: Floats
    unit_needs: Bools
    access: Floats
    beyond: float

    @cached_property
    def noise(self) -> Floats:
        """The entropy of the answer that is left when the hypothesis is known (checks x hypotheses)."""
        return np.asarray(-_x_log_x(self.shows)[self.outcomes].sum(axis=1))

    @cached_property
    def check_access(self) -> Floats:
        """Minutes of access for each check (checks x access)."""
        return self.check_needs * self.access

    @cached_property
    def unit_access(self) -> Floats:
        """Minutes of access for each unit (units x access)."""
        return self.unit_needs * self.access

    def shares(self, weights: Floats) -> Floats:
        """How likely each unit's repair ends the search; hypotheses along the last axis become units."""
        return np.asarray((weights[..., :-1] @ self.owns) * self.clearing)

    def begin(self, weights: Floats, steps: int) -> States:
        """The state now, once for each of some first steps."""
        checks, access = len(self.check_minutes), len(self.access)
        return States(
            np.repeat(weights[None], steps, axis=0),
            np.ones(steps),
            np.zeros((steps, checks), dtype=np.bool_),
            np.zeros((steps, access), dtype=np.bool_),
            np.arange(steps),
        )


class States(NamedTuple):
    """Some states: weights of hypotheses, probability, checks made, access opened, and the first step behind each."""

    weights: Floats
    total: Floats
    asked: Bools
    opened: Bools
    origin: Places

    def only(self, chosen: Places | Bools) -> States:
        """Some of them."""
        return States(
            self.weights[chosen], self.total[chosen], self.asked[chosen], self.opened[chosen], self.origin[chosen]
        )


class Moves(NamedTuple):
    """One move for each state: whether it is a check, and the number of the check or unit."""

    asks: Bools
    place: Places

    def only(self, chosen: Places | Bools) -> Moves:
        """Some of them."""
        return Moves(self.asks[chosen], self.place[chosen])


class Choice(NamedTuple):
    """What the policy does at each state, its expected minutes by one step ahead, and where nothing more is told."""

    moves: Moves
    minutes: Floats
    settled: Bools


def minutes_behind(field: Field, weights: Floats, first: Moves) -> Floats:
    """Expected minutes of each of some first steps, each followed by the policy to its end."""
    found = np.zeros(len(first.place))
    states, moves = field.begin(weights, len(found)), first
    while True:
        spent, after = _done(field, states, moves)
        np.add.at(found, states.origin, spent)
        if not len(after.total):
            return found
        choice = choose(field, after)
        followed = _followed(after, choice)
        np.add.at(found, after.origin[~followed], choice.minutes[~followed])
        states, moves = after.only(followed), choice.moves.only(followed)


def _followed(states: States, choice: Choice) -> Bools:
    """The states that are followed further: what is told may still matter, and they are probable enough.

    Each first step has its own, so its minutes do not depend on which others are looked at.
    """
    followed = ~choice.settled & (states.total > RARE)
    places = np.flatnonzero(followed)
    order = places[np.lexsort((-states.total[places], states.origin[places]))]
    owners = states.origin[order]
    rank = np.arange(len(order)) - np.searchsorted(owners, owners)
    followed[order[rank >= STATES]] = False
    return followed


def choose(field: Field, states: States) -> Choice:
    """The move of the policy at each state."""
    closed = np.asarray(~states.opened, dtype=np.float64)
    costs = field.unit_minutes + closed @ field.unit_access.T
    repaired, first = row_of_repairs(field, field.shares(states.weights), costs, states.total)
    minutes = field.check_minutes + closed @ field.check_access.T
    gains = _bits(field, states) / np.maximum(minutes, 0.1)
    few = np.argsort(-gains, axis=1, kind="stable")[:, :WIDTH]
    gain = np.take_along_axis(gains, few, axis=1)
    checked = np.where(gain > 0.0, _checked(field, states, few, np.take_along_axis(minutes, few, axis=1)), np.inf)
    if not few.shape[1]:
        checked, few = np.full((len(costs), 1), np.inf), np.zeros((len(costs), 1), dtype=np.intp)
    best = checked.argmin(axis=1)[:, None]
    least = np.take_along_axis(checked, best, axis=1)[:, 0]
    asks = least < repaired * (1.0 - 1e-9)
    place = np.where(asks, np.take_along_axis(few, best, axis=1)[:, 0], first)
    return Choice(Moves(asks, place), np.minimum(least, repaired), np.asarray(~(gains > 0.0).any(axis=1)))


def row_of_repairs(field: Field, shares: Floats, costs: Floats, total: Floats) -> tuple[Floats, Places]:
    """Minutes of repairs alone in order of share over cost (units along the last axis), and the first of them."""
    order = np.argsort(-shares / costs, axis=-1, kind="stable")
    each = np.take_along_axis(shares, order, axis=-1)
    left = np.maximum(total[..., None] - (np.cumsum(each, axis=-1) - each), 0.0) * (each > 0.0)
    spent = (np.take_along_axis(np.broadcast_to(costs, shares.shape), order, axis=-1) * left).sum(axis=-1)
    vain = np.maximum(total - shares.sum(axis=-1), 0.0)
    return np.asarray(spent + field.beyond * vain), order[..., 0]


def _bits(field: Field, states: States) -> Floats:
    """What the answer of each check would tell of the hypotheses (states x checks); 0 for checks made."""
    weights = states.weights / states.weights.sum(axis=1, keepdims=True)
    answers = _x_log_x(weights @ field.shows.T)
    bits = -answers[:, field.outcomes].sum(axis=2) - weights @ field.noise.T
    return np.where((bits > TELLS) & ~states.asked, bits, 0.0)


def _checked(field: Field, states: States, few: Places, minutes: Floats) -> Floats:
    """Minutes of each of a few checks with nothing but repairs after it."""
    weights, total = _answered(field, states, few)
    closed = np.asarray(~(states.opened[:, None] | field.check_needs[few]), dtype=np.float64)
    costs = field.unit_minutes + closed @ field.unit_access.T
    later, _ = row_of_repairs(field, field.shares(weights), costs[:, :, None], total)
    return np.asarray(minutes * states.total[:, None] + later.sum(axis=-1))


def _answered(field: Field, states: States, few: Places) -> tuple[Floats, Floats]:
    """Weights (states x few x answers x hypotheses) and probabilities after each answer of a few checks."""
    weights = states.weights[:, None, None, :] * field.shows[field.outcomes[few]]
    scale = states.total / states.weights.sum(axis=1)
    return weights, weights.sum(axis=-1) * scale[:, None, None]


def _done(field: Field, states: States, moves: Moves) -> tuple[Floats, States]:
    """Minutes that a move takes at each state, and the states after it."""
    asking = np.flatnonzero(moves.asks)
    mending = np.flatnonzero(~moves.asks)
    spent = np.zeros(len(states.total))
    spent[asking], asked = _ask(field, states.only(asking), moves.place[asking])
    spent[mending], mended = _mend(field, states.only(mending), moves.place[mending])
    return spent, States(*(np.concatenate(pair) for pair in zip(asked, mended, strict=True)))


def _ask(field: Field, states: States, checks: Places) -> tuple[Floats, States]:
    closed = np.asarray(~states.opened, dtype=np.float64)
    spent = (field.check_minutes[checks] + (closed * field.check_access[checks]).sum(axis=1)) * states.total
    weights, total = (part[:, 0] for part in _answered(field, states, checks[:, None]))
    asked = states.asked.copy()
    asked[np.arange(len(checks)), checks] = True
    rows, answers = np.nonzero(total > 0.0)
    opened = states.opened | field.check_needs[checks]
    return spent, States(weights[rows, answers], total[rows, answers], asked[rows], opened[rows], states.origin[rows])


def _mend(field: Field, states: States, units: Places) -> tuple[Floats, States]:
    """A unit put right in vain: its hypotheses are out, and what the repair would have ended is over."""
    closed = np.asarray(~states.opened, dtype=np.float64)
    spent = (field.unit_minutes[units] + (closed * field.unit_access[units]).sum(axis=1)) * states.total
    ended = np.take_along_axis(field.shares(states.weights), units[:, None], axis=1)[:, 0]
    weights = states.weights.copy()
    weights[:, :-1] *= 1.0 - field.owns.T[units]
    total = np.maximum(states.total - ended, 0.0)
    left = States(weights, total, states.asked, states.opened | field.unit_needs[units], states.origin)
    return spent, left.only((total > 1e-12) & (weights.sum(axis=1) > 0.0))


def _x_log_x(values: Floats) -> Floats:
    return np.asarray(values * np.log2(np.where(values > 0.0, values, 1.0)))
