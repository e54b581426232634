"""Poses a chart's problem: from a library and its reports to a task in numbers, and what the numbers mean."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.evidence import Reading, points_of
from faultree.belief.explain import shown_by
from faultree.belief.posterior import Posterior
from faultree.strategy.chart.suspicion import Suspicion
from faultree.strategy.chart.task import Move, Task, mask_of, members_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.library.model import Library, Who
    from faultree.strategy.chart.value import Goal

    Bools = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Posed:
    """A task and what its numbers mean.

    `sets` are the fault sets behind the hypotheses, `classes` what each calls for (causes or units), `ways`
    the access ids behind the bits. `others` is the same task with everybody's checks.
    """

    library: Library
    symptoms: tuple[str, ...]
    goal: Goal
    by: tuple[Who, ...]
    task: Task
    sets: tuple[frozenset[str], ...]
    classes: tuple[frozenset[str], ...]
    ways: tuple[str, ...]
    others: Task
    suspicion: Suspicion


@dataclass(frozen=True, eq=False)
class _Table:
    """Outcome rows as they are collected."""

    moves: list[Move]
    shows: list[NDArray[np.float64]]
    right: list[Bools]

    def add(self, move: Move, rows: Sequence[tuple[NDArray[np.float64], Bools]]) -> None:
        first = len(self.shows)
        self.moves.append(replace(move, rows=tuple(range(first, first + len(rows)))))
        for shown, right in rows:
            self.shows.append(shown)
            self.right.append(right)


def pose(
    posterior: Posterior,
    suspicion: Suspicion,
    goal: Goal,
    by: Sequence[Who],
    least: float,
    doubt: float,
) -> Posed:
    """The task of a chart."""
    library, symptoms = posterior.frame.library, posterior.symptoms
    ways = tuple(library.access)
    sets, chances, shifts = _extended(posterior, suspicion, restore=goal == "restore")
    table = _Table([], [], [])
    _add_checks(posterior, sets, ways, table)
    if goal == "restore":
        _add_repairs(posterior, sets, ways, table)
    classes = tuple(_class(library, one, goal) for one in sets)
    everybody = Task(
        chances=np.array(chances),
        labels=tuple(range(len(sets))),
        moves=tuple(table.moves),
        shows=np.array(table.shows).reshape(-1, len(sets)),
        right=np.array(table.right, dtype=np.bool_).reshape(-1, len(sets)),
        access=tuple(library.access[way].minutes for way in ways),
        restore=goal == "restore",
        shifts=shifts or None,
        least=least,
        doubt=doubt,
    )
    allowed = tuple(move for move in everybody.moves if not move.is_check or library.checks[move.name].by in by)
    others, task = (
        replace(everybody, labels=labels_of(everybody, moves, classes), moves=moves)
        for moves in (everybody.moves, allowed)
    )
    return Posed(library, symptoms, goal, tuple(by), task, sets, classes, ways, others, suspicion)


def _class(library: Library, faults: frozenset[str], goal: Goal) -> frozenset[str]:
    """What a fault set calls for: its causes, or the units to put right."""
    return faults if goal == "cause" else frozenset(library.causes[one].item or one for one in faults)


def labels_of(task: Task, moves: Iterable[Move], classes: Sequence[frozenset[str]]) -> tuple[int, ...]:
    """Numbers of what hypotheses call for, as far as the moves can tell.

    Hypotheses under which every move shows the same are one group. Where a group calls for one thing, that is its
    label; a group that calls for several is a label of its own. So a branch may end exactly where no two
    hypotheses left call for different things and can be told apart. For `restore` (repairs among the moves)
    hypotheses that one repair may clear share a label.
    """
    if task.restore:
        return _linked(task)
    rows = [row for move in moves for row in move.rows]
    groups = [task.right[rows, number].tobytes() for number in range(len(classes))]
    wanted: dict[bytes, set[frozenset[str]]] = {}
    for group, one in zip(groups, classes, strict=True):
        wanted.setdefault(group, set()).add(one)
    keys = [one if len(wanted[group]) == 1 else group for group, one in zip(groups, classes, strict=True)]
    numbers = {key: number for number, key in enumerate(dict.fromkeys(keys))}
    return tuple(numbers[key] for key in keys)


def _linked(task: Task) -> tuple[int, ...]:
    """Hypotheses in parts that no repair connects, by clearing both or by leaving one of the other."""
    labels = np.arange(len(task.chances))
    groups = [np.flatnonzero(task.right[move.rows[0]]) for move in task.moves if not move.is_check]
    for name, shift in (task.shifts or {}).items():
        groups += [np.array([place, shift[place]]) for place in members_of(task.eased[name])]
    for group in groups:
        hit = labels[group]
        labels[np.isin(labels, hit)] = hit.min(initial=len(labels))
    return tuple(labels.tolist())


def _bits(needed: Iterable[str], ways: Sequence[str]) -> int:
    return mask_of([way in set(needed) for way in ways])


def _add_checks(posterior: Posterior, sets: Sequence[frozenset[str]], ways: Sequence[str], table: _Table) -> None:
    """Every check that shows something different under two of the fault sets."""
    library = posterior.frame.library
    points = {name: points_of(posterior.frame, name, frozenset()) for name in library.checks}
    wanted = [Reading(point, 0.0, 1.0) for some in points.values() for point in some]
    shown = iter(shown_by(posterior.frame, wanted, sets)) if wanted else iter(())
    for name, some in points.items():
        check = library.checks[name]
        right = [np.asarray(next(shown)) for _ in some]
        if any(one.any() and not one.all() for one in right):
            names = [answer.id for answer in check.answers]
            given = [
                np.array([check.confusion(answer, other) for other in names]) @ np.array(right, dtype=np.float64)
                for answer in names
            ]
            noisy = any(bool(((one > 0.0) & ~true).any()) for one, true in zip(given, right, strict=True))
            move = Move(name, "check", check.minutes, _bits(check.access, ways), (), noisy)
            table.add(move, list(zip(given, right, strict=True)))


def _add_repairs(posterior: Posterior, sets: Sequence[frozenset[str]], ways: Sequence[str], table: _Table) -> None:
    """Every unit of the fault sets: the reports are gone where none of them is shown any more."""
    library = posterior.frame.library
    retest = sum(library.symptoms[name].retest for name in posterior.symptoms)
    units = dict.fromkeys(library.causes[cause].item or cause for one in sets for cause in sorted(one))
    for unit in units:
        left = [_without(library, one, unit) for one in sets]
        gone = ~_shown(posterior, left)
        gone |= np.array([not one for one in sets])
        item = library.items.get(unit)
        minutes = (item or library.causes[unit]).minutes + retest
        move = Move(unit, "replace", minutes, _bits(item.access if item else (), ways), ())
        table.add(move, [(gone.astype(np.float64), gone), ((~gone).astype(np.float64), ~gone)])


def _without(library: Library, faults: frozenset[str], unit: str) -> frozenset[str]:
    return frozenset(cause for cause in faults if (library.causes[cause].item or cause) != unit)


def _shown(posterior: Posterior, sets: Sequence[frozenset[str]]) -> Bools:
    """Whether some report of the case is (truly) there under each fault set."""
    reports = posterior.readings[: len(posterior.symptoms)]
    return np.asarray(np.any(shown_by(posterior.frame, reports, sets), axis=0))


def _extended(
    posterior: Posterior, suspicion: Suspicion, *, restore: bool
) -> tuple[tuple[frozenset[str], ...], list[float], dict[str, NDArray[np.intp]]]:
    """The fault sets, for `restore` with what repairs leave of them while some report is still there.

    What several leave alike is one hypothesis, and may be one of those to begin with. The sets of one level
    are evaluated together, as that takes little longer than one.
    """
    sets, chances = list(suspicion.sets), list(suspicion.chances)
    if not restore:
        return tuple(sets), chances, {}
    library = posterior.frame.library
    places = {one: place for place, one in enumerate(sets)}
    leads: dict[str, dict[int, int]] = {}
    level = range(len(sets))
    while level:
        found = [(unit, at, _without(library, sets[at], unit)) for at in level for unit in _units(library, sets[at])]
        rests = list(dict.fromkeys(rest for _, _, rest in found if rest))
        shown = dict(zip(rests, _shown(posterior, rests).tolist(), strict=True)) if rests else {}
        for unit, at, rest in found:
            if shown.get(rest, False):
                if rest not in places:
                    places[rest] = len(sets)
                    sets.append(rest)
                    chances.append(0.0)
                leads.setdefault(unit, {})[at] = places[rest]
        level = range(level.stop, len(sets))
    return tuple(sets), chances, {unit: _shift(some, len(sets)) for unit, some in leads.items()}


def _units(library: Library, faults: frozenset[str]) -> list[str]:
    return sorted({library.causes[cause].item or cause for cause in faults})


def _shift(leads: dict[int, int], width: int) -> NDArray[np.intp]:
    shift = np.arange(width)
    shift[list(leads)] = list(leads.values())
    return shift
