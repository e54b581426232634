"""Random tasks in numbers, without a library, and what is true of them by plain recursion over a space."""

from __future__ import annotations

import random

import numpy as np

from faultree.strategy.chart.search import Search
from faultree.strategy.chart.space import Option, Space, State
from faultree.strategy.chart.task import Move, Task


def random_task(
    rng: random.Random,
    causes: int = 5,
    checks: int = 5,
    access: int = 0,
    error: float = 0.0,
    *,
    restore: bool = False,
    least: float = 0.0,
    doubt: float = 0.05,
) -> Task:
    """One fault among a few causes; yes/no checks of 1 to 20 minutes, repairs of 10 to 60."""
    raw = np.array([20.0 ** rng.random() for _ in range(causes)])
    moves: list[Move] = []
    shows: list[np.ndarray] = []
    right: list[np.ndarray] = []
    for number in range(checks):
        said = np.array([rng.random() < 0.4 for _ in range(causes)])
        wrong = rng.choice((0.0, error, error / 2.0))
        rows = (len(shows), len(shows) + 1)
        right += [said, ~said]
        shows += [np.where(said, 1.0 - wrong, wrong), np.where(said, wrong, 1.0 - wrong)]
        needs = _needs(rng, access)
        moves.append(Move(f"k{number}", "check", rng.uniform(1.0, 20.0), needs, rows, wrong > 0.0))
    for number in range(causes if restore else 0):
        gone = np.arange(causes) == number
        rows = (len(shows), len(shows) + 1)
        right += [gone, ~gone]
        shows += [gone.astype(float), (~gone).astype(float)]
        moves.append(Move(f"r{number}", "replace", rng.uniform(10.0, 60.0), _needs(rng, access), rows))
    labels = [row.tobytes() for row in np.array(right[: 2 * checks]).reshape(-1, causes).T]
    numbers = {label: place for place, label in enumerate(dict.fromkeys(labels))}
    return Task(
        chances=raw / raw.sum(),
        labels=tuple(range(causes)) if restore else tuple(numbers[label] for label in labels),
        moves=tuple(moves),
        shows=np.array(shows).reshape(-1, causes),
        right=np.array(right, dtype=np.bool_).reshape(-1, causes),
        access=tuple(rng.uniform(5.0, 30.0) for _ in range(access)),
        restore=restore,
        least=least,
        doubt=doubt,
    )


def _needs(rng: random.Random, access: int) -> int:
    return sum(1 << place for place in range(access) if rng.random() < 0.4)


class Truth:
    """What the best policy costs from every state, by trying every move everywhere; no bound is used."""

    def __init__(self, space: Space) -> None:
        self.space = space
        self.known: dict[object, float] = {}

    def of(self, state: State) -> float:
        """Minutes still to be spent, times the probability of the state."""
        if state.key not in self.known:
            self.known[state.key] = (
                self.space.rest(state)
                if self.space.finished(state)
                else min(self.behind(state, move.name) for move in state.useful)
            )
        return self.known[state.key]

    def behind(self, state: State, name: str) -> float:
        """The same if this move is made next."""
        move = next(one for one in state.useful if one.name == name)
        cost = self.space.minutes(state, move) * state.total
        later = self.space.after(state, Option(move, cost, cost))
        return cost + sum(self.of(one) for one in later if one is not None)


def searched(task: Task) -> Search:
    """A search of a task, run to the end."""
    search = Search(Space(task))
    assert search.run()
    return search


KINDS: dict[str, dict[str, object]] = {
    "sure": {},
    "shared access": {"access": 2},
    "erring": {"error": 0.15, "causes": 4, "checks": 4},
    "erring, cut off": {"error": 0.1, "causes": 4, "checks": 4, "least": 0.02},
    "erring, shared access": {"error": 0.1, "causes": 4, "checks": 4, "access": 2, "least": 0.01},
    "restoring": {"restore": True, "access": 1, "checks": 4},
    "restoring, erring, cut off": {"restore": True, "error": 0.15, "causes": 4, "checks": 3, "least": 0.03},
}


def of_kind(kind: str, seed: int) -> Task:
    """A random task of one of the kinds."""
    return random_task(random.Random(seed), **KINDS[kind])  # type: ignore[arg-type]  # the table's values fit
