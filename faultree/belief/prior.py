"""The prior: one independent variable per replaceable unit, whose values are good or one cause."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import fsum
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from faultree.library.model import Library


class Root(NamedTuple):
    """One unit: value 0 is good, value k is `causes[k - 1]`; `probabilities[k]` is the prior of k.

    `unit` is the item's id, or the cause's own id where it has no item.
    """

    unit: str
    causes: tuple[str, ...]
    probabilities: tuple[float, ...]
    is_item: bool


class Listed(NamedTuple):
    """All causes in the order of the roots, as columns: id, item or None, prior, index of the root.

    `spans` says where each root's causes lie.
    """

    causes: tuple[str, ...]
    items: tuple[str | None, ...]
    priors: tuple[float, ...]
    roots: tuple[int, ...]
    spans: tuple[tuple[int, int], ...]


@dataclass(frozen=True, eq=False)
class Prior:
    """All roots of a library, and where each cause sits among them."""

    roots: tuple[Root, ...]

    @cached_property
    def seat(self) -> dict[str, tuple[int, int]]:
        """Cause id -> (index of its root, its value there)."""
        return {
            cause: (index, value)
            for index, root in enumerate(self.roots)
            for value, cause in enumerate(root.causes, start=1)
        }

    @cached_property
    def listed(self) -> Listed:
        """All causes, one after the other."""
        rows = [
            (cause, root.unit if root.is_item else None, prior, index)
            for index, root in enumerate(self.roots)
            for cause, prior in zip(root.causes, root.probabilities[1:], strict=True)
        ]
        causes, items, priors, roots = zip(*rows, strict=True) if rows else ((), (), (), ())
        ends = list(accumulate(len(root.causes) for root in self.roots))
        return Listed(causes, items, priors, roots, tuple(zip([0, *ends], ends, strict=False)))

    @cached_property
    def index(self) -> dict[str, int]:
        """Unit id -> index of its root; an item goes before a cause of the same name."""
        seats = sorted(enumerate(self.roots), key=lambda seat: seat[1].is_item)
        return {root.unit: index for index, root in seats}

    def of(self, cause: str) -> float:
        """The prior probability of a cause."""
        root, value = self.seat[cause]
        return self.roots[root].probabilities[value]


def prior_of(library: Library) -> Prior:
    """The prior of a library, roots in the order in which their first cause stands in the files.

    Causes of one item exclude each other, so P(good) = 1 - sum of its p; causes of different items,
    and causes with no item, are independent (the tree file's format, "Likelihood").
    """
    members: dict[tuple[str, bool], list[str]] = {}
    for name, cause in library.causes.items():
        members.setdefault((cause.item or name, cause.item is not None), []).append(name)
    roots = []
    for (unit, is_item), causes in members.items():
        faults = tuple(library.causes[name].probability for name in causes)
        roots.append(Root(unit, tuple(causes), (1.0 - fsum(faults), *faults), is_item))
    return Prior(tuple(roots))
