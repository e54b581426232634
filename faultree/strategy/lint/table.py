"""The table of rules: what each is called, how grave a breach is, and what it asks in one line."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, NamedTuple

from faultree.strategy.lint import answers, care, checks, effects, reports, structure

if TYPE_CHECKING:
    from faultree.base.problem import Level
    from faultree.strategy.lint.study import Found, Study


class Rule(NamedTuple):
    """One rule of meaning.

    `closed` marks a rule that concludes from what is nowhere in the library: it is only asked where
    every file could be read.
    """

    name: str
    level: Level
    meaning: str
    look: Callable[[Study], Iterable[Found]]
    closed: bool = False


RULES: tuple[Rule, ...] = (
    Rule("answers-overlap", "error", "two answers of a check are right at once", answers.overlap),
    Rule("answers-gap", "error", "no answer of a check is right", answers.gap),
    Rule("no-cause", "error", "no causes produce a symptom", reports.no_cause),
    Rule("always-there", "warning", "a symptom is there with nothing wrong", reports.always_there),
    Rule("unreachable", "warning", "no symptom and no check depends on a node", structure.unreachable, True),
    Rule("no-effect", "warning", "a cause changes nothing that is seen or checked", effects.no_effect, True),
    Rule("silent-check", "warning", "a check can never tell anything for any symptom", checks.silent_check, True),
    Rule("unrevealed", "warning", "no check tells of a cause", checks.unrevealed, True),
    Rule("no-caution", "warning", "a check or a replacement seems to need a caution", care.no_caution),
    Rule("no-manual", "warning", "a check or a replacement has no manual reference", care.no_manual),
    Rule("mostly-bad", "warning", "an item is more often bad than good", care.mostly_bad),
    Rule("same-effect", "advice", "two causes can never be told apart", effects.same_effect, True),
    Rule("nested-gates", "advice", "gates are nested more than one level deep", structure.nested_gates),
    Rule("same-words", "advice", "two symptoms list the same phrase of a crew", reports.same_words),
    Rule("no-example", "advice", "no example shows a symptom diagnosed", reports.no_example, True),
    Rule("unused", "advice", "nothing uses an item, a situation, an access or a caution", structure.unused, True),
    Rule("one-hour", "advice", "a rate counts for a single hour", care.one_hour),
    Rule("bare-answer", "advice", "a title says whether, and the answers are a bare yes and no", care.bare_answer),
    Rule("title", "advice", "a title does not read within a sentence", care.title),
)
"""Every rule, gravest first."""

UNDECIDED = "undecided"
"""The rule under which stands what the exact engine cannot decide; an advice."""

QUIET = "quiet"
"""The rule about silences that are wrong; an error."""

IDLE_QUIET = "idle-quiet"
"""The rule about silences that silence nothing; an advice."""
