"""Sheets of the journal: the list of cases, and one case with its log."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text

from faultree.base.words import listing
from faultree.journal import terms
from faultree.journal.records import Entry, Record
from faultree.library.model import Library
from faultree.reports.log import said
from faultree.reports.outcome import end_words, stamp
from faultree.terminal.look import Page, text
from faultree.terminal.parts import heading, indented, rows
from faultree.walk.prompt import SHORT_NOTICE
from faultree.walk.titles import title as name_of


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
    yield heading(f"Case {head.id}: {head.state}", page, stamp(head.opened))
    flight = head.flight
    if record.invented:
        yield text("Invented for demonstration: no such aircraft, airline or flight exists.", "yellow")
    facts = {
        "Aircraft": flight.aircraft,
        "Flight": flight.flight,
        "Day": flight.day,
        "Phase": flight.phase,
        "Due": head.due or "",
        "Record": head.key,
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
    if record.findings or record.former_findings:
        yield Text("Findings", "bold")
        for found in record.findings:
            yield rows([(f"{found.number:>2}", text(_finding(library, asdict(found))))], first=2)
        for found in record.former_findings:
            taken_back = Group(text(_finding(library, asdict(found))), text("withdrawn", "dim"))
            yield rows([(f"{found.number:>2}", taken_back)], first=2)
    yield Text("Log (times in UTC)", "bold")
    yield rows(
        ((Text(f"{one.at[:16].replace('T', ' ')}", "dim"), text(entry_words(library, one))) for one in record.entries),
        first=17,
    )
    yield text(SHORT_NOTICE, "yellow")


def _finding(library: Library | None, data: Mapping[str, object]) -> str:
    """A finding in words: "confirmed: pump worn (shop report)"."""
    how = f" ({data['how']})" if data.get("how") else ""
    return f"{terms.result(data.get('result'))}: {_named(library, data.get('cause') or data.get('unit'))}{how}"


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
    """What an entry of another kind holds: a state in words, else what it is behind the names of its fields."""
    data = entry.data
    if entry.kind == "state":
        return end_words(data, str(data.get("how") or ""), str(data.get("reference") or "")).removesuffix(".")
    told = ", ".join(f"{key} {value}" for key, value in data.items() if value not in ("", None))
    return f"{entry.kind}: {told}" if told else entry.kind
