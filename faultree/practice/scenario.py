"""A scenario: what is hidden, what the crew said, and what the trainee may do about it."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from faultree.base.errors import CaseError
from faultree.library.model import Library
from faultree.practice import code
from faultree.practice.draw import Draw, Faults, draw_of, pick

LEVELS = {
    1: "one fault, or as few as it takes",
    2: "as in service: whatever the report and the likelihoods allow, mostly one fault",
    3: "two faults at once",
    4: "as in service, but the report itself may be wrong",
}

FALSE_REPORT = 0.3
"""At level 4 so many reports are wrong: what was reported is not there."""

HARMLESS = 0.5
"""Behind so many of the wrong reports is a fault that does not show what was reported; behind the others, none."""

PATIENCE = 1000
"""So many draws are made for one that shows the report; then it is a single fault that does."""

MOST_FAULTS = 3
"""So many faults at once are looked for where fewer never show a report; a report that takes more is not set."""


@dataclass(frozen=True, slots=True)
class Scenario:
    """One exercise: the same scenario on the same library plays the same way everywhere.

    `hidden` are the causes present, `there` whether the reported symptom is. `doubt` is the share of wrong
    reports that the trainee is told of. `seed` decides which answers are wrong where checks err.
    `closed` names checks that cannot be made, `limit` the minutes that the work may take (None: any).
    """

    symptom: str
    level: int
    seed: int
    words: str
    hidden: Faults
    there: bool = True
    doubt: float = 0.0
    closed: frozenset[str] = frozenset()
    limit: float | None = None
    library: str = ""
    code: str = ""


def scenario(library: Library, symptom: str, level: int, seed: int) -> Scenario:
    """The exercise of a symptom (full or short id), a level (1 to 4) and a seed; raises UnknownName or CaseError.

    Level 1 draws from P(F / report) among the sets of one fault, level 3 among those of two, level 2 among all;
    where so few never show the report, among the sets of as few as do.
    """
    name = library.symptom_id(symptom)
    if level not in LEVELS:
        raise CaseError(f"there is no level {level}; choose 1 to {max(LEVELS)}")
    seed %= code.SEEDS
    random = Random(f"{name} {level} {seed}")
    hidden, there = _hidden(library, name, level, random)
    return Scenario(
        symptom=name,
        level=level,
        seed=seed,
        words=_words(library, name, random),
        hidden=hidden,
        there=there,
        doubt=FALSE_REPORT if level == 4 else 0.0,
        library=library.digest,
        code=code.write(library, name, level, seed),
    )


def from_code(library: Library, text: str) -> Scenario:
    """The exercise of a code; raises CaseError where it is none, or belongs to another version of the library."""
    return scenario(library, *code.read(library, text))


def _hidden(library: Library, symptom: str, level: int, random: Random) -> tuple[Faults, bool]:
    draw = draw_of(library, symptom)
    if level in (1, 3):
        return draw.of_size(max(_fewest(draw), 2 if level == 3 else 1), random), True
    if level == 4 and random.random() < FALSE_REPORT:
        sets, chances = draw.harmless()
        harmless = random.random() < HARMLESS and sets
        return sets[pick(chances, random)] if harmless else frozenset(), False
    return _shown(draw, random), True


def _shown(draw: Draw, random: Random) -> Faults:
    """A fault set that shows the report, drawn with P(F / report).

    Where the author says that crews report this without cause (`false_report`), such sets are drawn too; they are
    passed over, because whether a report is true is a matter of the level.
    """
    for _ in range(PATIENCE):
        faults = draw.any(random)
        if draw.shows(faults):
            return faults
    return draw.of_size(_fewest(draw), random)


def _fewest(draw: Draw) -> int:
    """How many faults it takes to show the report."""
    return next((size for size in range(1, MOST_FAULTS) if draw.sized(size)[0]), MOST_FAULTS)


def _words(library: Library, symptom: str, random: Random) -> str:
    """What the crew said: one of the author's phrases, else the title."""
    entry = library.symptoms[symptom]
    return random.choice(entry.words) if entry.words else entry.title
