"""Sheets of the journal: the list of cases, one case with its log, and trends."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import listing, minutes, percent
from faultree.journal.pace import Pace
from faultree.journal.records import Entry, Record
from faultree.journal.trends import Removals, Repeat
from faultree.library.model import Library
from faultree.reports.log import said
from faultree.reports.trends_page import Trends
from faultree.terminal.look import Page, text
from faultree.terminal.parts import heading, indented, rows
from faultree.walk.prompt import SHORT_NOTICE
from faultree.walk.titles import title as name_of

MOST = 12
"""So many rows of a trend are listed."""


def draw_cases(records: Sequence[Record], page: Page) -> RenderableType:
    """The cases, one row each."""
    if not records:
        return text("The journal holds no such case.")
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    for width in (5, 10, 9):
        table.add_column(width=width, overflow="fold")
    table.add_column(ratio=1, overflow="fold")
    table.add_column(width=14)
    table.add_row(*(Text(one, "dim") for one in ("case", "day", "aircraft", "words", "state")))
    for one in records:
        flight = one.head.flight
        words = "; ".join(squawk.words for squawk in one.squawks) or "(no words yet)"
        state = f"{one.head.state} {one.head.due or ''}".strip()
        table.add_row(
            Text(str(one.head.id), "bold"),
            flight.day or one.head.opened[:10],
            text(flight.aircraft),
            text(words),
            state,
        )
    parts = [heading("Cases", page, str(len(records))), indented(table)]
    return Group(*parts, *_invented(sum(one.invented for one in records)))


def _invented(count: int) -> Iterator[RenderableType]:
    """That some of what is shown was made for demonstration."""
    if count:
        said = "1 of them is" if count == 1 else f"{count} of them are"
        yield text(f"{said} invented for demonstration: no such airline or aircraft exists.", "yellow")


def draw_record(record: Record, page: Page, library: Library | None = None) -> RenderableType:
    """A case with its whole log, in the words of the library; without one, and for what it does not hold, by ids."""
    return Group(*_record(record, page, library))


def _named(library: Library | None, name: object) -> str:
    return name_of(library, str(name)) if library is not None else str(name)


def _record(record: Record, page: Page, library: Library | None) -> Iterator[RenderableType]:
    head = record.head
    yield heading(f"Case {head.id}: {head.state}", page, head.opened[:16].replace("T", " "))
    flight = head.flight
    if record.invented:
        yield text("Invented for demonstration: no such aircraft, airline or flight exists.", "yellow")
    facts = {
        "Aircraft": flight.aircraft,
        "Flight": flight.flight,
        "Day": flight.day,
        "Phase": flight.phase,
        "Due": head.due or "",
    }
    yield rows(((Text(label, "dim"), text(words)) for label, words in facts.items() if words), first=9)
    yield Text("Squawks", "bold")
    for one in record.squawks:
        meant = _named(library, one.symptom) if one.symptom else "none of the library's symptoms"
        if one.number in record.unmatched:
            meant = "not asked yet what it means"
        later = [text(f"corrected to “{words}”") for words in record.corrected(one.number)]
        said_first = text(f"“{one.words}”", "bold")
        yield rows([(f"{one.number:>2}", Group(said_first, *later, text(meant, "dim")))], first=2)
    for one in record.former_squawks:
        yield rows([(f"{one.number:>2}", Group(text(f"“{one.words}”"), text("withdrawn", "dim")))], first=2)
    if record.findings:
        yield Text("Findings", "bold")
        for found in record.findings:
            yield rows([(f"{found.number:>2}", text(_finding(library, asdict(found))))], first=2)
    yield Text("Log", "bold")
    yield rows(
        ((Text(f"{one.at[:16].replace('T', ' ')}", "dim"), text(entry_words(library, one))) for one in record.entries),
        first=17,
    )
    yield text(SHORT_NOTICE, "yellow")


def _finding(library: Library | None, data: Mapping[str, object]) -> str:
    """A finding in words: "confirmed: pump worn (shop report)"."""
    how = f" ({data['how']})" if data.get("how") else ""
    return f"{data.get('result')}: {_named(library, data.get('cause') or data.get('unit'))}{how}"


def entry_words(library: Library | None, entry: Entry) -> str:
    """An entry of the log in words, with who wrote it."""
    who = f" ({entry.who})" if entry.who else ""
    return _words(library, entry) + who


def _words(library: Library | None, entry: Entry) -> str:
    data = entry.data
    if entry.kind == "event":
        if "reports" in data:
            return _rests_on(library, data["reports"])
        return said(data) or ("the checks were begun" if "begun" in data else "the walk was kept")
    if entry.kind == "opened":
        return f"opened, with the tree files {str(data.get('library', ''))[:12]}"
    if entry.kind in ("squawk", "corrected"):
        lead = "squawk" if entry.kind == "squawk" else "the words of squawk"
        behind = "" if entry.kind == "squawk" else " are now"
        return f"{lead} {data.get('squawk')}{behind}: “{data.get('words')}”"
    if entry.kind == "matched":
        meant = data.get("symptom")
        return f"squawk {data.get('squawk')} means {_named(library, meant) if meant else 'none of the symptoms'}"
    if entry.kind == "finding":
        return f"finding {data.get('finding')}, {_finding(library, data)}"
    if entry.kind == "note":
        return f"noted: {data.get('text', '')}"
    if entry.kind == "crew":
        return "the crew has left" if data.get("left") else "the crew is back"
    return _withdrawn(data) if entry.kind == "withdrawn" else _told(entry)


def _rests_on(library: Library | None, reports: object) -> str:
    named = listing(_named(library, one) for one in reports) if isinstance(reports, list) else ""
    return f"the checks rest on: {named}" if named else "no report is left that the checks could rest on"


def _withdrawn(data: Mapping[str, object]) -> str:
    what = next((f"{one} {data[one]}" for one in ("squawk", "finding") if one in data), "something")
    because = f": {data['because']}" if data.get("because") else ""
    return f"{what} was withdrawn{because}"


def _told(entry: Entry) -> str:
    """What an entry of another kind holds: the state first, then the rest behind the names of the fields."""
    data = dict(entry.data)
    lead = f"the case is {data.pop('state')}" if "state" in data else entry.kind
    told = ", ".join(f"{key} {value}" for key, value in data.items() if value not in ("", None))
    return f"{lead}: {told}" if told else lead


def draw_trends(library: Library, trends: Trends, page: Page) -> RenderableType:
    """Every trend, the worst first."""
    cases = len(trends.records)
    parts: list[RenderableType] = [heading("Trends", page, f"{cases} case{'' if cases == 1 else 's'}")]
    parts += _invented(sum(one.invented for one in trends.records))
    parts += _part(f"Repeat defects: {trends.rule}", [_repeat(library, one) for one in trends.repeats])
    gone = [_removal(library, one) for one in trends.removals if one.not_found]
    parts += _part("Looked into, and nothing was wrong", gone)
    parts += _part(
        "Mean minutes until the symptom was gone, and what a chart takes", [_pace(library, one) for one in trends.paces]
    )
    parts += _part("Reports that no symptom fits", [f"“{words}” (case {case})" for words, case in trends.loose])
    parts += _part(
        "Checks that could not be answered",
        [f"{name_of(library, one.check)}: {one.untold} of {one.made} times" for one in trends.untold],
    )
    return Group(*parts, text("Count and window of a repeat defect belong to the operator.", "dim"))


def _pace(library: Library, one: Pace) -> str:
    times = f"{one.cases} case{'' if one.cases == 1 else 's'}"
    chart = "no chart compiled"
    if one.expected is not None:
        chart = f"the chart {minutes(one.expected.minutes)} (none below {minutes(one.expected.least)})"
    return f"{name_of(library, one.symptom)}: {minutes(one.mean)} in {times}; {chart}"


def _part(title: str, lines: Sequence[str]) -> list[RenderableType]:
    shown: list[RenderableType] = [Text(title, "bold")]
    shown += [rows([("-", text(one))], first=1) for one in lines[:MOST]] or [indented(Text("none"))]
    if len(lines) > MOST:
        shown.append(indented(text(f"and {len(lines) - MOST} more", "dim")))
    return shown


def _repeat(library: Library, one: Repeat) -> str:
    cases = ", ".join(map(str, one.cases))
    times = f"{len(one.cases)} times from {one.first} to {one.last} (cases {cases})"
    return f"{one.aircraft}: {name_of(library, one.what)}, {times}"


def _removal(library: Library, one: Removals) -> str:
    of = one.confirmed + one.replaced + one.not_found
    return f"{name_of(library, one.unit)}: {one.not_found} of {of} times ({percent(one.share_not_found)})"
