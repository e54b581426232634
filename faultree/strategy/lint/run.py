"""Runs every rule of meaning over a library, and its examples."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from faultree.base.problem import Problem
from faultree.strategy import examples
from faultree.strategy.lint import quiet
from faultree.strategy.lint.oracle import LIMITS
from faultree.strategy.lint.study import Study
from faultree.strategy.lint.table import RULES, UNDECIDED

if TYPE_CHECKING:
    from collections.abc import Iterator

    from faultree.belief.engine import Limits
    from faultree.library.model import Library
    from faultree.strategy.lint.quiet import Silence
    from faultree.strategy.lint.study import Found
    from faultree.strategy.lint.table import Rule

MOST_UNDECIDED = 5
"""So many questions that cannot be decided are listed of one rule."""


Step = Callable[[str, int, int], object]
"""Is told what is looked at now, and how many steps of how many are done."""


def lint(
    library: Library, *, whole: bool = True, limits: Limits = LIMITS, at: Step = lambda words, done, total: None
) -> tuple[Problem, ...]:
    """What is wrong with the meaning of a library, its examples included, by file, line and column.

    Without `whole` the library is the part of a larger one that could be read: rules that conclude
    from what is nowhere are left out, since it may be in the rest. `at` hears how far it is.
    """
    study = Study(library, limits)
    asked = [rule for rule in RULES if whole or not rule.closed]
    known = {(one.owner, one.rule): one for one in quiet.silences(library)}
    used: list[Silence] = []
    at("Running the examples", 0, len(asked) + 1)
    problems = [*quiet.wrong(library), *examples.run(library)]
    for rule, found in _found(study, asked, at):
        name = UNDECIDED if found.undecided else rule.name
        silences = quiet.silenced(found, name, known)
        used += silences
        if not silences:
            level = "advice" if found.undecided else rule.level
            problems.append(Problem(found.entry.at, found.message, found.hint, level, name))
    names = [rule.name for rule in asked] + ([UNDECIDED] if whole else [])
    problems += quiet.idle(known.values(), used, names)
    return tuple(sorted(problems, key=lambda one: (one.place.file, one.place.line, one.place.column)))


def _found(study: Study, rules: list[Rule], at: Step) -> Iterator[tuple[Rule, Found]]:
    for number, rule in enumerate(rules, 1):
        at(f"Checking the rule {rule.name}", number, len(rules) + 1)
        yield from ((rule, found) for found in _shortened(list(rule.look(study))))


def _shortened(found: list[Found]) -> Iterator[Found]:
    """What a rule found; of very many questions that it could not decide, only the first ones."""
    open_ones = [one for one in found if one.undecided]
    yield from (one for one in found if not one.undecided)
    yield from open_ones[:MOST_UNDECIDED]
    rest = open_ones[MOST_UNDECIDED:]
    if rest:
        yield rest[0]._replace(message=f"cannot be decided: {len(rest)} more questions like the ones before")
