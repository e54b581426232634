"""The public face in Python: a loaded library that opens cases."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from pathlib import Path
from typing import TYPE_CHECKING

from faultree.base.clock import Clock, system_clock
from faultree.library import load as reader
from faultree.library import model
from faultree.logic.export import graph_of
from faultree.strategy import case as strategy

if TYPE_CHECKING:
    import networkx

    from faultree.belief.importance import Importances
    from faultree.diagrams.palette import Theme
    from faultree.diagrams.picture import View
    from faultree.diagrams.shown import Shown
    from faultree.library.model import Who
    from faultree.logic.cut_sets import CutSets
    from faultree.logic.fault_tree import FaultTree
    from faultree.strategy.analysis import Analysis
    from faultree.strategy.chart.value import Chart, Goal


class Library(model.Library):
    """A loaded library: its entries by full id, and the questions one can ask of it."""

    def case(self, *symptoms: str) -> strategy.Case:
        """A case of one or more reported symptoms; raises UnknownName or Contradiction."""
        return strategy.Case.open(self, symptoms)

    def chart(
        self,
        *symptoms: str | Iterable[str],
        goal: Goal = "item",
        by: Iterable[str] | None = None,
        limit_s: float = 10.0,
    ) -> Chart:
        """The compiled troubleshooting chart of one or more reports, the cheapest known within `limit_s` seconds.

        Reports are named one by one or in a list.

        Goals: tell the `cause`s apart, the `item`s that would be replaced, or `restore` (least expected minutes
        until the reports are gone). `by` keeps the checks that the crew, the line or the shop can do. Raises
        UnknownName, CaseError or Contradiction.
        """
        from faultree.strategy.chart.compile import compile_chart

        names = [name for one in symptoms for name in ([one] if isinstance(one, str) else one)]
        return compile_chart(self, names, goal=goal, by=by, limit_s=limit_s)

    def fault_tree(self, symptom: str) -> FaultTree:
        """The derived fault tree of a symptom in its situation, parts that several gates use standing once.

        Raises UnknownName.
        """
        from faultree.logic.derive import fault_tree

        return fault_tree(self, symptom)

    def cut_sets(
        self,
        symptom: str,
        max_order: int | None = None,
        least_probability: float | None = None,
        most: int | None = None,
    ) -> CutSets:
        """The minimal sets of causes that produce a symptom: a tuple of frozensets of cause ids, likeliest first.

        No set has two causes of one item. `max_order` limits the causes in a set, `least_probability` the
        probability of a set, `most` how many are listed (50,000 unless told otherwise). `complete` says whether
        all are listed, `count` how many there are; if some are not, `cut_off` says which and `left_out` bounds
        the probability that the symptom comes from those alone. Raises UnknownName.
        """
        from faultree.logic.cut_sets import MOST_LISTED, cut_sets

        return cut_sets(self, symptom, max_order, least_probability, MOST_LISTED if most is None else most)

    def importance(self, symptom: str) -> Importances:
        """P(symptom) and how much each cause matters to it, likeliest given the symptom first.

        Exact where `exact` says so, else between `lower` and `upper`. Raises UnknownName.
        """
        from faultree.belief.importance import importance

        return importance(self, symptom)

    def analysis(
        self,
        symptom: str,
        by: Iterable[Who] | None = None,
        max_order: int | None = None,
        least_probability: float | None = None,
    ) -> Analysis:
        """Cut sets and importance of a symptom, and what the checks can tell apart, as `faultree analyse` shows them.

        `by` admits only checks for crew, line or shop; the limits are those of `cut_sets`. Raises UnknownName.
        """
        from faultree.strategy.analysis import analyse

        return analyse(self, symptom, by, max_order=max_order, least_probability=least_probability)

    def draw(
        self,
        what: str | strategy.Case,
        view: View = "tree",
        paper: str | None = None,
        theme: Theme = "light",
        *,
        whole: bool = False,
        depth: int | None = None,
        clock: Clock = system_clock,
    ) -> Shown:
        """A symptom drawn as its fault `tree`, `logic`, `chart` or `matrix`; a case is drawn with what it has found.

        `paper` (`a4`, `a3`, `letter`, `legal`) splits it over sheets; without it there is one, as large as it needs.
        `whole` draws branches too that are true while nothing is wrong, `depth` only so many levels of a tree. The
        result shows itself in a notebook, and `save("tree.svg")` writes it (also .pdf .png .gv .mmd .txt). Raises
        UnknownName, or DrawingError where it would be too large.
        """
        from faultree.diagrams.draw import draw
        from faultree.diagrams.drawing import Request
        from faultree.diagrams.evidence import evidence_of
        from faultree.diagrams.shown import Shown

        case = what if isinstance(what, strategy.Case) else None
        name = case.symptoms[0] if case else self.symptom_id(str(what))
        evidence = evidence_of(case)
        asked = Request(self, name, evidence, paper, theme, whole=whole, depth=depth, made=clock())
        return Shown(draw(asked, view))

    def graph(self) -> networkx.DiGraph[str]:
        """All nodes as a directed graph for one's own analysis, edges from what is used to what uses it.

        Node attributes: `kind` (condition, cause, signal or event), `title`, `system`, and for causes
        `probability` and `item`.
        """
        return graph_of(self)


def load(path: str | Path) -> Library:
    """Read a folder of tree files (or one file among its neighbours).

    Raises LibraryError, whose `problems` holds everything that is wrong, in file order.

    >>> load("no/such/folder")
    Traceback (most recent call last):
    faultree.base.errors.LibraryError: no/such/folder: there is no such file or folder; name a folder of .yaml files
    """
    return _faced(reader.load(path))


def load_texts(texts: Mapping[str, str]) -> Library:
    """The same from texts in memory, by file name.

    Raises LibraryError, as `load` does.
    """
    return _faced(reader.load_texts(texts))


def _faced(library: model.Library) -> Library:
    return Library(**{one.name: getattr(library, one.name) for one in fields(library)})


Case = strategy.Case
