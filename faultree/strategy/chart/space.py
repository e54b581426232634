"""The states of a chart on the way: what is still possible, which checks were answered, what is open."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.strategy.chart.ahead import Ahead, Basis
from faultree.strategy.chart.bounds import by_cover, by_length, quick_bounds
from faultree.strategy.chart.repairs import Repairs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.task import Floats, Move, Task

DIGITS = 12
"""Chances that agree to so many digits are the same state."""

ROUNDING = 1e-12

TRIALS = 20
"""Where pairs have not raised a bound in so many states, they are not looked at any more."""


class Key(NamedTuple):
    """What makes a state: the hypotheses left, the outcomes that count as evidence (rows, sorted), the open access.

    All access that matters, that is. `chances` are those of the hypotheses, where a repair may leave something else of
    some: then it counts what was done before it and what after it, and nothing but the chances says so.
    """

    mask: int
    evidence: tuple[int, ...]
    opened: int
    chances: bytes = b""

    @property
    def known(self) -> tuple[int, tuple[int, ...], bytes]:
        """The same without the access."""
        return self.mask, self.evidence, self.chances


class Option:
    """A move at a state: its minutes there times the state's probability, and what it leads to."""

    __slots__ = ("cost", "move", "nodes", "value")

    def __init__(self, move: Move, cost: float, value: float) -> None:
        self.move = move
        self.cost = cost
        self.value = value
        self.nodes: tuple[State | None, ...] | None = None


class State:
    """One state; all values are minutes times the probability to come here.

    `weights` are the joint chances of hypothesis and path, `clean` those without any error on the way. `low` is
    a lower bound on what is still to be spent, exact where `done`; `queue` holds the options by what they
    cost at least. `left` says that the branch is left here, as every answer to anything would be too
    unlikely.
    """

    __slots__ = ("clean", "done", "key", "left", "low", "queue", "stage", "total", "useful", "view", "weights")

    def __init__(self, key: Key, weights: Floats, clean: Floats, useful: tuple[Move, ...]) -> None:
        self.key = key
        self.weights = weights
        self.clean = clean
        self.useful = useful
        self.total = float(weights.sum())
        self.low = 0.0
        self.done = False
        self.left = False
        self.stage = 0
        self.view: Ahead | None = None
        self.queue: list[tuple[float, int, Option]] | None = None

    @property
    def mask(self) -> int:
        """The hypotheses left."""
        return self.key.mask


@dataclass(eq=False)
class Space:
    """All states of a task that were looked at, each made once."""

    task: Task
    states: dict[Key, State] = field(default_factory=dict)
    helped: bool = False
    tried: int = 0
    _chains: dict[Key, tuple[float, tuple[Move, ...]]] = field(default_factory=dict)
    _useful: dict[tuple[int, tuple[int, ...]], tuple[tuple[Move, ...], int]] = field(default_factory=dict)

    @cached_property
    def root(self) -> State:
        """Where a chart begins."""
        task = self.task
        return self._state(task.everything, (), 0, task.chances, task.chances)

    def _state(self, mask: int, evidence: tuple[int, ...], opened: int, weights: Floats, clean: Floats) -> State:
        useful, needs = self.useful(mask, evidence)
        shifts = self.task.shifts
        key = Key(mask, evidence, opened, _digits(weights)) if shifts else Key(mask, evidence, opened & needs)
        state = self.states.get(key)
        if state is None:
            state = State(key, weights, clean, useful)
            if not self.finished(state):
                moves = self._allowed(state)
                state.left = not moves
                state.useful = moves or useful
            if self.finished(state):
                state.done = True
                state.low = self.rest(state)
            self.states[key] = state  # at the end, as an interrupt may come in between
        return state

    def _allowed(self, state: State) -> tuple[Move, ...]:
        """What may be done: no check after which every answer is too unlikely; the cheapest such would be best.

        In `restore`, a branch too unlikely to be followed goes on with repairs alone.
        """
        task, moves = self.task, state.useful
        if task.restore:
            return tuple(move for move in moves if not move.is_check) if self.negligible(state) else moves
        if not task.noisy or state.total >= task.least * max(len(move.rows) for move in moves):
            return moves
        return tuple(move for move in moves if not self._leaves(state, move))

    def _leaves(self, state: State, move: Move) -> bool:
        """Whether after a check every answer is too unlikely to be followed, and none settles the matter."""
        rows = list(move.rows)
        if (self.task.shows[rows] @ state.weights).max() >= self.task.least:
            return False
        after = [self._next(state, move, row) for row in rows]
        return all(one is None or (self.negligible(one) and self.cut(one)) for one in after)

    @cached_property
    def repairs(self) -> Repairs:
        """The repairs of the task."""
        return Repairs(self.task)

    def rest(self, state: State) -> float:
        """What is still spent where a branch ends, times its probability: in `restore`, if it was cut off, repairs."""
        if not self.task.restore or not state.mask or not self.finished(state):
            return 0.0
        return self.chain(state)[0]

    def chain(self, state: State) -> tuple[float, tuple[Move, ...]]:
        """Minutes of the repairs one after the other from a state, times its probability, and these repairs."""
        if state.key not in self._chains:
            self._chains[state.key] = self.repairs.chain(state.weights, state.key.opened)
        return self._chains[state.key]

    def ahead(self, state: State) -> Ahead:
        """What lies ahead of a state."""
        if state.view is None:
            # A repair may bring moves back, and what may not be done here may be done later.
            moves = self.task.moves if self.task.shifts else self.useful(state.mask, state.key.evidence)[0]
            state.view = Ahead(Basis(self.task, moves, state.mask), state.key.opened)
        return state.view

    def bound(self, state: State) -> float:
        """A state's lower bound, worked out when it is first asked for."""
        if state.stage < 1 and not state.done:
            state.stage = 1
            state.low = max(state.low, by_length(self.ahead(state), state.weights, state.clean))
        return state.low

    def bound_closely(self, state: State) -> float:
        """The same with more effort, before a state is worked on."""
        if state.stage < 2 and not state.done:
            self.bound(state)
            state.stage = 2
            state.low = max(state.low, by_cover(self.ahead(state), state.clean))
        return state.low

    # -- what can be done ----------------------------------------------------------------------------

    def useful(self, mask: int, evidence: tuple[int, ...]) -> tuple[tuple[Move, ...], int]:
        """Moves that tell something apart and were not made, and the access that they need."""
        known = self._useful.get((mask, evidence))
        if known is None:
            done = frozenset(evidence)
            found = tuple(move for move in self.task.moves if self._is_useful(move, mask, done))
            needs = 0
            for move in found:
                needs |= move.access
            known = self._useful[mask, evidence] = (found, needs)
        return known

    def _is_useful(self, move: Move, mask: int, done: frozenset[int]) -> bool:
        truth, rows = self.task.truth, move.rows
        if len(rows) == 2:  # one outcome is what the other is not
            parts = 0 != truth[rows[0]] & mask != mask
        else:
            parts = any(0 != truth[row] & mask != mask for row in rows)
        if move.is_check:
            return parts and not (done and done.intersection(rows))
        return parts or truth[rows[0]] & mask == mask or bool(mask & self.task.eased.get(move.name, 0))

    def minutes(self, state: State, move: Move) -> float:
        """Minutes of a move with the access that it opens here."""
        return move.minutes + self.task.open_minutes(move.access & ~state.key.opened)

    def options(self, state: State) -> list[Option]:
        """Every useful move with a lower bound of what it leads to."""
        moves = state.useful
        costs = [self.minutes(state, move) * state.total for move in moves]
        pairs = not self.task.restore and (self.helped or self.tried < TRIALS)
        later, helped = quick_bounds(self.ahead(state), moves, state.weights, state.clean, pairs=pairs)
        self.helped |= helped
        self.tried += 1
        state.view = None  # it is large, and has served
        return [Option(move, cost, cost + more) for move, cost, more in zip(moves, costs, later, strict=True)]

    def after(self, state: State, option: Option) -> tuple[State | None, ...]:
        """The states that the outcomes of a move lead to; None where an outcome cannot come or ends the work."""
        if option.nodes is None:
            option.nodes = tuple(self._next(state, option.move, row) for row in option.move.rows)
        return option.nodes

    def _next(self, state: State, move: Move, row: int) -> State | None:
        task = self.task
        mask, evidence, opened, _ = state.key
        left = mask & task.support[row]
        if not left or (not move.is_check and row == move.rows[0]):
            return None
        weights, clean = state.weights * task.shows[row], state.clean * task.clean_shows[row]
        shift = None if task.shifts is None or move.is_check else task.shifts.get(move.name)
        if shift is not None:
            weights, clean = _shifted(weights, shift), _shifted(clean, shift)
            left = sum(1 << int(place) for place in np.flatnonzero(weights > 0.0))
        if move.is_check and (move.noisy or task.shifts):
            evidence = tuple(sorted((*evidence, row)))
        return self._state(left, evidence, opened | move.access, weights, clean)

    # -- where a branch ends -------------------------------------------------------------------------

    def finished(self, state: State) -> bool:
        """Whether a chart may end here: one label is left, or nothing useful can be done."""
        if not state.mask or not state.useful or state.left:
            return True
        if self.task.restore:
            return self.negligible(state) and "" not in (self.task.shifts or {})
        left = self.open(state)
        return self.settled(left, state) or self.negligible(state)

    def settled(self, left: int, state: State) -> bool:
        """Whether these hypotheses have one label, or no check that is left tells them apart."""
        if not left & ~self.task.label_masks[(left & -left).bit_length() - 1]:
            return True
        truth, useful = self.task.truth, self.useful(state.mask, state.key.evidence)[0]
        return not any(0 != truth[row] & left != left for move in useful for row in move.rows)

    def cut(self, state: State) -> bool:
        """Whether a branch ends here before everything that can be told apart was."""
        if not state.mask or not (state.left or self.negligible(state)):
            return False
        return self.task.restore or self.strange(state) or not self.settled(self.open(state), state)

    def negligible(self, state: State) -> bool:
        """Whether a branch that rests on answers which may be wrong is too unlikely, or too strange, to be followed."""
        if not state.key.evidence or not self.task.noisy:
            return False
        return state.total < self.task.least or self.strange(state)

    def strange(self, state: State) -> bool:
        """Whether an answer was one that no suspect gives: it speaks for none of them."""
        return not self.task.strange.isdisjoint(state.key.evidence)

    def open(self, state: State) -> int:
        """The hypotheses left but for those set aside: each of these takes an error, and together they are few.

        The least likely are set aside first, until together they would exceed the share `doubt`.
        """
        if not self.task.noisy or not state.key.evidence:
            return state.mask
        left, spare = state.mask, self.task.doubt * state.total
        erring = np.flatnonzero((state.weights > 0.0) & (state.clean == 0.0))
        for place in erring[np.argsort(state.weights[erring], kind="stable")].tolist():
            spare -= float(state.weights[place])
            if spare < 0.0 or left == 1 << place:
                break
            left ^= 1 << place
        return left


def _digits(weights: Floats) -> bytes:
    """Chances with what makes them differ by rounding left away."""
    total = max(float(weights.sum()), 1e-300)
    return np.append(np.round(weights / total, DIGITS), float(f"{total:.{DIGITS}e}")).tobytes()


def _shifted(weights: Floats, shift: NDArray[np.intp]) -> Floats:
    moved = np.zeros_like(weights)
    np.add.at(moved, shift, weights)
    return moved
