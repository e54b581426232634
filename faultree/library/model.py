"""The checked model of a library: frozen values with full ids, and nothing left to resolve."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Literal

from faultree.base.errors import UnknownName
from faultree.base.problem import Place
from faultree.base.words import near

GateKind = Literal["all", "any", "not", "none", "at_least", "one_of"]
CautionLevel = Literal["warning", "caution", "note"]
Who = Literal["crew", "line", "shop"]

BANDS: Mapping[str, float] = {
    "frequent": 0.03,
    "probable": 0.01,
    "occasional": 0.003,
    "remote": 0.001,
    "improbable": 0.0001,
}
"""Probability that faultree gives to each ordinal likelihood band (our own weights, see docs)."""

SAYS_ENOUGH = 3
"""An answer of so many words is taken to say by itself what was seen; a shorter one ("No", "Both") is not."""

NOWHERE = Place("<built in code>")


@dataclass(frozen=True, slots=True)
class Ref:
    """An operand that names a node by its full id."""

    id: str
    at: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Gate:
    """An operand that is a gate over further operands; `count` belongs to `at_least`.

    `not` has one operand. `all` of nothing is true, `any` of nothing is false.
    """

    kind: GateKind
    operands: tuple[Operand, ...]
    count: int = 0
    at: Place = field(default=NOWHERE, compare=False, repr=False)


Operand = Ref | Gate


def refs(operand: Operand) -> Iterator[Ref]:
    """Every node reference in an operand, in the order written."""
    if isinstance(operand, Ref):
        yield operand
    else:
        for inner in operand.operands:
            yield from refs(inner)


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """What every named thing of a tree file has: a full id (`file/id`), a title and a place."""

    id: str
    title: str
    at: Place = field(default=NOWHERE, compare=False, repr=False)
    extra: Mapping[str, object] = field(default_factory=dict, compare=False, repr=False)

    @property
    def system(self) -> str:
        """The id of the file that this entry stands in."""
        return self.id.partition("/")[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class System(Entry):
    """The head of one file; its id is the file's name without the ending."""

    summary: str = ""
    chapter: str = ""
    authority: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition(Entry):
    """A house event: a fact of the situation that is no fault."""

    usually: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation(Entry):
    """A named setting of conditions; `sets` already holds what `extends` inherits."""

    sets: Mapping[str, bool] = field(default_factory=dict)
    extends: str | None = None
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Item(Entry):
    """What is replaced or repaired; `minutes` is the time for that."""

    place: str = ""
    manual: str = ""
    minutes: float = 30.0
    access: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Likelihood:
    """How the author stated a likelihood; exactly one of the three ways is set."""

    probability: float | None = None
    rate: float | None = None
    hours: float = 1.0
    band: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause(Entry):
    """A basic event; `probability` is resolved from `likelihood` (and the library's bands)."""

    probability: float
    item: str | None = None
    likelihood: Likelihood = Likelihood()
    minutes: float = 30.0
    manual: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Signal(Entry):
    """Success logic: (follows and not any(lost_if)) or any(forced_if)."""

    follows: Operand | None = None
    lost_if: tuple[Operand, ...] = ()
    forced_if: tuple[Operand, ...] = ()
    undeveloped: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Event(Entry):
    """Failure logic: exactly one gate."""

    gate: Gate


@dataclass(frozen=True, slots=True, kw_only=True)
class Access(Entry):
    """Work that several checks share, paid once in a case; `afterwards` says how it is undone."""

    minutes: float = 5.0
    cautions: tuple[str, ...] = ()
    afterwards: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Entry):
    """A text shown before the step that needs it; `title` repeats `text`.

    `afterwards` says what has to be undone when the work is over, where the caution asks for locks, pins or tags.
    """

    text: str
    level: CautionLevel = "caution"
    afterwards: str = ""


@dataclass(frozen=True, slots=True)
class Answer:
    """One possible answer of a check and the operand that is true when it is the right one."""

    id: str
    text: str
    when: Operand
    extra: Mapping[str, object] = field(default_factory=dict, compare=False, repr=False)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Entry):
    """What can be looked at or asked.

    `answers` always holds every answer, in the author's order: for a check that `reads` a node
    they are `yes` and `no`. `confusion` gives P(answer given / answer that would be right).
    """

    ask: str = ""
    situation: str | None = None
    reads: str | None = None
    answers: tuple[Answer, ...]
    false_yes: float = 0.0
    false_no: float = 0.0
    error: float = 0.0
    minutes: float = 5.0
    access: tuple[str, ...] = ()
    by: Who = "line"
    cautions: tuple[str, ...] = ()
    manual: str = ""
    tools: tuple[str, ...] = ()
    note: str = ""

    def confusion(self, given: str, right: str) -> float:
        """P(the reply is `given` / `right` is the answer that holds)."""
        if self.reads is not None:
            wrong = self.false_no if right == "yes" else self.false_yes
            return 1.0 - wrong if given == right else wrong
        return 1.0 - self.error if given == right else self.error / (len(self.answers) - 1)

    def asked(self, answer: str | None = None) -> str:
        """What an answer (its id) answers, for a record: the title, with the question where the answer needs it.

        "Measure the coil: No" can mean either. So an answer of one or two words stands behind the question that
        was asked; None is "cannot tell", which says enough.
        """
        bare = answer is not None and len(self.answer(answer).text.split()) < SAYS_ENOUGH
        return f"{self.title}: {self.ask}" if bare and self.ask else self.title

    def answer(self, name: str) -> Answer:
        """The answer with this id; raises UnknownName with the nearest ones."""
        for one in self.answers:
            if one.id == name:
                return one
        options = [one.id for one in self.answers]
        raise UnknownName(f"answer of check '{self.id}'", name, near(name, options) or options)


@dataclass(frozen=True, slots=True, kw_only=True)
class Symptom(Entry):
    """A top event: what was reported. True when every node of `sees` has the value seen."""

    sees: tuple[tuple[str, bool], ...]
    words: tuple[str, ...] = ()
    situation: str | None = None
    false_report: float = 0.0
    retest: float = 10.0
    manual: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Expectation:
    """What an example claims of the ranking; ids are full."""

    first: str | None = None
    at_least: float = 0.0
    cleared: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Example:
    """A file's own test: symptoms and answers, and what the ranking must then say."""

    title: str
    symptoms: tuple[str, ...]
    answers: tuple[tuple[str, str], ...]
    expect: Expectation
    at: Place = field(default=NOWHERE, compare=False, repr=False)
    extra: Mapping[str, object] = field(default_factory=dict, compare=False, repr=False)


Node = Condition | Cause | Signal | Event


@dataclass(frozen=True, eq=False)
class Library:
    """All files of a folder joined into one graph; every mapping goes from full id to value.

    A library is compared and hashed by identity, so that compiled engines can be kept beside it.
    `digest` changes whenever a text of the library changes. `history` says in words which records its likelihoods
    were updated from, so that every result that rests on them can say it; empty where they are the author's own.
    """

    folder: str
    systems: Mapping[str, System]
    conditions: Mapping[str, Condition]
    situations: Mapping[str, Situation]
    items: Mapping[str, Item]
    causes: Mapping[str, Cause]
    signals: Mapping[str, Signal]
    events: Mapping[str, Event]
    access: Mapping[str, Access]
    cautions: Mapping[str, Caution]
    checks: Mapping[str, Check]
    symptoms: Mapping[str, Symptom]
    examples: tuple[Example, ...] = ()
    bands: Mapping[str, float] = field(default_factory=lambda: dict(BANDS))
    digest: str = ""
    history: str = ""

    def node(self, name: str) -> Node:
        """The condition, cause, signal or event with this full id; KeyError if there is none."""
        tables: tuple[Mapping[str, Node], ...] = (self.causes, self.signals, self.events, self.conditions)
        for table in tables:
            if name in table:
                return table[name]
        raise KeyError(name)

    def settings(self, situation: str | None) -> dict[str, bool]:
        """Every condition's value in a situation; None stands for each at its `usually`."""
        values = {name: condition.usually for name, condition in self.conditions.items()}
        if situation is not None:
            values.update(self.situations[situation].sets)
        return values

    def symptom_id(self, name: str) -> str:
        """The full id of a symptom given by its full id or a unique short one."""
        return find("symptom", self.symptoms, name)

    def check_id(self, name: str) -> str:
        """The full id of a check given by its full id or a unique short one."""
        return find("check", self.checks, name)

    def cause_id(self, name: str) -> str:
        """The full id of a cause given by its full id or a unique short one."""
        return find("cause", self.causes, name)

    def item_id(self, name: str) -> str:
        """The full id of an item given by its full id or a unique short one."""
        return find("item", self.items, name)


def find(kind: str, table: Mapping[str, object], name: str) -> str:
    """The key of `table` meant by a full or a short id; raises UnknownName with what comes close.

    >>> find("check", {"slats/lamp": 1, "flaps/lever": 2}, "lever")
    'flaps/lever'
    """
    if name in table:
        return name
    same = [full for full in table if full.partition("/")[2] == name]
    if len(same) == 1:
        return same[0]
    if same:
        raise UnknownName(kind, name, same, ambiguous=True)
    close = near(name, table)
    if not close and "/" not in name:
        shorts = {full.partition("/")[2]: full for full in table}
        close = [shorts[short] for short in near(name, shorts)]
    raise UnknownName(kind, name, close)
