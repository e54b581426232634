"""What causes do to reports and checks, and which checks tell them apart: by simulation, then exactly."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from faultree.logic.graph import FALSE, negate
from faultree.logic.polarity import rising
from faultree.logic.restrict import Restriction, differ
from faultree.logic.simulate import cone
from faultree.strategy.lint.sweep import Sweep

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.library.model import Library
    from faultree.strategy.lint.oracle import Oracle

    Words = NDArray[np.uint64]


class Look(NamedTuple):
    """Something that is observed: its literals (of a report one, of a check one for each answer) in a situation."""

    situation: str | None
    literals: tuple[int, ...]


class Told(NamedTuple):
    """Checks that tell some causes apart, and causes that some check tells from another."""

    checks: frozenset[str]
    causes: frozenset[str]


@dataclass(frozen=True, eq=False)
class Telling:
    """Questions about a company R of faults, which may be empty, joined by one cause or another.

    R + c stands for R with cause c as well, where R leaves the unit of c good. A cause *acts* on a look
    where R + c looks different from R for some R. It *explains* a symptom where some R does not show it
    and R + c does. A check *tells apart* two causes that explain a symptom where, for some R that does
    not show it, R + c and R + d both do, and the check's right answer is not the same.

    Every question is answered by simulation of single faults and pairs where that finds a witness, and
    by the exact engine otherwise (which may raise TooWide).
    """

    oracle: Oracle
    _reaches: dict[Look, frozenset[str]] = field(default_factory=dict, repr=False)
    _suspects: dict[str, frozenset[str]] = field(default_factory=dict, repr=False)

    @property
    def library(self) -> Library:
        """The library under study."""
        return self.oracle.library

    @cached_property
    def reports(self) -> dict[str, Look]:
        """What each symptom looks at."""
        seen = self.oracle.frame.seen
        return {name: Look(one.situation, (seen[name],)) for name, one in self.library.symptoms.items()}

    @cached_property
    def checks(self) -> dict[str, Look]:
        """What each check looks at."""
        answers = self.oracle.frame.answers
        return {name: Look(one.situation, answers[name]) for name, one in self.library.checks.items()}

    @cached_property
    def looks(self) -> tuple[Look, ...]:
        """Everything that is seen or checked, each look once."""
        return tuple(dict.fromkeys((*self.reports.values(), *self.checks.values())))

    # -- by simulation -----------------------------------------------------------------------------

    @cached_property
    def sweep(self) -> Sweep:
        """The simulation of single faults and pairs."""
        return Sweep(self.oracle.frame)

    @cached_property
    def _tables(self) -> dict[tuple[str | None, int], Words]:
        wanted: dict[str | None, list[int]] = {}
        for look in self.looks:
            wanted.setdefault(look.situation, []).extend(look.literals)
        return self.sweep.tables(wanted)

    def tables(self, look: Look) -> list[Words]:
        """The simulated table of each literal of a look."""
        return [self._tables[look.situation, literal] for literal in look.literals]

    @cached_property
    def _row(self) -> dict[str, int]:
        return {name: row for row, name in enumerate(self.sweep.causes)}

    @cached_property
    def acting(self) -> frozenset[str]:
        """Causes of which the simulation shows that they act on something."""
        found = np.zeros(len(self.sweep.causes), dtype=np.bool_)
        for table in self._tables.values():
            found |= self.sweep.turns(table).any(axis=1)
        return frozenset(self.sweep.causes[row] for row in np.flatnonzero(found))

    @cached_property
    def told(self) -> Told:
        """Checks and causes of which the simulation shows that they tell apart, or are told apart."""
        names = [name for name, look in self.checks.items() for _ in look.literals]
        if not names or not self.sweep.causes:
            return Told(frozenset(), frozenset())
        answers = np.stack([table for look in self.checks.values() for table in self.tables(look)])
        checks = np.zeros(len(names), dtype=np.bool_)
        causes = np.zeros(len(self.sweep.causes), dtype=np.bool_)
        for report in self.reports.values():
            explains = self.sweep.explains(self.tables(report)[0])
            rows = np.flatnonzero(explains.any(axis=1))
            for row in rows:
                use = np.flatnonzero(~checks) if causes[row] else np.arange(len(names))
                both = explains[rows] & explains[row]
                apart = ((answers[np.ix_(use, rows)] ^ answers[use, row][:, None]) & both).any(axis=2)
                checks[use[apart.any(axis=1)]] = True
                causes[rows[apart.any(axis=0)]] = True
                causes[row] |= apart.any()
        told = frozenset(names[place] for place in np.flatnonzero(checks))
        return Told(told, frozenset(self.sweep.causes[row] for row in np.flatnonzero(causes)))

    # -- exactly -----------------------------------------------------------------------------------

    def reach(self, look: Look) -> frozenset[str]:
        """The causes below a look, once the conditions of its situation are settled."""
        if look not in self._reaches:
            view, target = self.oracle.view(look.situation), self.oracle.target
            nodes = (target.nodes[one] for one in cone(target, [view.literal(two) for two in look.literals]))
            self._reaches[look] = frozenset(node.name for node in nodes if node.kind == "cause")
        return self._reaches[look]

    def suspects(self, symptom: str) -> frozenset[str]:
        """Causes that may explain a symptom: all that do are among them."""
        report = self.reports[symptom]
        if symptom not in self._suspects:
            literal = self.oracle.view(report.situation).literal(report.literals[0])
            self._suspects[symptom] = rising(self.oracle.target, literal)
        return self._suspects[symptom]

    def _left(self, look: Look, causes: dict[str, bool]) -> list[int]:
        view = self.oracle.view(look.situation, causes)
        return [view.literal(literal) for literal in look.literals]

    def _differ(self, look: Look, one: dict[str, bool], two: dict[str, bool]) -> Iterator[int]:
        """For each literal of a look: where it differs between two ways of fixing causes, if it can."""
        for first, second in zip(self._left(look, one), self._left(look, two), strict=True):
            changed = differ(self.oracle.target, first, second)
            if changed != FALSE:
                yield changed

    def _can(self, literals: Iterable[int]) -> bool:
        return any(self.oracle.witness(literal) is not None for literal in literals)

    def acts(self, cause: str) -> bool:
        """Whether a cause acts on anything that is seen or checked.

        What it acts on is followed from the cause upwards, so that a cause whose effect is lost near by
        costs no look at the whole.
        """
        if cause in self.acting:
            return True
        target, tops = self.oracle.target, self._tops
        if cause not in target.literals:
            return False
        touched = {target.literals[cause] >> 1}
        for index in cone(target, [2 * top for top in tops]):
            inputs = target.nodes[index].inputs
            if any(one >> 1 in touched for one in inputs) and self._depends(2 * index, cause):
                touched.add(index)
        return bool(touched & tops)

    @cached_property
    def _tops(self) -> frozenset[int]:
        """The nodes of everything that is seen or checked, each in its situation."""
        return frozenset(literal >> 1 for look in self.looks for literal in self._left(look, {}))

    def _depends(self, literal: int, cause: str) -> bool:
        """Whether a literal of the target is another one with a cause than with its unit good."""
        oracle = self.oracle
        ways = (oracle.only(cause), oracle.without(cause))
        one, two = (Restriction(oracle.target, oracle.target, way).literal(literal) for way in ways)
        return self._can([differ(oracle.target, one, two)])

    def alike(self, one: str, two: str) -> bool:
        """Whether R + one and R + two look the same in everything, for every R."""
        first, second = self._row[one], self._row[two]
        both = self.sweep.possible[first] & self.sweep.possible[second]
        if any(((table[first] ^ table[second]) & both).any() for table in self._tables.values()):
            return False
        ways = self.oracle.only(one, two), self.oracle.only(two, one)
        return not self._can(changed for look in self.looks for changed in self._differ(look, *ways))

    def _exchange(self, one: str, two: str, symptom: str) -> int:
        """Where R does not show a symptom, and R + one and R + two both do."""
        report, oracle = self.reports[symptom], self.oracle
        if one == two or not {one, two} <= self.suspects(symptom):
            return FALSE
        ways = (oracle.only(one, two), oracle.only(two, one), oracle.without(one, two))
        first, second, neither = (self._left(report, causes)[0] for causes in ways)
        return oracle.target.conjunction([first, second, negate(neither)])

    def explains(self, cause: str, symptom: str) -> bool:
        """Whether some R does not show a symptom and R + cause does."""
        if cause not in self.suspects(symptom):
            return False
        report, oracle = self.reports[symptom], self.oracle
        present, absent = (self._left(report, way)[0] for way in (oracle.only(cause), oracle.without(cause)))
        return self._can([oracle.target.conjunction([present, negate(absent)])])

    def rivals(self, cause: str) -> Iterator[tuple[str, str]]:
        """Symptoms, each with a cause that explains it as well as this one."""
        for symptom in self.reports:
            for other in sorted(self.suspects(symptom)) if self.explains(cause, symptom) else ():
                if self.oracle.witness(self._exchange(cause, other, symptom)) is not None:
                    yield symptom, other

    def tells_apart(self, check: str, one: str, two: str, symptom: str) -> bool:
        """Whether a check tells apart two causes that explain a symptom."""
        look = self.checks[check]
        if not {one, two} & self.reach(look):
            return False
        exchange = self._exchange(one, two, symptom)
        ways = self.oracle.only(one, two), self.oracle.only(two, one)
        return self._can(self.oracle.target.conjunction([exchange, one]) for one in self._differ(look, *ways))

    def singles_out(self, check: str, cause: str, symptom: str) -> bool:
        """Whether a check tells a cause from any other that explains a symptom."""
        below, suspects = self.reach(self.checks[check]), self.suspects(symptom)
        if cause not in suspects:
            return False
        others = suspects & below
        # Another cause that the check does not see leaves its answer as it is without both.
        if cause in below and self._gives_away(check, cause, symptom):
            others = suspects
        return any(self.tells_apart(check, cause, other, symptom) for other in sorted(others))

    def _gives_away(self, check: str, cause: str, symptom: str) -> bool:
        """Whether some R + cause shows a symptom that R does not show, and gives another answer than R."""
        report, look, oracle = self.reports[symptom], self.checks[check], self.oracle
        ways = oracle.only(cause), oracle.without(cause)
        present, absent = (self._left(report, causes)[0] for causes in ways)
        changed = self._differ(look, *ways)
        return self._can(oracle.target.conjunction([present, negate(absent), one]) for one in changed)

    def tells(self, check: str) -> bool:
        """Whether a check tells any two causes apart that explain some symptom."""
        if check in self.told.checks:
            return True
        below = self.reach(self.checks[check])
        return any(
            self.singles_out(check, cause, symptom)
            for symptom in self.reports
            if self.suspects(symptom) & below and self._is_open(check, symptom)
            for cause in sorted(self.suspects(symptom) & below)
        )

    def _is_open(self, check: str, symptom: str) -> bool:
        """Whether a check's right answer can differ while a symptom is there; if not, it tells nothing about it."""
        report, look = self.reports[symptom], self.checks[check]
        (seen,), answers = self._left(report, {}), self._left(look, {})
        both = self.oracle.target.conjunction
        return any(self._can([both([seen, one])]) and self._can([both([seen, negate(one)])]) for one in answers)
