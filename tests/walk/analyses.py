"""Analyses written by hand over the small pump, for pages and sheets."""

from __future__ import annotations

from collections.abc import Mapping

from faultree.belief.importance import Importance, Importances
from faultree.library.model import Library, Who
from faultree.logic.cut_sets import CutSets
from faultree.strategy.analysis import Analysis
from faultree.strategy.testability import assess
from tests.strategy.matrices import pump

Weighed = tuple[frozenset[str], float]


def weighed(probability: float, *causes: str) -> Weighed:
    """A set of causes with its probability."""
    return frozenset(causes), probability


SINGLES = (
    weighed(0.02, "pump/worn"),
    weighed(0.01, "pump/seized"),
    weighed(0.01, "pump/leak"),
    weighed(0.01, "pump/low"),
)


def measure(cause: str, given: float, structural: float = 0.1, **changes: float) -> Importance:
    """Figures of a cause, most of them the same for each."""
    figures = {"probability": 0.01, "birnbaum": 0.96, "fussell_vesely": 0.4, "criticality": 0.39}
    figures |= {"achievement": 20.4, "reduction": 1.65, "given": given, "structural": structural, **changes}
    return Importance(cause=cause, item=None, order=1, sets=1, **figures)


ROWS = (measure("pump/worn", 0.4), measure("pump/leak", 0.2), measure("pump/low", 0.2))


def analysis(
    symptom: str = "pump/no-flow",
    by: tuple[Who, ...] | None = ("crew", "line"),
    library: Library | None = None,
    sets: tuple[Weighed, ...] = SINGLES,
    orders: Mapping[int, int] | None = None,
    cut_off: str = "",
    left_out: float = 0.0,
    known: bool = True,
    lower: float = 0.049,
    upper: float = 0.049,
    bound: float = 0.0,
    rows: tuple[Importance, ...] = ROWS,
) -> Analysis:
    """An analysis of the pump; by default four single faults, of which two cannot be told apart by crew and line."""
    library = library or pump()
    counted: dict[int, int] = {}
    for one, _ in sets:
        counted[len(one)] = counted.get(len(one), 0) + 1
    counted |= orders or {}
    bands = bool(rows) and all(library.causes[one.cause].likelihood.band for one in rows)
    return Analysis(
        library=library,
        symptom=symptom,
        by=by,
        cut_sets=CutSets.of(symptom, sets, sum(counted.values()) if known else None, counted, cut_off, left_out),
        importance=Importances(symptom, lower, upper, bound, known, bands, rows),
        checks=assess(library, symptom, by),
    )
