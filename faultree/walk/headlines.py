"""What an analysis says first, in short sentences for the instructor who looks at a tree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from faultree.base.words import listing, percent
from faultree.belief.reasons import quoted
from faultree.strategy.testability import minutes_of

if TYPE_CHECKING:
    from faultree.library.model import Library
    from faultree.strategy.analysis import Analysis
    from faultree.strategy.testability import Idle

NAMED = 3
"""At most so many are named in a sentence; the others are counted."""

SETS = {2: "pair", 3: "triple"}
"""What a combination of so many faults is called."""

TEAMS: Mapping[str, str] = {"crew": "the crew", "line": "the line", "shop": "the shop"}
"""Who makes a check, in a sentence."""


def headlines(found: Analysis) -> tuple[str, ...]:
    """The main results, one sentence each."""
    return tuple(_sentences(found))


def _sentences(found: Analysis) -> Iterator[str]:
    if found.always:
        yield "This is there with nothing wrong at all, so no fault is needed to explain it."
        return
    if not found.cut_sets.orders and found.cut_sets.count == 0:
        yield "No set of faults in this library can cause this."
        return
    yield _singles(found)
    combined = combinations(found)
    if combined:
        yield combined
    yield from _likeliest(found)
    if found.checks.matrix.causes:
        yield _revealed(found)
        yield from _idle(found)


def _likeliest(found: Analysis) -> Iterator[str]:
    """The likeliest cause once the symptom is reported, with those that are shown with the same share."""
    rows = found.importance.rows
    if not rows or not rows[0].given:
        return
    share = percent(rows[0].given)
    first = [one.cause for one in rows if percent(one.given) == share]
    if len(first) == 1:
        yield f"When it is reported, {_cause(found.library, first[0])} is the likeliest cause ({share})."
    else:
        yield f"When it is reported, {listing(_some(found.library, first))} are the likeliest causes ({share} each)."


def _singles(found: Analysis) -> str:
    """How many single faults cause it, and whether the checks tell them apart."""
    singles = found.checks.matrix.causes
    if not singles:
        return f"No single fault causes this: it takes {found.least_order} at once."
    if len(singles) == 1:
        return f"1 single fault causes this: {_cause(found.library, singles[0])}."
    return f"{len(singles)} single faults cause this; {_apart(found)}."


def _apart(found: Analysis) -> str:
    library, groups = found.library, found.checks.groups
    if not groups:
        return f"{_checks(found)} can tell {'them' if len(found.checks.matrix.causes) == 2 else 'all of them'} apart"
    first = groups[0]
    if len(first) == 2:
        same = f"{no_check(found)} separates {_cause(library, first[0])} from {_cause(library, first[1])}"
    else:
        same = f"{no_check(found)} separates {listing(_some(library, first))}"
    if len(groups) == 1:
        return same
    more = len(groups) - 1
    return f"{same}; {more} more group{'s' if more > 1 else ''} of faults cannot be told apart either"


def combinations(found: Analysis) -> str:
    """How many sets of two or more faults cause it, by size."""
    counts = {order: count for order, count in sorted(found.cut_sets.orders.items()) if order > 1 and count}
    if not counts:
        return ""
    parts = [sets_of(order, count) for order, count in counts.items()]
    parts[0] += " of faults" if next(iter(counts)) in SETS else " faults"
    verb = "cause" if sum(counts.values()) > 1 else "causes"
    words = f"{listing(parts)} {verb} it only together."
    return words if found.cut_sets.count is not None else f"{words} Larger sets are too many to count."


def sets_of(order: int, count: int) -> str:
    """So many sets of one size.

    >>> sets_of(2, 3), sets_of(4, 1)
    ('3 pairs', '1 set of 4')
    """
    plural = "s" if count > 1 else ""
    return f"{count} {SETS[order]}{plural}" if order in SETS else f"{count} set{plural} of {order}"


def _revealed(found: Analysis) -> str:
    checks = found.checks
    hidden = checks.unrevealed
    if not hidden:
        subject = "The fault" if len(checks.matrix.causes) == 1 else "Each of the single faults"
        return f"{subject} is revealed by some check."
    if len(hidden) == len(checks.matrix.causes):
        return f"{_checks(found).capitalize()} reveal no single fault: each shows what it shows with nothing wrong."
    named, none = listing(_some(found.library, hidden), "or"), no_check(found)
    return f"{none[0].upper()}{none[1:]} reveals {named}: each shows what it shows with nothing wrong."


def _idle(found: Analysis) -> Iterator[str]:
    """How many checks could be spared, and how many of these are quick all the same."""
    idle, telling = found.checks.idle, len(found.checks.telling)
    if not idle:
        return
    said = f"{len(idle)} of the {telling} checks that bear on single faults could be left out:"
    quick = sum(is_quicker(found.library, one) for one in idle)
    if len(idle) == 1:
        yield f"{said} another tells at least as much{', but takes longer' if quick else ''}."
        return
    kept = f"; {quick} of these {'is' if quick == 1 else 'are'} quicker than the other" if quick else ""
    yield f"{said} for each of them another tells at least as much{kept}."


def is_quicker(library: Library, one: Idle) -> bool:
    """Whether a check that adds nothing takes less time than the one that tells as much."""
    return minutes_of(library, one.check) < minutes_of(library, one.beside)


def _checks(found: Analysis) -> str:
    """The checks that were admitted, in words."""
    if found.by is None:
        return "the checks"
    return f"the checks made by {listing((TEAMS[one] for one in found.by), 'or')}"


def no_check(found: Analysis) -> str:
    """What there is none of, so that nobody takes the checks that were admitted for all there are."""
    return "no check" if found.by is None else f"no check made by {listing((TEAMS[one] for one in found.by), 'or')}"


def _some(library: Library, causes: Sequence[str]) -> list[str]:
    """Titles of a few causes, and how many more there are."""
    named = [_cause(library, one) for one in causes[: NAMED if len(causes) > NAMED + 1 else len(causes)]]
    more = len(causes) - len(named)
    return [*named, f"{more} more"] if more else named


def _cause(library: Library, cause: str) -> str:
    return quoted(library.causes[cause].title)
