"""A fixed order of checks worked out as a chart, with the costs and the endings of the compiler.

Read literally (as a handout is followed), every entry is made in its turn, whether or not it can still tell
anything. Read with skipping, an entry that can tell nothing any more is passed over. Either way the work ends as
soon as one thing is left to be replaced (or one cause, for that goal), and at the end of the list, where several
may still be open. For the goal `restore` the list is left as soon as one replacement would clear all that is
possible; after its end replacements go on in order of probability over minutes. An item in the list is replaced in
its turn if that could clear the report.

Carried on, the list is read literally, and behind its end the best checks go on until as much is told apart as a chart
does: only so can the minutes of a list that leaves more open be held against those of a chart.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.evidence import Reading, points_of
from faultree.belief.explain import shown_by
from faultree.belief.frame import frame_of
from faultree.strategy.chart.assemble import Assembly
from faultree.strategy.chart.policies import Best, Followed, Rules
from faultree.strategy.chart.search import Search, Stopped
from faultree.strategy.chart.space import Option, Space, State
from faultree.strategy.chart.task import Move, mask_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.strategy.chart.handout import Made
    from faultree.strategy.chart.pose import Posed
    from faultree.strategy.chart.task import Task
    from faultree.strategy.chart.value import Chart

    Floats = NDArray[np.float64]


LOOKS = 2_000
"""So many states are looked at for the best way to carry on behind a list."""


def listed_chart(posed: Posed, order: Sequence[Made], *, skipping: bool = False) -> Chart:
    """What following the list costs, as a chart; its `lower_bound` is its own minutes, as it claims nothing."""
    task = _with_list(posed, order)
    here = replace(posed, task=task, others=task)
    space = ListedSpace(task, tuple(one.target for one in order), skipping)
    followed = Followed(space, space.choose)
    return Assembly(here, followed).chart(followed.value(space.root), stopped=False)


def carried_on(posed: Posed, order: Sequence[Made], looks: int = LOOKS) -> Chart:
    """The same with the best checks behind the end of the list, as far as they are found with so many looks."""
    task = _with_list(posed, order, alone=False)
    space = ListedSpace(task, tuple(one.target for one in order), skipping=False, onward=True)
    left = count(looks, -1)

    def poll() -> None:
        if next(left) < 0:
            raise Stopped

    search = Search(space, poll)
    finished = search.run()
    best = Followed(space, Best(search, Followed(space, Rules(search).plain)))
    return Assembly(replace(posed, task=task, others=task), best).chart(space.root.low, stopped=not finished)


@dataclass(eq=False)
class ListedSpace(Space):
    """The states on the way through a list: the next entry (and, for `restore`, replacements) is all that can be done.

    Every answer counts as evidence, so that a state knows which entries were made. `onward`: behind the end of the list
    everything can be done.
    """

    order: tuple[str, ...] = ()
    skipping: bool = False
    onward: bool = False

    def __init__(self, task: Task, order: tuple[str, ...], skipping: bool, onward: bool = False) -> None:
        super().__init__(task)
        self.order = order
        self.skipping = skipping
        self.onward = onward
        self.moves = {move.name: move for move in task.moves}

    def useful(self, mask: int, evidence: tuple[int, ...]) -> tuple[tuple[Move, ...], int]:
        """The next entry and the replacements, and the access that they and the entries after it need."""
        ahead = list(self._ahead(mask, frozenset(evidence)))
        if self.onward and not ahead:
            return super().useful(mask, evidence)
        repairs = [move for move in self.task.moves if not move.is_check and self._tells(move, mask)]
        needs = 0
        for move in (*ahead, *repairs):
            needs |= move.access
        return tuple(dict.fromkeys((*ahead[:1], *repairs))), needs

    def _ahead(self, mask: int, made: frozenset[int]) -> Iterator[Move]:
        for name in self.order:
            move = self.moves[name]
            if move.is_check and made.intersection(move.rows):
                continue
            if self._tells(move, mask) or (move.is_check and not self.skipping):
                yield move

    def _tells(self, move: Move, mask: int) -> bool:
        truth = self.task.truth
        splits = any(0 != truth[row] & mask != mask for row in move.rows)
        return splits or (not move.is_check and truth[move.rows[0]] & mask == mask)

    def _leaves(self, state: State, move: Move) -> bool:
        """What is on the list is done."""
        return self._beyond(state) and super()._leaves(state, move)

    def _beyond(self, state: State) -> bool:
        """Whether everything can be done, as the list has come to its end."""
        return self.onward and not any(self._ahead(state.mask, frozenset(state.key.evidence)))

    def settled(self, left: int, state: State) -> bool:
        """Whether these hypotheses call for one thing; a list is followed even where no check tells them apart."""
        if self._beyond(state):
            return super().settled(left, state)
        return not left & ~self.task.label_masks[(left & -left).bit_length() - 1]

    def choose(self, state: State) -> Option:
        """The next entry; for `restore` a replacement that clears all that is possible, or where the list is over."""
        truth, entry = self.task.truth, None
        for move in state.useful:
            if not move.is_check and truth[move.rows[0]] & state.mask == state.mask:
                return self._option(state, move)
            if entry is None and move.name in self.order:
                entry = move
        return self._option(state, entry or max(state.useful, key=lambda move: self._worth(state, move)))

    def _option(self, state: State, move: Move) -> Option:
        cost = self.minutes(state, move) * state.total
        return Option(move, cost, cost)

    def _worth(self, state: State, move: Move) -> float:
        """P(a replacement clears the report) a minute."""
        return float(self.task.shows[move.rows[0]] @ state.weights) / max(self.minutes(state, move), 1e-9)


def _with_list(posed: Posed, order: Sequence[Made], *, alone: bool = True) -> Task:
    """The task with the checks of the list, those that can tell nothing included; `alone`: and no other checks."""
    task = posed.task
    known = {move.name: move for move in (*posed.others.moves, *task.moves)}
    blind = [one.target for one in order if one.target not in known]
    moves, shows, right = _blind(posed, blind)
    wanted = {one.target for one in order}
    others = () if alone else {move.name for move in task.moves}
    kept = [move for move in known.values() if move.name in wanted or move.name in others or not move.is_check]
    return replace(
        task,
        moves=(*kept, *moves),
        shows=np.concatenate([task.shows, shows]),
        right=np.concatenate([task.right, right]),
        # Marks that every answer is to be kept as evidence; no move has this name, so that nothing is shifted.
        shifts={**(task.shifts or {}), "": np.arange(len(task.chances))},
    )


def _blind(posed: Posed, names: Sequence[str]) -> tuple[list[Move], Floats, NDArray[np.bool_]]:
    """Checks that show the same under every fault set, which the compiler leaves out, as moves with their rows.

    That they may err does not matter, as nothing follows from them.
    """
    frame, library, width = frame_of(posed.library), posed.library, len(posed.sets)
    moves: list[Move] = []
    shows: list[Floats] = []
    for name in names:
        check = library.checks[name]
        readings = [Reading(point, 0.0, 1.0) for point in points_of(frame, name, frozenset())]
        true = [bool(one[0]) for one in shown_by(frame, readings, posed.sets)]
        first = len(posed.task.shows) + len(shows)
        shows += [np.full(width, float(holds)) for holds in true]
        access = mask_of([way in check.access for way in posed.ways])
        moves.append(Move(name, "check", check.minutes, access, tuple(range(first, first + len(true)))))
    table = np.array(shows).reshape(-1, width)
    return moves, table, table > 0.0
