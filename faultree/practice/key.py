"""The answer key of an exercise, for an instructor: what is hidden, and how the best strategy finds it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from faultree.base.words import capital, listing, minutes
from faultree.library.model import Caution, Library
from faultree.practice import care
from faultree.practice.exercise import Exercise, Taken, step_of
from faultree.practice.feedback import feedback
from faultree.practice.mark import mark
from faultree.practice.reference import reference
from faultree.practice.scenario import LEVELS, Scenario
from faultree.practice.view import told
from faultree.strategy.case import Case
from faultree.walk.prompt import NOTICE
from faultree.walk.titles import said, title


@dataclass(frozen=True, slots=True)
class KeyStep:
    """A step of the best strategy: cautions to be read first, what it is, what it shows, and what follows from that."""

    cautions: tuple[Caution, ...]
    title: str
    outcome: str
    minutes: float
    sentences: tuple[str, ...]

    @property
    def words(self) -> str:
        """The step with its outcome on one line."""
        return said(self.title, self.outcome)


@dataclass(frozen=True, slots=True)
class AnswerKey:
    """Everything on the key; `facts` are labels with words, `case` is the one before the last repair, to be drawn."""

    title: str
    facts: tuple[tuple[str, str], ...]
    steps: tuple[KeyStep, ...]
    case: Case
    notice: str = NOTICE


def answer_key(library: Library, scenario: Scenario) -> AnswerKey:
    """The key of a scenario."""
    best = reference(library, replace(scenario, limit=None))
    comments = feedback(best, mark(best)).comments
    steps = zip(best.steps, told(best), comments, strict=True)
    return AnswerKey(
        title=capital(library.symptoms[scenario.symptom].title),
        facts=tuple((label, capital(words)) for label, words in _facts(library, scenario, best)),
        steps=tuple(
            KeyStep(_cautions(taken), capital(shown.title), capital(shown.outcome), shown.minutes, comment.sentences)
            for taken, shown, comment in steps
        ),
        case=_known(best),
    )


def _known(best: Exercise) -> Case:
    """The case before the repair that ended it: what was put right is good afterwards, and no suspect any more."""
    last = best.steps[-1] if best.steps else None
    return last.before if last and last.outcome == "gone" else best.case


def _facts(library: Library, scenario: Scenario, best: Exercise) -> Iterator[tuple[str, str]]:
    symptom = library.symptoms[scenario.symptom]
    yield "Report", symptom.title
    yield "Crew", f"“{scenario.words}”"
    yield "Code", scenario.code or "none: set by hand"
    yield "Level", LEVELS.get(scenario.level, "set by hand")
    yield "Hidden", listing([title(library, one) for one in sorted(scenario.hidden)]) or "nothing"
    yield "Truth", "what was reported is there" if scenario.there else "what was reported is not there"
    if scenario.closed:
        yield "Not today", listing([title(library, one) for one in sorted(scenario.closed)])
    if scenario.limit is not None:
        more = "; the best strategy takes longer" if best.minutes > scenario.limit else ""
        yield "Time", f"the work may take {minutes(scenario.limit)}{more}"
    yield "Takes", f"{minutes(best.minutes)} for the best strategy"
    yield "Manual", symptom.manual or library.systems[symptom.system].authority or "none is named"


def _cautions(taken: Taken) -> tuple[Caution, ...]:
    return care.before(taken.before, step_of(taken))
