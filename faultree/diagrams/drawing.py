"""What is asked for, and what comes out: a drawing with its sheets, ready to be written in any format."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from faultree.base.errors import FaultreeError
from faultree.diagrams.evidence import NOTHING, Evidence
from faultree.diagrams.frame import Block
from faultree.diagrams.palette import Theme
from faultree.diagrams.paper import Paper, ways
from faultree.diagrams.picture import Plain, Sheet, View
from faultree.library.model import Library, Who
from faultree.strategy.chart.nodes import Goal


class DrawingError(FaultreeError):
    """A drawing cannot be made as it was asked for; the message says what to ask for instead."""


@dataclass(frozen=True, slots=True)
class Request:
    """What is to be drawn, and how.

    `paper` is a size (`a4`, `a3`, `letter`, `legal`) or None for one sheet as large as it needs. `whole` draws
    branches that are true while nothing is wrong too; `depth` folds what lies deeper. `goal`, `by` and `cut` are those
    of a chart (`compile_chart`); without `cut` it is the usual one.
    """

    library: Library
    symptom: str
    evidence: Evidence = NOTHING
    paper: str | None = None
    theme: Theme = "light"
    whole: bool = False
    depth: int | None = None
    goal: Goal = "item"
    by: tuple[Who, ...] | None = None
    cut: float | None = None
    version: str = ""
    made: datetime | None = None

    @property
    def ways(self) -> tuple[Paper, ...]:
        """The paper both ways; none where no size was asked for."""
        return ways(self.paper) if self.paper else ()

    def block(self, view: str, scale: str = "") -> Block:
        """The words of the title block."""
        symptom = self.library.symptoms[self.symptom]
        system = self.library.systems[symptom.system]
        situation = self.library.situations[symptom.situation].title if symptom.situation else ""
        chapter = f"chapter {system.chapter}" if system.chapter else ""
        return Block(
            title=symptom.title,
            view=view,
            system=", ".join(one for one in (system.title, chapter) if one),
            situation=f"situation: {situation}" if situation else "",
            version=f"library {self.library.digest[:10]}{self.version and ', '}{self.version}",
            made=self.made,
            reports=tuple(self._others()),
            steps=self.evidence.steps,
            scale=scale,
        )

    def _others(self) -> Iterator[str]:
        """The other reports of the case, on which its probabilities rest as well."""
        for name in self.evidence.symptoms:
            if name != self.symptom:
                yield f"Reported too: {self.library.symptoms[name].title}"


@dataclass(frozen=True, eq=False)
class Drawing:
    """A finished drawing: its sheets, and the same without places.

    `lines` is the drawing as text where an outline does not suit it, `signs` what the signs of its text mean.
    """

    view: View
    symptom: str
    title: str
    sheets: tuple[Sheet, ...]
    plain: Plain
    theme: Theme = "light"
    lines: tuple[str, ...] = ()
    signs: tuple[str, ...] = ()
