"""The debrief sheet as a value: everything about a case that the line needs, read at a glance."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime

from faultree.base.errors import Contradiction
from faultree.base.words import minutes, percent
from faultree.journal.records import Record, Squawk
from faultree.library.model import CautionLevel, Library
from faultree.reports.fit_now import called, symptoms_now, walk_now
from faultree.reports.log import said
from faultree.strategy.case import Case
from faultree.walk import cautions, judge, titles
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

LINE, CREW = Today(("line", "shop")), Today(("crew",))

GONE = 1e-12


@dataclass(frozen=True, slots=True)
class Words:
    """One squawk: as the crew said it, the report that it means (empty: none of the library's), and a later wording."""

    words: str
    meant: str
    later: str = ""


@dataclass(frozen=True, slots=True)
class Bar:
    """A suspect with its probability now and before any answer, and where and in which manual it is."""

    title: str
    probability: float
    before: float
    said: str
    place: str
    manual: str


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
    """A case on one page; every text is ready to be shown as it stands."""

    number: int
    state: str
    made: str
    flight: tuple[tuple[str, str], ...]
    squawks: tuple[Words, ...]
    timeline: tuple[tuple[str, str], ...]
    suspects: tuple[Bar, ...]
    more: str
    excluded: tuple[Excluded, ...]
    more_excluded: int
    proposals: tuple[Proposal, ...]
    findings: tuple[str, ...]
    open_points: tuple[str, ...]
    authority: tuple[str, ...]
    scale: str
    invented: bool
    notice: str = NOTICE

    def to_dict(self) -> dict[str, object]:
        """Plain data, safe for JSON."""
        return asdict(self)


def debrief_sheet(library: Library, record: Record, made: datetime) -> DebriefSheet:
    """The sheet of a case; what no longer fits the library is said among what is not known."""
    walk, lost = walk_now(library, record)
    case = walk.case if walk else None
    suspects, more = _suspects(case) if case else ((), "")
    excluded = tuple(_excluded(case)) if case else ()
    return DebriefSheet(
        number=record.head.id,
        state=record.head.state,
        made=made.strftime("%Y-%m-%d %H:%M UTC"),
        flight=tuple(_flight(record)),
        squawks=tuple(_squawk(library, record, one) for one in record.squawks),
        timeline=tuple(_timeline(record)),
        suspects=suspects,
        more=more,
        excluded=excluded[:EXCLUDED],
        more_excluded=max(len(excluded) - EXCLUDED, 0),
        proposals=tuple(_proposals(case)) if case and record.head.state == "open" else (),
        findings=tuple(_findings(library, record)),
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
    meant = called(library, record, one.symptom) if one.symptom else ""
    return Words(one.words, meant, (record.corrected(one.number) or ("",))[-1])


def _timeline(record: Record) -> Iterator[tuple[str, str]]:
    """The times (UTC, with the day where it is another than that of the entry before) and what happened."""
    day = record.head.opened[:10]
    for entry in record.entries:
        words = _said(entry.kind, entry.data)
        if words:
            who = f" ({entry.who})" if entry.who else ""
            yield entry.at[11:16] if entry.at[:10] == day else entry.at[:16].replace("T", " "), f"{words}{who}"
            day = entry.at[:10]


def _said(kind: str, data: Mapping[str, object]) -> str:
    """An entry of the log in words; empty for what a reader of the sheet does not need."""
    if kind == "event":
        return said(data)
    if kind == "note":
        return str(data.get("text", ""))
    if kind == "corrected":
        return f"the words of squawk {data.get('squawk')} were corrected"
    if kind == "state":
        return f"the case is {data.get('state')}"
    return "the crew reported" if kind == "opened" else ""


def _suspects(case: Case) -> tuple[tuple[Bar, ...], str]:
    first = {one.cause: one.probability for one in Case.open(case.library, case.symptoms).ranking()}
    pointed = [one for one in case.ranking() if one.implicated and one.probability > GONE]
    bars = tuple(
        Bar(
            titles.title(case.library, one.cause),
            one.probability,
            first[one.cause],
            percent(one.probability),
            case.library.items[one.item].place if one.item else "",
            case.library.items[one.item].manual if one.item else case.library.causes[one.cause].manual,
        )
        for one in pointed[:SUSPECTS]
    )
    rest = pointed[SUSPECTS:]
    return bars, f"and {len(rest)} more, none above {percent(rest[0].probability)}" if rest else ""


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
            takes=minutes(one.minutes),
            access=tuple(library.access[name].title for name in access if name not in case.opened),
            manual=entry.manual if entry else library.causes[one.item or ""].manual,
            cautions=tuple(Care(caution.level, caution.text) for caution in cautions.before(case, pending)),
        )


def _findings(library: Library, record: Record) -> Iterator[str]:
    words = {"confirmed": "confirmed", "replaced": "put right", "not found": "no fault found on"}
    for one in record.findings:
        how = f", by {one.how}" if one.how else ""
        who = f" ({one.who})" if one.who else ""
        yield f"{words[one.result]}: {titles.title(library, one.cause or one.unit)}{how}{who}"
    for entry in record.entries:
        if entry.kind == "state" and entry.data.get("state") == "deferred":
            yield (
                f"deferred: category {entry.data.get('category')}, {entry.data.get('days')} days from the day after "
                f"{entry.data.get('found')}; the last day is {entry.data.get('due')}. The operator's approved list "
                "governs"
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
            yield f"“{one.words}” fits no symptom of the tree."
    if walk is not None and walk.case is not None:
        for step in walk.case.steps:
            if getattr(step, "answer", "") is None:
                yield f"Not answered: {titles.sentence(walk.library, step)}."
        if record.head.state == "open":
            yield from (f"The crew was not asked: {title}." for title in _unasked(walk.case))
        yield from _left_out(record, walk.case)
        yield from walk.changes
        if walk.conflict is not None:
            yield "The answers contradict each other, and that is not settled."
