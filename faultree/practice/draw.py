"""Draws hidden faults: fault sets from the posterior of one report, exactly, by the engine or by simulation.

Only units that the report can have to do with are drawn (the others are good): a trainee looks for what
was reported. Among those, a set F is drawn with P(F / report), or with the same given that it holds a
stated number of faults.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, product
from math import prod
from random import Random
from typing import TYPE_CHECKING

import numpy as np

from faultree.base.errors import CaseError
from faultree.belief.engine import Given
from faultree.belief.frame import frame_of
from faultree.belief.posterior import Posterior
from faultree.logic.simulate import evaluate_many, pack, unpack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.engine import Finding
    from faultree.belief.frame import Frame
    from faultree.library.model import Library

    Floats = NDArray[np.float64]

Faults = frozenset[str]
"""Full ids of causes, at most one of each unit."""

MANY = 200
"""So many fault sets that show a report are looked at to see whether a fault would hide it."""

_Fault = tuple[int, int]
"""A root's index and a value of it that is not 0."""


@dataclass(frozen=True, eq=False)
class Draw:
    """What the draws of one report share; what was worked out is kept for the next draw."""

    frame: Frame
    symptom: str
    _next: dict[tuple[_Fault, ...], tuple[tuple[_Fault | None, ...], Floats]] = field(default_factory=dict)
    _sized: dict[tuple[int, bool], tuple[tuple[Faults, ...], Floats]] = field(default_factory=dict)
    _none_harmed: list[tuple[tuple[Faults, ...], Floats]] = field(default_factory=list)

    @property
    def _posterior(self) -> Posterior:
        return Posterior(self.frame, (self.symptom,), ())

    def any(self, random: Random) -> Faults:
        """A fault set drawn with P(F / report)."""
        taken: tuple[_Fault, ...] = ()
        while True:
            options, chances = self._further(taken)
            chosen = options[pick(chances, random)]
            if chosen is None:
                return frozenset(self._name(fault) for fault in taken)
            taken = (*taken, chosen)

    def of_size(self, size: int, random: Random, *, shown: bool = True) -> Faults:
        """A fault set of so many faults, drawn with P(F / report) among those; raises CaseError where there is none.

        With `shown` False, one that does not show what was reported, with P(F / it is not there).
        """
        sets, chances = self.sized(size, shown=shown)
        if not sets:
            faults = "single fault" if size == 1 else f"set of {size} faults"
            report = self.frame.library.symptoms[self.symptom].title
            raise CaseError(f"no {faults} {'shows' if shown else 'hides'} this report: {report}")
        return sets[pick(chances, random)]

    def sized(self, size: int, *, shown: bool = True) -> tuple[tuple[Faults, ...], Floats]:
        """Every fault set of a size that shows the report (or does not), and its share among them."""
        if (size, shown) not in self._sized:
            self._sized[size, shown] = self._weigh(size, shown=shown)
        return self._sized[size, shown]

    def harmless(self) -> tuple[tuple[Faults, ...], Floats]:
        """The single faults that can stand behind a wrong report, and the share of each.

        They do not show the report, and do not hide it either: where a lamp was reported lit, a burnt-out one is no
        harmless fault, for it would keep the next look from seeing what is there.
        """
        if not self._none_harmed:
            sets, chances = self.sized(1, shown=False)
            kept = [place for place, one in enumerate(sets) if not self._hides(one)]
            weights = chances[kept]
            self._none_harmed.append((tuple(sets[place] for place in kept), weights / (weights.sum() or 1.0)))
        return self._none_harmed[0]

    def _hides(self, fault: Faults) -> bool:
        """Whether a fault keeps some other that shows the report from showing it."""
        library = self.frame.library
        unit = {library.causes[one].item or one for one in fault}
        both = [fault | one for one in self._showing() if unit.isdisjoint(library.causes[c].item or c for c in one)]
        settings = library.settings(library.symptoms[self.symptom].situation)
        return bool(both) and not shown_in(self.frame, self.frame.seen[self.symptom], settings, both).all()

    def _showing(self) -> tuple[Faults, ...]:
        """The fault sets of the fewest faults that show the report, the likeliest of many."""
        sets, chances = next((found for size in (1, 2, 3) if (found := self.sized(size))[0]), ((), np.zeros(0)))
        return tuple(sets[place] for place in np.argsort(-chances)[:MANY].tolist())

    def shows(self, faults: Faults) -> bool:
        """Whether what was reported is there; asked only where the author says that it may be reported without."""
        library = self.frame.library
        told = library.symptoms[self.symptom]
        if not told.false_report:
            return True
        return bool(shown_in(self.frame, self.frame.seen[self.symptom], library.settings(told.situation), [faults])[0])

    # --- fault after fault, by the engine ----------------------------------------------------------

    def _further(self, taken: tuple[_Fault, ...]) -> tuple[tuple[_Fault | None, ...], Floats]:
        """What can be the next fault after these (None: no more), and the chance of each, given these."""
        if taken not in self._next:
            self._next[taken] = self._ask(taken)
        return self._next[taken]

    def _ask(self, taken: tuple[_Fault, ...]) -> tuple[tuple[_Fault | None, ...], Floats]:
        posterior, roots = self._posterior, self.frame.prior.roots
        order = sorted(posterior.implicated)
        first = order.index(taken[-1][0]) + 1 if taken else 0
        faulty = dict(taken)
        held = [self._only(root, faulty.get(root, 0)) for root in order[:first]]
        options: list[_Fault | None] = []
        columns: list[list[Finding]] = []
        good: list[Finding] = []
        for root in order[first:]:
            for value in range(1, len(roots[root].probabilities)):
                options.append((root, value))
                columns.append([*good, self._only(root, value)])
            good.append(self._only(root, 0))
        options.append(None)
        columns.append(good)
        logs = posterior.core.engines[0].run([*posterior.findings, *held], columns).log_z
        weights = np.exp(logs - logs.max())
        return tuple(options), weights / weights.sum()

    def _only(self, root: int, value: int) -> Given:
        size = len(self.frame.prior.roots[root].probabilities)
        return Given(root, tuple(float(one == value) for one in range(size)))

    def _name(self, fault: _Fault) -> str:
        root, value = fault
        return self.frame.prior.roots[root].causes[value - 1]

    # --- all sets of a size, by simulation ---------------------------------------------------------

    def _weigh(self, size: int, *, shown: bool) -> tuple[tuple[Faults, ...], Floats]:
        roots, library = self.frame.prior.roots, self.frame.library
        sets: list[tuple[_Fault, ...]] = []
        for chosen in combinations(sorted(self._posterior.implicated), size):
            values = [range(1, len(roots[root].probabilities)) for root in chosen]
            sets += [tuple(zip(chosen, one, strict=True)) for one in product(*values)]
        if not sets:
            return (), np.zeros(0)
        faults = [frozenset(map(self._name, one)) for one in sets]
        settings = library.settings(library.symptoms[self.symptom].situation)
        there = shown_in(self.frame, self.frame.seen[self.symptom], settings, faults)
        weights = np.array([prod(self._odds(fault) for fault in one) for one in sets]) * (there == shown)
        kept = np.flatnonzero(weights).tolist()
        return tuple(faults[place] for place in kept), weights[kept] / (weights.sum() or 1.0)

    def _odds(self, fault: _Fault) -> float:
        """How likely the fault is against its unit being good: all that tells two fault sets apart a priori."""
        chances = self.frame.prior.roots[fault[0]].probabilities
        return chances[fault[1]] / chances[0]


def shown_in(frame: Frame, literal: int, settings: Mapping[str, bool], sets: Sequence[Faults]) -> NDArray[np.bool_]:
    """For each fault set, whether a literal of the graph is true in it."""
    causes = {cause for one in sets for cause in one}
    present = {cause: pack(np.array([cause in one for one in sets])) for cause in causes}
    words = evaluate_many(frame.graph, settings, present, -(-len(sets) // 64), [literal])
    return unpack(words[literal], len(sets))


def pick(chances: Floats, random: Random) -> int:
    """A place drawn with these chances (sum 1)."""
    at = int(np.searchsorted(np.cumsum(chances), random.random(), side="right"))
    return min(at, int(np.flatnonzero(chances)[-1]))


def draw_of(library: Library, symptom: str) -> Draw:
    """The draws of a report (full id), kept with the library so that the next one is quick."""
    frame = frame_of(library)
    key = ("practice draw", symptom)
    if key not in frame.kept:
        frame.kept[key] = Draw(frame, symptom)
    kept = frame.kept[key]
    assert isinstance(kept, Draw)
    return kept
