"""The state of a case at the end of a debrief: what is likely, excluded and not known, and what the line does first."""

from __future__ import annotations

from collections.abc import Iterator

from rich.console import Group, RenderableType
from rich.text import Text

from faultree.journal.records import Record, Squawk
from faultree.library.model import Library
from faultree.reports.fit_now import called
from faultree.reports.sheet import DebriefSheet, Proposal
from faultree.terminal.look import Page, text, title
from faultree.terminal.parts import LEVEL_STYLES, heading, indented, rows

LIKELY = 5
"""So many suspects are named."""

EXCLUDED = 6
"""So many excluded causes are named with their reason; the sheet names more."""


def draw_state(sheet: DebriefSheet, page: Page) -> RenderableType:
    """The state of a case; what the sheet for the line says at length, on one screen."""
    return Group(*_parts(sheet, page))


def draw_case(library: Library, record: Record, page: Page) -> RenderableType:
    """Which case this is: its flight, and the crew's words with what they mean."""
    flight = record.head.flight
    facts = [one for one in (flight.aircraft, flight.flight, flight.day, flight.phase) if one]
    squawks = (
        (
            f"{one.number:>2}",
            Group(
                text(f"“{(record.corrected(one.number) or (one.words,))[-1]}”", "bold"), *_meant(library, record, one)
            ),
        )
        for one in record.squawks
    )
    invented = [Text("Invented for demonstration.", "yellow")] if record.invented else []
    told = [text(", ".join(facts))] if facts else []
    return Group("", heading(f"Case {record.head.id}", page), *invented, *told, rows(squawks, first=2))


def _meant(library: Library, record: Record, squawk: Squawk) -> Iterator[RenderableType]:
    if squawk.number in record.unmatched:
        yield Text("not asked yet what it means", "dim")
    elif squawk.symptom is None:
        yield Text("no report of the tree fits", "dim")
    else:
        yield title(called(library, record, squawk.symptom), "dim")


def _parts(sheet: DebriefSheet, page: Page) -> Iterator[RenderableType]:
    yield ""
    yield heading(f"The state of case {sheet.number}", page)
    if sheet.invented:
        yield Text("Invented for demonstration.", "yellow")
    yield Text("Likeliest", "bold")
    likely = (
        ("-", text(f"{one.title}, {one.said}{_behind(one.place, one.manual)}")) for one in sheet.suspects[:LIKELY]
    )
    yield rows(likely, first=1)
    yield Text("Excluded, and why", "bold")
    shown = sheet.excluded[:EXCLUDED]
    yield rows((("-", text(f"{one.title}: {one.reason}")) for one in shown), first=1)
    left = len(sheet.excluded) + sheet.more_excluded - len(shown)
    if left or not shown:
        yield indented(text(f"and {left} more" if left else "nothing yet", "dim"))
    yield Text("First for the line", "bold")
    for number, one in enumerate(sheet.proposals, 1):
        yield rows([(f"{number:>2}", Group(*_step(one)))], first=2)
    if not sheet.proposals:
        yield indented(text("no step that the tree knows of", "dim"))
    yield Text("Not known", "bold")
    yield rows((("-", text(one)) for one in sheet.open_points or ("no question was left open",)), first=1)
    yield from (text(one, "dim") for one in (*sheet.authority, sheet.scale) if one)
    yield Text(sheet.notice, "yellow")


def _step(one: Proposal) -> Iterator[RenderableType]:
    """A step with its cautions before it."""
    if one.cautions:
        yield rows(((Text(c.level.upper(), LEVEL_STYLES[c.level]), text(c.text)) for c in one.cautions), 7, indent=0)
    facts = ", ".join((one.by, one.takes, *([one.manual] if one.manual else [])))
    first = f"; first: {'; '.join(one.access)}" if one.access else ""
    yield Text.assemble(title(one.title, "bold"), text(f" ({facts}{first})", "dim"))


def _behind(*words: str) -> str:
    return "".join(f", {one}" for one in words if one)
