"""Rules about what a person who works on the system needs: cautions, the manual, likelihoods that can be meant."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from math import fsum
from typing import TYPE_CHECKING

from faultree.base.words import percent
from faultree.strategy.lint.study import Found, Study, called, name_in

if TYPE_CHECKING:
    from faultree.library.model import Cause, Check, Entry, Item, Library

# fmt: off
ACTIONS = frozenset({
    "actuate", "advance", "apply", "arm", "charge", "cycle", "deploy", "depressurise", "depressurize",
    "discharge", "drive", "energise", "energize", "engage", "extend", "feed", "fill", "jack", "lift", "lower",
    "move", "operate", "overspeed", "power", "pressurise", "pressurize", "pull", "push", "raise", "release",
    "retract", "rotate", "run", "select", "spin", "start", "stow", "swing", "switch", "turn", "unlock",
})
# fmt: on
"""First words of a title that say that something is moved, powered or put under pressure."""

STATES = re.compile(
    r"^measure .*\b(?:voltage|current|output|pressure)\b|"
    r"\b(?:(?:pressure|power|hydraulics?|pumps?) on|under (?:\w+ )?(?:pressure|power)|on jacks|"
    r"engines? (?:is |are )?running)\b",
    re.IGNORECASE,
)
"""Words of a title or a question that say that pressure, power or load is there."""

DANGEROUS = re.compile(
    r"\b(?:hydraulic|pneumatic|pressure|actuator|accumulator|pump|valve|cylinder|motor|brake|spring|battery|"
    r"drive|gearbox|bottle)s?\b",
    re.IGNORECASE,
)
"""Names of items that hold energy of their own."""

MOSTLY = 0.5
"""An item that is bad with this probability or more is more often bad than good."""

NAMED = ("conditions", "situations", "items", "causes", "signals", "events", "access", "checks", "symptoms")


def no_caution(study: Study) -> Iterator[Found]:
    """Checks, access and items that seem to need a caution, and have none of their own, their situation or access."""
    library = study.library
    for check in library.checks.values():
        reason = None if _warned(library, check) else _danger(library, check)
        if reason:
            yield Found(check, f"{called(check)} {reason}, and no caution is shown before it", _ADD)
    for access in library.access.values():
        if not access.cautions and _first_word(access) in ACTIONS:
            yield Found(access, f"{called(access)} moves or powers something, and no caution is shown before it", _ADD)
    for item in library.items.values():
        found = DANGEROUS.search(item.title)
        if found and not _warned(library, item):
            message = f"{called(item)} is replaced without a caution, and its title says '{found.group()}'"
            yield Found(item, message, _ADD)


_ADD = "add 'cautions', or say under 'x-quiet' why it needs none"


def _warned(library: Library, entry: Check | Item) -> bool:
    """Whether any caution is shown before an entry."""
    situation = library.situations.get(getattr(entry, "situation", None) or "")
    opened = any(library.access[name].cautions for name in entry.access)
    return bool(entry.cautions or opened or (situation and situation.cautions))


def _danger(library: Library, check: Check) -> str | None:
    """Why a check seems to need a caution; what a crew remembers needs none."""
    if _first_word(check) in ACTIONS:
        return f"says '{_first_word(check)}'"
    found = STATES.search(f"{check.title}\n{check.ask}")
    if found:
        return f"says '{found.group()}'"
    unusual = _unusual(library, check.situation)
    if unusual and check.by != "crew":
        return f"is made where {name_in(check, unusual)} is not as usual"
    return None


def _unusual(library: Library, situation: str | None) -> str | None:
    """The first condition that a situation sets away from its usual value."""
    settings = library.settings(situation)
    return next((name for name, one in library.conditions.items() if settings[name] != one.usually), None)


def _first_word(entry: Entry) -> str:
    return entry.title.partition(" ")[0].casefold()


def no_manual(study: Study) -> Iterator[Found]:
    """Checks, and what is replaced or put right, without a reference to the approved manual."""
    library = study.library
    alone = [cause for cause in library.causes.values() if cause.item is None]
    entries: Iterable[Check | Item | Cause] = (*library.items.values(), *alone, *library.checks.values())
    for entry in entries:
        if not entry.manual:
            yield Found(entry, f"{called(entry)} has no reference to the manual", "add 'manual: ...'")


def mostly_bad(study: Study) -> Iterator[Found]:
    """Items and causes whose likelihoods say that they are more often bad than good."""
    for root in study.frame.prior.roots:
        chance = fsum(root.probabilities[1:])
        if chance >= MOSTLY:
            entry = (study.library.items if root.is_item else study.library.causes)[root.unit]
            message = f"{called(entry)} is bad with a probability of {percent(chance)}"
            yield Found(
                entry, message, "lower the likelihoods: they say how often it is bad when the symptom is reported"
            )


def one_hour(study: Study) -> Iterator[Found]:
    """Causes with a rate that counts for a single hour, as where `hours` was forgotten."""
    for cause in study.library.causes.values():
        if cause.likelihood.rate is not None and cause.likelihood.hours == 1.0:
            yield Found(
                cause,
                f"the rate of {called(cause)} counts for 1 hour",
                "give the flight hours since it was last known to be good: hours: 500",
            )


def bare_answer(study: Study) -> Iterator[Found]:
    """Checks whose title says whether something is so, while a bare yes or no answers another sentence, their `ask`."""
    for check in study.library.checks.values():
        bare = check.reads is not None and [one.text for one in check.answers] == ["Yes", "No"]
        if bare and check.ask and re.search(r"\bwhether\b", check.title):
            message = (
                f"the title of {called(check)} says 'whether', so a record in which 'No' stands behind it answers the "
                "title, while the answer was given to 'ask'"
            )
            yield Found(check, message, "word the answers, as in yes: It is lit, no: It is dark")


def title(study: Study) -> Iterator[Found]:
    """Titles that would not read within a sentence: with a full stop, or a capital that is no name's.

    A first word counts as no name where the library writes it small elsewhere and never with a capital
    within a text.
    """
    library = study.library
    entries: list[Entry] = [one for section in NAMED for one in getattr(library, section).values()]
    small, names = _spellings(library, entries)
    for entry in entries:
        first = re.match(r"[A-Z][a-z]+\b", entry.title)
        if entry.title.endswith((".", "!", "?")):
            message = f"the title of {called(entry)} ends with '{entry.title[-1]}'"
            yield Found(entry, message, "leave it out: titles are shown within sentences")
        elif first and first.group().casefold() in small and first.group() not in names:
            message = f"the title of {called(entry)} begins with a capital: '{first.group()}'"
            yield Found(entry, message, f"write '{first.group().lower()}': titles are shown within sentences")


def _spellings(library: Library, entries: Iterable[Entry]) -> tuple[set[str], set[str]]:
    """Words that are written small somewhere, and words with a capital that do not begin a text or a sentence."""
    texts = [entry.title for entry in entries]
    texts += [check.ask for check in library.checks.values()]
    texts += [system.summary for system in library.systems.values()]
    small = {word for text in texts for word in re.findall(r"\b[a-z]+\b", text)}
    names = {word for text in texts for word in re.findall(r"(?<=[a-z,;] )[A-Z][a-z]+\b", text)}
    return small, names
