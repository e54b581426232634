"""The drawings of a sheet: for each report of the case its fault tree, cut down to what is likely now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from faultree.diagrams.draw import files
from faultree.diagrams.drawing import DrawingError, Request
from faultree.diagrams.evidence import evidence_of
from faultree.diagrams.tree import UPRIGHT, tree_drawing
from faultree.journal.records import Record
from faultree.library.model import Library
from faultree.logic.derive import fault_tree
from faultree.reports.fit_now import walk_now
from faultree.reports.open_part import LEAST, open_part
from faultree.strategy.case import Case


@dataclass(frozen=True, slots=True)
class Picture:
    """The drawing of one report: its title, the SVG (empty where there is none), and what a reader must know of it."""

    title: str
    svg: str
    said: str


def pictures(library: Library, record: Record, made: datetime, version: str) -> tuple[Picture, ...]:
    """A drawing for each report that the case looks into, in their order; none where it has no walk."""
    walk, _ = walk_now(library, record)
    case = walk.case if walk else None
    return tuple(_pictures(case, made, version)) if case else ()


POINTED = 1.2
"""A report points to a cause where it makes it so many times as likely; the others are there for another report."""


def _pictures(case: Case, made: datetime, version: str) -> Iterator[Picture]:
    evidence = evidence_of(case)
    for name in case.symptoms:
        symptom = case.library.symptoms[name]
        part = open_part(fault_tree(case.library, name), _own(case, name, evidence.probabilities))
        own = max(part.causes, key=lambda one: evidence.probabilities.get(one, 0.0), default="")
        asked = Request(case.library, name, replace(evidence, likeliest=own), version=version, made=made)
        try:
            drawn = files(tree_drawing(asked, part, UPRIGHT), "svg")[0].decode()
        except DrawingError:
            yield Picture(symptom.title, "", f"Too large for this sheet; 'faultree draw {name} -o tree.pdf' draws it.")
        else:
            yield Picture(symptom.title, drawn, _left_out(name))


def _own(case: Case, symptom: str, probabilities: Mapping[str, float]) -> Mapping[str, float]:
    """The probabilities of the causes that this report points to; all where the case has no other."""
    if len(case.symptoms) == 1:
        return probabilities
    alone = Case(case.library, (symptom,), case.steps, case.limits).ranking()
    pointed = {one.cause for one in alone if one.probability > POINTED * one.prior}
    return {cause: probability for cause, probability in probabilities.items() if cause in pointed}


def _left_out(name: str) -> str:
    return (
        f"Drawn are the causes of {100 * LEAST:g} % or more and where their ways meet; what a gate has besides is said "
        f"beside it. The whole tree: faultree draw {name} -o tree.pdf"
    )
