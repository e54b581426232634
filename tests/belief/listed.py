"""The slow reference of every engine: all combinations of root values, each simulated, each weighed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product

import numpy as np
from numpy.typing import NDArray

from faultree.belief.engine import Finding, Given
from faultree.belief.evidence import Point
from faultree.belief.frame import Frame
from faultree.logic.simulate import evaluate, value_of

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Listed:
    """The joint distribution of a frame, set by set."""

    frame: Frame

    @cached_property
    def values(self) -> list[tuple[int, ...]]:
        """Every combination of root values."""
        return list(product(*(range(len(root.probabilities)) for root in self.frame.prior.roots)))

    @cached_property
    def prior(self) -> Floats:
        """The prior of each combination."""
        roots = self.frame.prior.roots
        return np.array([math.prod(r.probabilities[v] for r, v in zip(roots, one, strict=True)) for one in self.values])

    def causes(self, values: tuple[int, ...], repaired: frozenset[int] = frozenset()) -> frozenset[str]:
        """The causes that are present with these root values, those of repaired roots left out."""
        seats = enumerate(zip(self.frame.prior.roots, values, strict=True))
        return frozenset(root.causes[value - 1] for number, (root, value) in seats if value and number not in repaired)

    def shows(self, point: Point) -> NDArray[np.bool_]:
        """Whether a point is true, for each combination."""
        world = self.frame.worlds[point.world]
        settings = dict(world.settings)
        sets = [self.causes(values, world.repaired) for values in self.values]
        return np.array([value_of(evaluate(self.frame.graph, settings, one), point.literal) for one in sets])

    def weights(self, findings: Sequence[Finding]) -> Floats:
        """Prior times evidence of each combination."""
        weights = self.prior.copy()
        for finding in findings:
            if isinstance(finding, Given):
                weights *= np.array(finding.factors)[[values[finding.root] for values in self.values]]
            else:
                weights *= np.where(self.shows(finding.point), finding.on, finding.off)
        return weights

    def log_z(self, findings: Sequence[Finding]) -> float:
        """The log of P(findings)."""
        total = float(self.weights(findings).sum())
        return math.log(total) if total > 0.0 else -math.inf

    def probabilities(self, findings: Sequence[Finding], points: Sequence[Point]) -> tuple[Floats, Floats]:
        """The posterior of every cause, in the prior's order, and of every point."""
        weights = self.weights(findings)
        share = weights / weights.sum()
        present = [self.causes(values) for values in self.values]
        names = [cause for root in self.frame.prior.roots for cause in root.causes]
        causes = [math.fsum(share[[name in one for one in present]]) for name in names]
        return np.array(causes), np.array([math.fsum(share[self.shows(point)]) for point in points])

    def heaviest(self, findings: Sequence[Finding]) -> float:
        """The log weight of the likeliest combination."""
        most = float(self.weights(findings).max())
        return math.log(most) if most > 0.0 else -math.inf

    def weight_of(self, causes: frozenset[str], findings: Sequence[Finding]) -> float:
        """The log weight of exactly this fault set."""
        place = [self.causes(values) for values in self.values].index(causes)
        weight = float(self.weights(findings)[place])
        return math.log(weight) if weight > 0.0 else -math.inf
