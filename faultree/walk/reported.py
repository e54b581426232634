"""Which of several reports can be one case."""

from __future__ import annotations

from faultree.base.errors import CaseError, Contradiction
from faultree.library.model import Library
from faultree.strategy.case import Case


def together(library: Library, symptoms: tuple[str, ...]) -> tuple[str, ...]:
    """The reports (full ids) that can be one case: each in turn that does not contradict those before it.

    What the library does not hold is left out. CaseError where none is left.
    """
    kept: tuple[str, ...] = ()
    for one in symptoms:
        if one not in library.symptoms:  # of an earlier state of the tree
            continue
        try:
            Case.open(library, [*kept, one])
        except Contradiction:
            continue
        kept = (*kept, one)
    if not kept:
        raise CaseError("none of these reports is possible by itself in the tree as it is now")
    return kept
