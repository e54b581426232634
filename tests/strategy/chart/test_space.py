"""States of a chart: what is left after an outcome, what can still be done, and where a branch may end."""

from __future__ import annotations

import numpy as np
import pytest

from faultree.strategy.chart.space import Key, Option, Space, State
from faultree.strategy.chart.task import Move, Task
from tests.strategy.chart.tasks import KINDS, Truth, of_kind

TWO = np.array([[1.0, 0.0], [0.0, 1.0]])


def erring(
    error: float = 0.1, least: float = 0.0, doubt: float = 0.05, chances: tuple[float, float] = (0.5, 0.5)
) -> Space:
    """Two causes and three equal checks between them that err."""
    shows = np.array([[1.0 - error, error], [error, 1.0 - error]] * 3)
    moves = tuple(Move(f"k{n}", "check", 5.0, 0, (2 * n, 2 * n + 1), noisy=True) for n in range(3))
    right = np.array([[True, False], [False, True]] * 3)
    return Space(Task(np.array(chances), (0, 1), moves, shows, right, (), least=least, doubt=doubt))


def step(space: Space, state: State, name: str, outcome: int) -> State:
    """The state after an outcome of a move."""
    move = next(one for one in state.useful if one.name == name)
    found = space.after(state, Option(move, 0.0, 0.0))[outcome]
    assert found is not None
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_probability_is_kept(kind: str) -> None:
    """What the outcomes of every move lead to has the probability of the state, but for reports that are gone."""
    space = Space(of_kind(kind, 2))
    Truth(space).of(space.root)
    for state in list(space.states.values()):
        for move in state.useful if not space.finished(state) else ():
            later = sum(one.total for one in space.after(state, Option(move, 0.0, 0.0)) if one is not None)
            gone = 0.0 if move.is_check else float(state.weights @ space.task.shows[move.rows[0]])
            assert later + gone == pytest.approx(state.total)


def test_no_check_is_made_twice_on_a_branch() -> None:
    """An imperfect check asked again would count as new evidence."""
    space = erring()
    after = step(space, space.root, "k0", 0)
    assert [move.name for move in after.useful] == ["k1", "k2"]


def test_another_check_that_tells_the_same_may_confirm() -> None:
    """P(the first cause) is .9 after one answer and .9878 after two: now the other is set aside."""
    space = erring()
    once = step(space, space.root, "k0", 0)
    twice = step(space, once, "k1", 0)
    assert not space.finished(once)
    assert space.finished(twice)
    assert space.open(twice) == 1
    assert twice.mask == 3  # it is set aside, not excluded


def test_what_no_answer_speaks_against_is_not_set_aside() -> None:
    """A cause of 1 % is rare, but as long as no answer speaks against it, a chart does not pass over it."""
    space = erring(chances=(0.99, 0.01))
    assert not space.finished(space.root)
    assert space.open(space.root) == 3


def test_contradicting_answers_are_weighed() -> None:
    space = erring()
    both = step(space, step(space, space.root, "k0", 0), "k1", 1)
    assert both.weights.tolist() == pytest.approx([0.045, 0.045])
    assert not space.finished(both)


def test_a_branch_is_cut_off_only_behind_answers_that_may_be_wrong() -> None:
    assert not erring(least=2.0).negligible(erring(least=2.0).root)
    space = erring(least=0.1)
    unlikely = step(space, step(space, space.root, "k0", 0), "k1", 1)
    assert space.negligible(unlikely)
    assert space.finished(unlikely)


def test_where_all_checks_are_made_a_branch_ends() -> None:
    space = erring(error=0.3)
    state = step(space, step(space, step(space, space.root, "k0", 0), "k1", 1), "k2", 0)
    assert space.finished(state)
    assert space.open(state) == 3


def access_space() -> Space:
    """Three causes and two sure checks behind one access of 10 minutes."""
    right = np.array([[True, False, False], [False, True, True], [False, True, False], [True, False, True]])
    moves = (Move("one", "check", 1.0, 1, (0, 1)), Move("two", "check", 2.0, 1, (2, 3)))
    return Space(Task(np.array([0.5, 0.25, 0.25]), (0, 1, 2), moves, right.astype(float), right, (10.0,)))


def test_access_is_paid_once_on_a_branch() -> None:
    space = access_space()
    after = step(space, space.root, "one", 1)
    assert space.minutes(space.root, space.task.moves[0]) == 11.0
    assert space.minutes(after, space.task.moves[1]) == 2.0


def test_open_access_that_does_not_matter_makes_no_new_state() -> None:
    """Where nothing is left to do, it is the same state whatever is open."""
    space = access_space()
    assert step(space, space.root, "one", 0).key == Key(mask=1, evidence=(), opened=0)


def test_a_cut_branch_of_a_restoring_chart_costs_its_repairs() -> None:
    """Repairs by chance over minutes: .9 in 30 minutes, and behind it, where that was not it, .1 in 10."""
    right = np.concatenate([TWO, TWO, 1 - TWO])[[0, 1, 2, 4, 3, 5]].astype(bool)
    shows = right.astype(float)
    shows[:2] = [[0.9, 0.1], [0.1, 0.9]]
    moves = (
        Move("k", "check", 1.0, 0, (0, 1), noisy=True),
        Move("a", "replace", 10.0, 0, (2, 3)),
        Move("b", "replace", 30.0, 0, (4, 5)),
    )
    space = Space(Task(np.array([0.5, 0.5]), (0, 1), moves, shows, right, (), restore=True, least=0.6))
    cut = step(space, space.root, "k", 1)
    assert space.finished(cut)
    assert space.rest(cut) == pytest.approx(0.5 * 30.0 + 0.05 * 10.0)
