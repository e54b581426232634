"""An analysis as a page to read: its sentences, and its tables with titles for ids."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeVar

from faultree.base.words import listing, percent
from faultree.strategy.observe import Split, best_split
from faultree.strategy.testability import minutes_of
from faultree.walk import titles
from faultree.walk.headlines import TEAMS, headlines, is_quicker, no_check
from faultree.walk.prompt import NOTICE
from faultree.walk.scale import bands

if TYPE_CHECKING:
    from faultree.belief.importance import Importance
    from faultree.library.model import Library, Who
    from faultree.strategy.analysis import Analysis
    from faultree.strategy.testability import Testability

_Line = TypeVar("_Line")

MOST = 10
"""So many lines of a table are shown unless all are asked for."""

OF_SIZE = {1: 20, 2: 6, 3: 3}
"""So many sets of each size are shown unless all are asked for; of larger ones none."""

SMALL = 0.0001
"""Below this a probability is written with an exponent."""

MOSTLY = 0.99
"""From this share of the reports on, single faults may stand for all."""

NO_SINGLES = "What the checks can tell apart is worked out for single faults, of which there is none here."

NOT_COMPARED = "they are not compared here, and a check that adds nothing below may be needed for them"

HINDERING = "such a fault prevents this, hides it, or keeps an item from failing in a way that is listed here"
"""How a fault can make a symptom less likely."""

COUNTS = 0.0005
"""A cause with a lesser share of the sets is shown only when all are asked for: it was mostly there by coincidence."""

FEWEST = 3
"""No table is cut short to leave fewer than this out."""


@dataclass(frozen=True, slots=True)
class SetLine:
    """Faults that cause the symptom together, by title, and the probability that all are present.

    `banded`: that probability rests on a likelihood band.
    """

    titles: tuple[str, ...]
    probability: float
    banded: bool


@dataclass(frozen=True, slots=True)
class SetTable:
    """The sets of one size, most probable first; `more` were left off, none above `at_most`."""

    order: int
    lines: tuple[SetLine, ...]
    more: int
    at_most: float


@dataclass(frozen=True, slots=True)
class GroupBlock:
    """Faults that look the same to every check, lettered from A, and what would tell most of them apart."""

    titles: tuple[str, ...]
    revealed: bool
    one_item: str
    remedy: str


@dataclass(frozen=True, slots=True)
class TeamLine:
    """What the checks of some people can do: fraction detected, and isolated to 1, 2 and 3 items; None is nothing."""

    who: str
    detected: float | None
    isolated: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Covered:
    """A check, how long it takes, and others (with their times) that tell nothing that it does not tell.

    `quicker`: those others take less time; else they take as long or longer. `more` of them are left off.
    """

    title: str
    minutes: float
    others: tuple[tuple[str, float], ...]
    quicker: bool
    more: int


@dataclass(frozen=True, slots=True)
class AnalysisPage:
    """All that is shown; `more_*` count the lines left off, `no_check` says what there is none of."""

    title: str
    situation: str
    headlines: tuple[str, ...]
    probability: str
    sets: tuple[SetTable, ...]
    left_out: str
    importance: tuple[tuple[str, Importance], ...]
    more_importance: int
    hindering: str
    structural: tuple[tuple[str, float], ...]
    more_structural: int
    groups: tuple[GroupBlock, ...]
    more_groups: int
    unrevealed: tuple[str, ...]
    more_unrevealed: int
    covered: tuple[Covered, ...]
    teams: tuple[TeamLine, ...]
    scale: str
    only_bands: bool
    about_singles: str
    no_check: str = "no check"
    notice: str = NOTICE


def page_of(found: Analysis, *, everything: bool = False) -> AnalysisPage:
    """The page of an analysis; `everything` cuts no table short."""
    library = found.library
    weighed = found.importance
    helping = [one for one in weighed if one.sets or (one.birnbaum > 0.0 and not weighed.complete)]
    counting = [one for one in helping if one.fussell_vesely >= COUNTS] if weighed.complete and not everything else []
    measures = _first(counting or helping, everything)
    by_structure = [one for one in weighed.by_structure if one.structural > 0.0] if weighed.only_bands else []
    structural = _first(by_structure, everything)
    groups = _first(found.checks.groups, everything)
    unrevealed = _first(found.checks.unrevealed, everything)
    symptom = library.symptoms[found.symptom]
    return AnalysisPage(
        title=symptom.title,
        situation=library.situations[symptom.situation].title if symptom.situation else "",
        headlines=headlines(found),
        probability=probability_words(found),
        sets=tuple(_tables(found, everything)),
        left_out=_left_out(found),
        importance=tuple((library.causes[one.cause].title, one) for one in measures),
        more_importance=len(helping) - len(measures),
        hindering=hindering_words(found, everything=everything),
        structural=tuple((library.causes[one.cause].title, one.structural) for one in structural),
        more_structural=len(by_structure) - len(structural),
        groups=tuple(_group(found.checks, one) for one in groups),
        more_groups=len(found.checks.groups) - len(groups),
        unrevealed=tuple(library.causes[one].title for one in unrevealed),
        more_unrevealed=len(found.checks.unrevealed) - len(unrevealed),
        covered=tuple(_covered(found, everything)),
        teams=tuple(_team(who, one) for who, one in found.teams.items()),
        scale=bands(library, (one.cause for one in weighed)),
        only_bands=weighed.only_bands,
        about_singles=_about_singles(found),
        no_check=no_check(found),
    )


def _first(lines: Sequence[_Line], everything: bool, most: int = MOST) -> Sequence[_Line]:
    """The lines to show."""
    return lines if everything or len(lines) < (most + FEWEST if most else 1) else lines[:most]


def chance(probability: float, figures: int = 2) -> str:
    """A small probability in as many figures as mean something, a difference of two with its sign.

    >>> chance(0.25), chance(0.003), chance(0.0000312), chance(1.0), chance(-0.02), chance(0.09171, 3)
    ('0.25', '0.003', '3.1e-5', '1', '-0.02', '0.0917')

    What is not certain does not read as if it were.

    >>> chance(0.9951), chance(0.9951, 3), chance(0.9999, 3)
    ('>0.99', '0.995', '>0.999')
    """
    if probability < 0.0:
        return f"-{chance(-probability, figures)}"
    if probability >= SMALL:
        words = f"{probability:.{figures}g}"
        return f">0.{'9' * figures}" if words == "1" and probability < 1.0 else words
    mantissa, _, exponent = f"{probability:.{figures - 1}e}".partition("e")
    return f"{mantissa}e{int(exponent)}" if probability > 0.0 else "0"


def probability_words(found: Analysis) -> str:
    """How likely the symptom is by the likelihoods of the library, and whether that is exact."""
    weighed = found.importance
    if weighed.exact:
        return f"Probability that the faults of this library cause it: {chance(weighed.lower, 3)} (exact)."
    off = f" Each “given” may be off by up to {percent(weighed.bound)}." if weighed.bound else ""
    return (
        "Probability that the faults of this library cause it: between "
        f"{chance(weighed.lower, 3)} and {chance(weighed.upper, 3)} (bounds).{off}"
    )


def hindering_words(found: Analysis, *, everything: bool) -> str:
    """How many faults make the symptom less likely (or which), and why they can; empty where none does."""
    names = [found.library.causes[one.cause].title for one in found.hindering if not one.sets]
    if not names:
        return ""
    if everything:
        return f"Less likely with {listing((f'“{one}”' for one in names), 'or')}: {HINDERING}."
    return f"Less likely with {len(names)} other fault{'s'[: len(names) > 1]}: {HINDERING}; --all names them."


def _left_out(found: Analysis) -> str:
    sets = found.cut_sets
    if sets.complete:
        return ""
    return (
        f"Not listed: {sets.cut_off}. The probability that this comes from those alone is at most "
        f"{chance(sets.left_out)}."
    )


def _tables(found: Analysis, everything: bool) -> Iterator[SetTable]:
    weighed = list(zip(found.cut_sets, found.cut_sets.probabilities, strict=True))
    for order in sorted({len(one) for one in found.cut_sets if one}):
        sets = [one for one in weighed if len(one[0]) == order]
        shown = _first(sets, everything, OF_SIZE.get(order, 0))
        lines = tuple(_line(found, *one) for one in shown)
        rest = sets[len(shown) :]
        yield SetTable(order, lines, len(rest), rest[0][1] if rest else 0.0)


def _line(found: Analysis, causes: frozenset[str], probability: float) -> SetLine:
    entries = [found.library.causes[name] for name in found.in_order(causes)]
    banded = any(one.likelihood.band for one in entries)
    return SetLine(tuple(one.title for one in entries), probability, banded)


def _about_singles(found: Analysis) -> str:
    """What the comparison of the checks leaves out; empty where that is next to nothing."""
    if not found.checks.matrix.causes:
        return "" if found.always or not found.cut_sets.orders else NO_SINGLES
    if found.single_share >= MOSTLY:
        return ""
    return f"{percent(1.0 - found.single_share)} of the reports come from faults that act together; {NOT_COMPARED}."


# --- what the checks can tell apart ---------------------------------------------------------------


def _group(checks: Testability, group: Sequence[str]) -> GroupBlock:
    library, units = checks.matrix.library, checks.units(group)
    return GroupBlock(
        titles=tuple(library.causes[one].title for one in group),
        revealed=bool(checks.matrix.responding[group[0]]),
        one_item=titles.unit_title(library, units[0]) if len(units) == 1 else "",
        remedy=remedy(library, group, best_split(checks.matrix, group)),
    )


def remedy(library: Library, group: Sequence[str], split: Split | None) -> str:
    """What somebody would have to make observable, so that a group of faults is told apart."""
    if split is None:
        return (
            "No signal or event of this library differs between them in any of its situations; "
            "only a look at the parts themselves can tell."
        )
    node = library.signals.get(split.node) or library.events[split.node]
    letters = {cause: "ABCDEFGHIJKLMNOPQRSTUVWXYZ"[at] if at < 26 else str(at + 1) for at, cause in enumerate(group)}
    small = split.on if (len(split.on), letters[split.on[0]]) < (len(split.off), letters[split.off[0]]) else split.off
    rest = [letters[one] for one in group if one not in small]
    where = (
        f"in the situation “{library.situations[split.situation].title}”" if split.situation else "with all as usual"
    )
    return (
        f"Best made observable: “{node.title}” {where}. That would tell "
        f"{listing(letters[one] for one in small)} from {listing(rest)} ({split.bits:.2f} bit)."
    )


def _covered(found: Analysis, everything: bool) -> Iterator[Covered]:
    """The checks that add nothing, by the one beside which they add nothing; those that are no quicker first."""
    library, checks = found.library, found.library.checks
    groups: dict[tuple[bool, str], list[str]] = {}
    for one in found.checks.idle:
        groups.setdefault((is_quicker(library, one), one.beside), []).append(one.check)
    for (quicker, beside), names in sorted(groups.items(), key=lambda group: group[0][0]):
        shown = _first(names, everything)
        others = tuple((checks[name].title, minutes_of(library, name)) for name in shown)
        yield Covered(checks[beside].title, minutes_of(library, beside), others, quicker, len(names) - len(shown))


def _team(who: Sequence[Who], checks: Testability) -> TeamLine:
    return TeamLine(listing(TEAMS[one] for one in who), checks.detected, tuple(checks.isolated.values()))


def share(value: float | None) -> str:
    """A fraction in words; a dash where there is nothing to take it of."""
    return "-" if value is None else percent(value)
