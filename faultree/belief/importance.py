"""How likely a symptom is, and how much each cause matters to it.

With P = P(top), p = P(x), P1 = P(top / x present) and P0 = P(top / x absent), for a cause x:

- Birnbaum: P1 - P0;
- risk achievement worth: P1 / P, and risk reduction worth: P / P0 (without end where P0 = 0);
- criticality: Birnbaum p / P, which is 1 - P0 / P;
- P(x / top): p P1 / P;
- Fussell-Vesely: the sum of the probabilities of the minimal cut sets with x, over that of all of them.

Causes of one item exclude each other. P1 takes x as the state of its item; P0 is given that x is not its
state, the other states (good, and its other causes) keeping their shares among themselves. So
P = p P1 + (1 - p) P0 holds for every cause, whatever the logic. Below `not`, `none` or `one_of` a cause may
hinder the symptom: then its Birnbaum importance is negative and its achievement worth below 1.

The top is the symptom's own logic: a false report (`false_report`) is no part of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import exp
from typing import TYPE_CHECKING, NamedTuple

from faultree.belief.bounded import compile_bounded
from faultree.belief.enclose import enclose
from faultree.belief.engine import Engine, Limits, On, TooWide, compile_exact, wire
from faultree.belief.evidence import Point
from faultree.belief.frame import frame_of
from faultree.belief.plan import even
from faultree.belief.table import table_of
from faultree.belief.weigh import Given, Weighed, weigh
from faultree.logic.cut_sets import MinimalSets, minimal_sets
from faultree.logic.listing import Share

if TYPE_CHECKING:
    from faultree.belief.frame import Frame
    from faultree.library.model import Library


MANY = 1000
"""For more causes than this no conditioned engine is tried: choosing what to condition on takes too long."""


class Importance(NamedTuple):
    """One cause of a symptom; see the module for the definitions.

    `probability` is its prior, `given` P(cause / symptom). `achievement` and `reduction` are the risk
    achievement and reduction worths. `structural` is the Birnbaum importance where every state of every item
    is equally likely (1/2 for a cause without siblings): it needs no figures, and is 0 where nothing is exact.
    `order` is the size of the smallest cut set with the cause and `sets` how many cut sets hold it; 0 where none
    does.
    """

    cause: str
    item: str | None
    probability: float
    given: float
    birnbaum: float
    fussell_vesely: float
    criticality: float
    achievement: float
    reduction: float
    structural: float
    order: int
    sets: int


@dataclass(frozen=True)
class Importances:
    """The causes that can matter to a symptom, likeliest given the symptom first.

    P(symptom) lies between `lower` and `upper`, which are equal where it is exact. `bound` is 0.0 where the
    rows are exact; else no `given` is off by more than that, and what follows from it is an estimate.
    `complete` says whether all cut sets are in `fussell_vesely`, `order` and `sets`.
    """

    symptom: str
    lower: float
    upper: float
    bound: float
    complete: bool
    only_bands: bool
    rows: tuple[Importance, ...]

    @property
    def exact(self) -> bool:
        """Whether the probability of the symptom is exact, to rounding."""
        return self.lower == self.upper

    @property
    def probability(self) -> float:
        """P(symptom), or the middle of what encloses it."""
        return (self.lower + self.upper) / 2.0

    def __iter__(self) -> Iterator[Importance]:
        return iter(self.rows)

    @property
    def by_structure(self) -> tuple[Importance, ...]:
        """The rows by structural importance, which needs no likelihoods; equal ones by smallest cut set, then most."""
        return tuple(sorted(self.rows, key=lambda one: (-one.structural, one.order or 1 << 60, -one.sets)))


def importance(library: Library, symptom: str) -> Importances:
    """The importance of every cause for a symptom (by full or unique short id); raises UnknownName.

    `only_bands` says that every likelihood is an ordinal band, so that all figures but `structural`, `order`
    and `sets` rest on the weights of the bands.
    """
    return importance_of(library, minimal_sets(library, library.symptom_id(symptom)))


def importance_of(library: Library, sets: MinimalSets, limits: Limits = Limits()) -> Importances:
    """The same from minimal sets at hand, within some limits of the engine that serves where no diagram does."""
    names = sets.question.names
    found = _exact(sets) or _by_engine(library, sets, limits)
    family, reach = sets.known
    rows = [
        _row(library, name, found, number, family.shares.get(name), family.total) for number, name in enumerate(names)
    ]
    place = {name: number for number, name in enumerate(library.causes)}
    rows.sort(key=lambda one: (-float(f"{one.given:.12e}"), place[one.cause]))
    bands = [library.causes[name].likelihood.band is not None for name in names]
    return Importances(
        sets.symptom, found.lower, found.upper, found.bound, reach is None, bool(bands) and all(bands), tuple(rows)
    )


class _Found(NamedTuple):
    """P(top) between two bounds, and for each cause (by number) its figures with the library's and with even priors."""

    lower: float
    upper: float
    bound: float
    weighed: Weighed
    even: Weighed


def _exact(sets: MinimalSets) -> _Found | None:
    """All figures from the diagram, where there is one."""
    if sets.decisions is None:
        return None
    weighed = weigh(sets.decisions, [sets.probabilities[name] for name in sets.question.names])
    equal = [1.0 / (len(group) + 1) for group in sets.question.groups for _ in group]
    return _Found(weighed.top, weighed.top, 0.0, weighed, weigh(sets.decisions, equal))


def _row(library: Library, name: str, found: _Found, number: int, share: Share | None, total: float) -> Importance:
    cause = library.causes[name]
    top, p = found.weighed.top, cause.probability
    given = found.weighed.causes[number]
    reduction = top / given.absent if given.absent > 0.0 else float("inf") if top > 0.0 else 1.0
    return Importance(
        cause=name,
        item=cause.item,
        probability=p,
        given=min(p * given.present / top, 1.0) if top else 0.0,
        birnbaum=given.difference,
        fussell_vesely=share.weight / total if share else 0.0,
        criticality=given.difference * p / top if top else 0.0,
        achievement=given.present / top if top else 1.0,
        reduction=reduction,
        structural=found.even.causes[number].difference,
        order=share.order if share else 0,
        sets=share.sets if share else 0,
    )


def _by_engine(library: Library, sets: MinimalSets, limits: Limits) -> _Found:
    """All figures from the engine that answers for cases: exact where it is, else with its bound."""
    lower, upper, bound, weighed = _asked(library, sets, limits)
    least, most = enclose(sets)
    flat = _asked(_flat(library, sets), sets, limits)[3] if bound == 0.0 else _nothing(len(weighed.causes))
    if bound > 0.0:
        lower, upper = max(lower, least), max(min(upper, most), lower)
    return _Found(lower, upper, bound, weighed, flat)


def _flat(library: Library, sets: MinimalSets) -> Library:
    """The library with every state of every item of a symptom equally likely."""
    even = {
        name: replace(library.causes[name], probability=1.0 / (len(group) + 1))
        for group in sets.question.groups
        for name in group
    }
    return replace(library, causes={**library.causes, **even})


def _nothing(causes: int) -> Weighed:
    """Figures that say nothing, for so many causes."""
    return Weighed(0.0, (Given(0.0, 0.0, 0.0),) * causes)


def _asked(library: Library, sets: MinimalSets, limits: Limits) -> tuple[float, float, float, Weighed]:
    """Bounds on P(top), the bound on every posterior, and P(top / cause present or absent) by Bayes' rule."""
    frame = frame_of(library)
    symptom = library.symptoms[sets.symptom]
    point, turned = even(Point(frame.seen[sets.symptom], frame.world(symptom.situation)))
    engine = _engine(frame, point, len(sets.question.names), limits)
    result = engine.run([On(point, 1.0, 0.0) if turned else On(point, 0.0, 1.0)])
    lower = exp(float(result.log_z))
    left = float(engine.run([]).bound)
    posterior = dict(zip(frame.prior.listed.causes, result.causes.tolist(), strict=True))
    causes = [_bayes(lower, posterior[name], library.causes[name].probability) for name in sets.question.names]
    return lower, min(lower + left, 1.0), float(result.bound), Weighed(lower, tuple(causes))


def _engine(frame: Frame, point: Point, causes: int, limits: Limits) -> Engine:
    """The engine for a symptom: exact, or conditioned, or for very many causes at once a table of fault sets."""
    try:
        return compile_exact(frame, [point], limits)
    except TooWide:
        if causes > MANY:
            return table_of(frame, wire(frame, [point]), limits)
        return compile_bounded(frame, [point], limits)


def _bayes(top: float, given: float, p: float) -> Given:
    """P(top / present), P(top / absent) and their difference, from P(cause / top)."""
    return Given(top * given / p, top * (1.0 - given) / (1.0 - p), top * (given - p) / (p * (1.0 - p)))
