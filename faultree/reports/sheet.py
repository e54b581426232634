"""The debrief sheet as a value: everything about a case that the line needs, read at a glance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from datetime import datetime

from faultree.base.errors import Contradiction
from faultree.base.words import and_more, percent
from faultree.journal import terms
from faultree.journal.records import Record, Squawk
from faultree.journal.stage import unmatched
from faultree.library.model import CautionLevel, Library
from faultree.reports.fit_now import called, symptoms_now, walk_now
from faultree.reports.outcome import Outcome, outcomes
from faultree.reports.timeline import Happened, timeline
from faultree.strategy.case import Case
from faultree.walk import cautions, judge, titles
from faultree.walk.effort import brief
from faultree.walk.prompt import NOTICE
from faultree.walk.scale import scale
from faultree.walk.state import RepairStep, Walk
from faultree.walk.suspects import ever_pointed_to
from faultree.walk.today import Today

SUSPECTS = 6
"""So many suspects have a bar."""

NEXT = 3
"""So many next steps are proposed."""

EXCLUDED = 8
"""So many excluded causes are named with their reason."""

UNASKED = 3
"""So many questions are named that the crew has not been asked."""

GOES_ON = ("open", "deferred", "handed over")
"""States in which somebody is still to look for the fault."""

UNFIT = "fits no symptom of the tree"
UNSAID = "nobody has said yet what this means in the tree"
"""What stands below the words of a squawk that means no report."""

LINE, CREW = Today(("line", "shop")), Today(("crew",))

MADE = "%Y-%m-%d %H:%M UTC"
"""How the moment is written at which a sheet was made."""

GONE = 1e-12


@dataclass(frozen=True, slots=True)
class Words:
    """One squawk: as the crew said it, the report that it means, and a later wording.

    Where it means none, `meant` says whether none fits or nobody was asked yet; `symptom`, the
    report's id, is then empty.
    """

    words: str
    meant: str
    later: str = ""
    symptom: str = ""


@dataclass(frozen=True, slots=True)
class Bar:
    """A suspect with its probability now and before any answer, and where and in which manual it is.

    `found` is what became of it since ("confirmed", "no fault found"), `alone` its probability by the author's
    figures, where history is in use; both are empty otherwise.
    """

    title: str
    cause: str
    probability: float
    before: float
    said: str
    place: str
    manual: str
    found: str = ""
    alone: str = ""


@dataclass(frozen=True, slots=True)
class Care:
    """A caution of a step."""

    level: CautionLevel
    text: str


@dataclass(frozen=True, slots=True)
class Proposal:
    """A next step for the line: what to do, by whom, what it takes, its manual, and its cautions first."""

    title: str
    by: str
    takes: str
    access: tuple[str, ...]
    manual: str
    cautions: tuple[Care, ...]


@dataclass(frozen=True, slots=True)
class Excluded:
    """A cause that was open and is not any more, and the answer that ruled it out."""

    title: str
    reason: str


@dataclass(frozen=True, slots=True)
class DebriefSheet:
    """A case on one page; every text is ready to be shown as it stands.

    Its `number` is that in this journal, its `key` the same in every one.
    """

    number: int
    key: str
    state: str
    made: str
    flight: tuple[tuple[str, str], ...]
    squawks: tuple[Words, ...]
    timeline: tuple[Happened, ...]
    suspects: tuple[Bar, ...]
    more: str
    excluded: tuple[Excluded, ...]
    more_excluded: int
    proposals: tuple[Proposal, ...]
    findings: tuple[Outcome, ...]
    open_points: tuple[str, ...]
    authority: tuple[str, ...]
    scale: str
    invented: bool
    notice: str = NOTICE

    @property
    def identity(self) -> str:
        """The case and its flight in a few words, for what may be parted from the first page."""
        return ", ".join([f"Case {self.number}", *(words for label, words in self.flight if label in IDENTITY)])

    @property
    def ended(self) -> bool:
        """Whether nobody looks for the fault any more, so that what was found comes before what was likely."""
        return self.state not in GOES_ON

    @property
    def findings_title(self) -> str:
        """The heading over the findings and how the case stands."""
        return "How it ended" if self.ended else "How it stands" if self.state != "open" else "Findings so far"

    @property
    def suspects_title(self) -> str:
        """The heading over the bars: of a case that has ended they are what was likely before."""
        return "What the checks alone leave likely" if self.ended else "Likeliest causes"

    @property
    def mark_said(self) -> str:
        """What the mark in a bar means."""
        history = ", by the same figures" if any(one.alone for one in self.suspects) else ""
        return f"The mark in a bar is where the suspect stood at the report{history}."

    def to_dict(self) -> dict[str, object]:
        """Plain data, safe for JSON."""
        return asdict(self)


IDENTITY = ("Aircraft", "Flight", "Day")


def debrief_sheet(library: Library, record: Record, made: datetime, author: Library | None = None) -> DebriefSheet:
    """The sheet of a case; what no longer fits the library is said among what is not known.

    `author` is the library before history changed its figures, where `library` is one that was taught.
    """
    walk, lost = walk_now(library, record)
    case = walk.case if walk else None
    suspects, more = _suspects(case, author) if case else ((), "")
    suspects = tuple(replace(one, found=_became(library, record, one.cause)) for one in suspects)
    excluded = tuple(_excluded(case)) if case else ()
    return DebriefSheet(
        number=record.head.id,
        key=record.head.key,
        state=record.head.state,
        made=made.strftime(MADE),
        flight=tuple(_flight(record)),
        squawks=tuple(_squawk(library, record, one) for one in record.squawks),
        timeline=tuple(timeline(record)),
        suspects=suspects,
        more=more,
        excluded=excluded[:EXCLUDED],
        more_excluded=max(len(excluded) - EXCLUDED, 0),
        proposals=tuple(_proposals(case)) if case and record.head.state in GOES_ON else (),
        findings=outcomes(library, record),
        open_points=(*lost, *_open_points(record, walk)),
        authority=tuple(
            dict.fromkeys(
                filter(None, (library.systems[n.partition("/")[0]].authority for n in symptoms_now(library, record)))
            )
        ),
        scale=scale(case) if case else "",
        invented=record.invented,
    )


def _flight(record: Record) -> Iterator[tuple[str, str]]:
    flight = record.head.flight
    for label, words in (
        ("Aircraft", flight.aircraft),
        ("Flight", flight.flight),
        ("Day", flight.day),
        ("Phase", flight.phase),
    ):
        if words:
            yield label, words
    if record.head.due:
        yield "Last day", record.head.due


def _squawk(library: Library, record: Record, one: Squawk) -> Words:
    meant = called(library, record, one.symptom) if one.symptom else _unmeant(record, one)
    return Words(one.words, meant, _later(record, one), one.symptom or "")


def _unmeant(record: Record, one: Squawk) -> str:
    return UNSAID if one.number in unmatched(record) else UNFIT


def _later(record: Record, one: Squawk) -> str:
    return (record.corrected(one.number) or ("",))[-1]


def _suspects(case: Case, author: Library | None) -> tuple[tuple[Bar, ...], str]:
    first = {one.cause: one.probability for one in Case.open(case.library, case.symptoms).ranking()}
    alone = _alone(case, author)
    pointed = [one for one in case.ranking() if one.implicated and one.probability > GONE]
    bars = tuple(
        Bar(
            titles.title(case.library, one.cause),
            one.cause,
            one.probability,
            first[one.cause],
            percent(one.probability),
            case.library.items[one.item].place if one.item else "",
            case.library.items[one.item].manual if one.item else case.library.causes[one.cause].manual,
            alone=f"{percent(alone[one.cause])} by the author's figures alone" if alone else "",
        )
        for one in pointed[:SUSPECTS]
    )
    rest = pointed[SUSPECTS:]
    return bars, and_more(len(rest), rest[0].probability, bars[-1].probability) if rest else ""


def _alone(case: Case, author: Library | None) -> dict[str, float]:
    """What each cause would come to without history; empty where none is in use."""
    if author is None or not case.library.history:
        return {}
    return {one.cause: one.probability for one in Case(author, case.symptoms, case.steps, case.limits).ranking()}


def _became(library: Library, record: Record, cause: str) -> str:
    """What was found of a cause or its unit; of several findings the last one counts, a confirmation before it."""
    unit = library.causes[cause].item or cause
    own = [one for one in record.findings if one.unit == unit and (one.cause in (None, cause))]
    said = [one for one in own if one.result == "confirmed"] or own
    return terms.result(said[-1].result) if said else ""


def _excluded(case: Case) -> Iterator[Excluded]:
    """The causes that were pointed to at some time and are excluded now, each with its reason."""
    now = {one.cause: one.probability for one in case.ranking()}
    for cause in ever_pointed_to(case):
        if now[cause] <= GONE:
            yield Excluded(titles.title(case.library, cause), " ".join(case.why(cause)[:1]))


def _proposals(case: Case) -> Iterator[Proposal]:
    library = case.library
    for count, one in enumerate(judge.sensible(case, LINE, quick=True)):
        if count == NEXT:
            return
        pending = judge.step_of(one)
        entry = library.items.get(pending.unit) if isinstance(pending, RepairStep) else library.checks[pending.check]
        access = entry.access if entry else ()
        named = (
            titles.unit_title(library, pending.unit)
            if isinstance(pending, RepairStep)
            else library.checks[pending.check].title
        )
        yield Proposal(
            title=f"Put right: {named}" if isinstance(pending, RepairStep) else named,
            by="line" if isinstance(pending, RepairStep) else library.checks[pending.check].by,
            takes=brief(one.minutes, repair=isinstance(pending, RepairStep)),
            access=tuple(library.access[name].title for name in access if name not in case.opened),
            manual=entry.manual if entry else library.causes[one.item or ""].manual,
            cautions=tuple(Care(caution.level, caution.text) for caution in cautions.before(case, pending)),
        )


def _unasked(case: Case) -> Iterator[str]:
    """The best questions that only the crew can answer and that have no reply yet."""
    for count, one in enumerate(judge.sensible(case, CREW, quick=True)):
        if count == UNASKED:
            return
        if one.check is not None:
            yield case.library.checks[one.check].title


def _left_out(record: Record, case: Case) -> Iterator[str]:
    """The reports of the record that the walk does not hold, and why."""
    for name in symptoms_now(case.library, record):
        if name not in case.symptoms:
            title = case.library.symptoms[name].title
            try:
                Case.open(case.library, [*case.symptoms, name])
            except Contradiction:
                yield f"Left out, as it cannot be true together with the rest: {title}."
            else:
                yield f"Not looked into yet: {title}."


def _open_points(record: Record, walk: Walk | None) -> Iterator[str]:
    """What is not known: reports without a tree, checks that could not be answered, what does not fit any more."""
    for one in record.squawks:
        if one.symptom is None:
            yield f"“{_later(record, one) or one.words}”: {_unmeant(record, one)}."
    if walk is not None and walk.case is not None:
        for step in walk.case.steps:
            if getattr(step, "answer", "") is None:
                yield f"Not answered: {titles.sentence(walk.library, step)}."
        if record.head.state in GOES_ON:
            yield from (f"The crew was not asked: {title}." for title in _unasked(walk.case))
        yield from _left_out(record, walk.case)
        yield from walk.changes
        if walk.conflict is not None:
            yield "The answers contradict each other, and that is not settled."
