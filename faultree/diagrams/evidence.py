"""What a case has found, as a drawing shows it: bars for suspects, who is excluded, and what was observed where."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from faultree.base.words import percent
from faultree.belief.evidence import Reply
from faultree.diagrams.picture import State
from faultree.library.model import Check, Library, Ref
from faultree.logic.graph import build
from faultree.logic.simulate import evaluate, value_of
from faultree.logic.titles import denied, title_of
from faultree.strategy.case import Case
from faultree.walk import titles

FAINT = 0.001
"""A suspect below this recedes like an excluded one; its figure still says that it is not excluded."""

GONE = 1e-12
"""Below this a cause is excluded: what is left is rounding."""


class Observed(NamedTuple):
    """What a check showed of a node: its answer, and the one it gives with nothing wrong where that differs.

    `state` says what the answer means of the node, in the words of a fault tree ("system 2 not under pressure"), since
    a tree's node may say the opposite; `situation` is the one that the check was made in (full id).
    """

    seen: str
    expected: str
    state: str
    situation: str | None

    @property
    def odd(self) -> bool:
        """Whether it was observed other than expected."""
        return bool(self.expected)

    def answered(self, library: Library, home: str | None) -> str:
        """The answer in words, for a node that says what the check asks; `home` is the situation of the report."""
        words = f"seen{self._where(library, home)}: {self.seen}"
        return f"{words}; expected: {self.expected}" if self.odd else words

    def stated(self, library: Library, home: str | None) -> str:
        """What the node was, for a place that may say it or its opposite."""
        return f"seen{self._where(library, home)}: {self.state}, {'not ' if self.odd else ''}as expected"

    def _where(self, library: Library, home: str | None) -> str:
        if self.situation == home:
            return ""
        return f" ({library.situations[self.situation].title})" if self.situation else " (in the usual situation)"


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the steps of a case say; empty where there is no case. `replies` goes from check to answer.

    `symptoms` are all reports of the case: its probabilities rest on each.
    """

    probabilities: Mapping[str, float] = field(default_factory=dict)
    likeliest: str = ""
    observed: Mapping[str, Observed] = field(default_factory=dict)
    steps: tuple[str, ...] = ()
    replies: Mapping[str, str] = field(default_factory=dict)
    symptoms: tuple[str, ...] = ()

    @property
    def given(self) -> bool:
        """Whether there is a case at all."""
        return bool(self.probabilities)

    def state(self, cause: str) -> State:
        """What is to be shown of a cause."""
        if not self.given:
            return ""
        if cause == self.likeliest:
            return "path"
        return "suspect" if self.probabilities.get(cause, 0.0) >= FAINT else "cleared"

    def says(self, cause: str) -> str:
        """The probability of a cause in words; empty without a case."""
        if not self.given:
            return ""
        probability = self.probabilities.get(cause, 0.0)
        return "excluded" if probability < GONE else percent(probability)


NOTHING = Evidence()


def evidence_of(case: Case | None) -> Evidence:
    """The evidence of a case; none where there is no case."""
    if case is None:
        return NOTHING
    ranking = case.ranking()
    first = next((one.cause for one in ranking if one.implicated), "")
    return Evidence(
        probabilities={one.cause: one.probability for one in ranking},
        likeliest=first,
        observed=dict(_observed(case)),
        steps=tuple(titles.sentence(case.library, step) for step in case.steps),
        symptoms=case.symptoms,
        replies={step.check: step.answer for step in case.steps if isinstance(step, Reply) and step.answer},
    )


def _observed(case: Case) -> Iterator[tuple[str, Observed]]:
    """Each node that an answered check reads by itself, with what was seen and what a sound system shows."""
    library = case.library
    for step in case.steps:
        if isinstance(step, Reply) and step.answer is not None:
            check = library.checks[step.check]
            seen, usual = check.answer(step.answer), usual_answer(library, check)
            expected = "" if seen.id == usual else check.answer(usual).text
            for name in _nodes(check, seen.id):
                value = check.reads is None or seen.id == "yes"
                yield name, Observed(seen.text, expected, _state(library, name, value, expected), check.situation)


def _state(library: Library, name: str, value: bool, expected: str) -> str:
    """A node that was seen to be so or not so, in words."""
    entry = library.signals.get(name) or library.events.get(name)
    usual = value != bool(expected)
    if entry is not None:
        return title_of(entry, value, usual)
    return library.node(name).title if value else denied(library.node(name).title)


def _nodes(check: Check, answer: str) -> Iterator[str]:
    """The nodes that a check, or this answer of it, names directly."""
    if check.reads is not None:
        yield check.reads
        return
    when = check.answer(answer).when
    if isinstance(when, Ref):
        yield when.id


def usual_answer(library: Library, check: Check) -> str:
    """The id of the answer that a check gives while nothing is wrong."""
    graph = build(library)
    literals = [graph.literal_of(answer.when) for answer in check.answers]
    values = evaluate(graph, library.settings(check.situation), frozenset())
    return next(one.id for one, literal in zip(check.answers, literals, strict=True) if value_of(values, literal))
