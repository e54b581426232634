"""What the journal's cases teach about a report: their findings, as what they are, and a library that was taught.

A case counts where its squawks mean exactly the reports that are asked about. A fault that was confirmed points
to its unit (and cause, where that was established); a unit that was examined with no fault found speaks against it,
as far as a shop finds what is there; a unit that was only put right with success confirms nothing and counts for
nothing, and is told as such.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from faultree.journal.records import Record
from faultree.library.model import Library
from faultree.strategy.learning import STRENGTH, Finding, Learnt, learn

IN_USE, ASKED = "History is in use,", "History was asked for, but"
"""How it is said that history is in use, and that it was asked for in vain; a record is read back by these words."""


NO_MORE = "History is not in use any more: the figures are the author's alone."
"""What a record says where a case that was ranked with history goes on without."""


@dataclass(frozen=True, slots=True)
class Lessons:
    """Findings of the same reports, from so many cases; `unconfirmed` units were put right without confirmation.

    `invented` cases among them were made for demonstration; `passed_over` are those that were left out for it.
    """

    findings: tuple[Finding, ...]
    cases: int
    unconfirmed: int
    invented: int
    passed_over: int = 0


def lessons(records: Iterable[Record], symptoms: Sequence[str]) -> Lessons:
    """What the cases of exactly these reports (full ids) teach; other cases, and open ones, are passed over.

    Where a real case teaches anything, invented ones are passed over as well.
    """
    same = [one for one in records if set(one.symptoms) == set(symptoms) and one.findings]
    real = [one for one in same if not one.invented]
    found = real or same
    findings = tuple(finding for one in found for finding in _of(one))
    unconfirmed = sum(len({f.unit for f in one.findings if f.result == "replaced"} - _confirmed(one)) for one in found)
    return Lessons(
        findings, len(found), unconfirmed, sum(one.invented for one in found), passed_over=len(same) - len(found)
    )


def _confirmed(record: Record) -> set[str]:
    return {one.unit for one in record.findings if one.result == "confirmed"}


def _of(record: Record) -> Iterable[Finding]:
    """The findings of a case, each once; a unit that was confirmed in the end counts as that alone."""
    confirmed = _confirmed(record)
    known = {one.unit for one in record.findings if one.result == "confirmed" and one.cause}
    seen: set[Finding] = set()
    for one in record.findings:
        if one.result == "confirmed" and (one.cause or one.unit not in known):
            seen.add(Finding(one.unit, one.cause, "confirmed"))
        if one.result == "not found" and one.unit not in confirmed:
            seen.add(Finding(one.unit, None, "not found"))
    return sorted(seen, key=lambda one: (one.unit, one.cause or "", one.result))


def taught(library: Library, symptoms: Sequence[str], found: Lessons, strength: float = STRENGTH) -> Learnt:
    """The library taught by these lessons; it says so itself, with the number of records."""
    learnt = learn(library, symptoms, found.findings, strength)
    return replace(learnt, library=replace(learnt.library, history=words(learnt, found)))


def words(learnt: Learnt, found: Lessons) -> str:
    """That history is in use, and from how many records."""
    if not learnt.confirmed and not learnt.not_found:
        beside = f" ({found.unconfirmed} put right without confirmation do not count)" if found.unconfirmed else ""
        return f"{ASKED} the journal holds no finding of the same report{beside}."
    parts = [
        f"{learnt.confirmed} confirmed fault{'' if learnt.confirmed == 1 else 's'}",
        f"{learnt.not_found} unit{'' if learnt.not_found == 1 else 's'} with no fault found",
    ]
    if found.unconfirmed:
        parts.append(f"{found.unconfirmed} put right without confirmation, not counted")
    invented = f"; {found.invented} of these cases are invented for demonstration" if found.invented else ""
    if found.passed_over:
        left = found.passed_over
        invented = (
            f"; {left} invented case{'' if left == 1 else 's'} beside them {'is' if left == 1 else 'are'} left out"
        )
    return (
        f"{IN_USE} from {found.cases} case{'' if found.cases == 1 else 's'} of the same report (one may hold "
        f"several findings): {', '.join(parts)}; the author's figures count as {learnt.strength:g} findings{invented}."
    )


def remembered(record: Record) -> float | None:
    """What the author's figures counted as where the case was last ranked with history; None where it was not.

    A case for which history was asked in vain is remembered as well, with the usual strength.
    """
    for entry in reversed(record.entries):
        said = str(entry.data.get("text", "")) if entry.kind == "note" else ""
        if said == NO_MORE:
            return None
        if said.startswith((IN_USE, ASKED)):
            return strength_of(said) or STRENGTH
    return None


def strength_of(said: str) -> float | None:
    """The strength that the words about a history name.

    >>> strength_of("...; the author's figures count as 2.5 findings.")
    2.5
    """
    found = re.search(r"author's figures count as (\d[\d.]*(?:e[+-]?\d+)?) findings", said)
    return float(found[1]) if found else None
