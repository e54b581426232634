"""What was done in a case, line by line: the entries of its log that a reader of the sheet needs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from faultree.journal import terms
from faultree.journal.records import Record
from faultree.reports.log import said

HISTORY = "History is in use"
"""How the note begins that a debrief leaves where it ranked by history."""


@dataclass(frozen=True, slots=True)
class Happened:
    """A line of the log: the time (ISO 8601, UTC), the same as it is shown, what happened, and who wrote it."""

    at: str
    shown: str
    said: str
    who: str


def timeline(record: Record) -> Iterator[Happened]:
    """What happened, oldest first; the day is shown at the first line and wherever another one begins."""
    day = ""
    for entry in record.entries:
        words = _said(entry.kind, entry.data)
        if words:
            shown = entry.at[11:16] if entry.at[:10] == day else entry.at[:16].replace("T", " ")
            yield Happened(entry.at, shown, words, entry.who)
            day = entry.at[:10]


def _said(kind: str, data: Mapping[str, object]) -> str:
    """An entry of the log in words; empty for what a reader of the sheet does not need."""
    if kind == "event":
        return said(data)
    if kind == "note":
        text = str(data.get("text", ""))
        # The sheet says by itself what its figures rest on; of the debrief's own notice the first clause is enough.
        return text.partition(":")[0] if text.startswith(HISTORY) else text
    if kind == "corrected":
        return f"the words of squawk {data.get('squawk')} were corrected"
    if kind == "withdrawn":
        what = next((one for one in ("squawk", "finding") if one in data), "entry")
        because = f": {data['because']}" if data.get("because") else ""
        return f"{what} {data.get(what, '')} was withdrawn{because}"
    if kind == "state":
        reference = f" (reference: {data['reference']})" if data.get("reference") else ""
        because = f": {data['because']}" if data.get("because") else ""
        return f"{terms.state(data.get('state'))}{because}{reference}"
    return "the crew reported" if kind == "opened" else ""
