"""What became of a case, for its sheet: each finding, and how it ended, with time, initials and reference."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from faultree.journal import terms
from faultree.journal.records import Entry, Record
from faultree.library.model import Library
from faultree.walk import titles

GOVERNS = "The operator's approved list governs."


@dataclass(frozen=True, slots=True)
class Outcome:
    """A finding, or how the case ended: `said` in words, and every particular by itself.

    `at` is the time (ISO 8601, UTC), `when` the same for a reader. Full ids; empty, or 0 days, where it does not apply.
    """

    at: str
    when: str
    who: str
    said: str
    result: str
    unit: str = ""
    cause: str = ""
    how: str = ""
    reference: str = ""
    category: str = ""
    days: int = 0
    found: str = ""
    due: str = ""


def outcomes(library: Library, record: Record) -> tuple[Outcome, ...]:
    """The findings, oldest first, and then how the case stands where it is not open."""
    return (*_findings(library, record), *_end(record))


def stamp(at: str) -> str:
    """A time of the journal for a reader.

    >>> stamp("2031-05-04T12:00:09+00:00")
    '2031-05-04 12:00 UTC'
    """
    return f"{at[:16].replace('T', ' ')} UTC"


def _findings(library: Library, record: Record) -> Iterator[Outcome]:
    for one in record.findings:
        word, title = terms.result(one.result), titles.title(library, one.cause or one.unit)
        how = f" ({one.how})" if one.how else ""
        yield Outcome(
            at=one.at,
            when=stamp(one.at),
            who=one.who,
            said=f"{word}: {title}{how}",
            result=word,
            unit=one.unit,
            cause=one.cause or "",
            how=one.how,
        )


def _end(record: Record) -> Iterator[Outcome]:
    """How the case came to stand as it does; before it a deferral whose last day still runs.

    Nothing for one that is open, however often it ended before.
    """
    ends = [one for one in record.entries if one.kind == "state"]
    deferred = [one for one in ends if one.data.get("state") == "deferred"]
    if record.head.due and record.head.state != "deferred" and deferred:
        yield _ended(record, deferred[-1])
    if record.head.state != "open" and ends and ends[-1].data.get("state") == record.head.state:
        yield _ended(record, ends[-1])


def _ended(record: Record, entry: Entry) -> Outcome:
    data = entry.data
    reference = str(data.get("reference") or "")
    how = "" if any(one.how == data.get("how") for one in record.findings) else str(data.get("how") or "")
    return Outcome(
        at=entry.at,
        when=stamp(entry.at),
        who=entry.who,
        said=end_words(data, how, reference),
        result=str(data.get("state")),
        how=how,
        reference=reference,
        category=str(data.get("category") or ""),
        days=_number(data.get("days")),
        found=str(data.get("found") or ""),
        due=str(data.get("due") or ""),
    )


def _number(value: object) -> int:
    return value if isinstance(value, int) else 0


def end_words(data: Mapping[str, object], how: str, reference: str) -> str:
    """How a case came to stand, in words, from the data of its entry.

    >>> end_words({"state": "handed over", "because": "shift ends"}, "", "SM 33")
    'the case was handed over: shift ends. Reference: SM 33.'
    """
    deferred = data.get("state") == "deferred"
    said = f"deferred{_limit(data)}" if deferred else terms.state(data.get("state"))
    because = f": {data['because']}" if data.get("because") else ""
    parts = [f"{said}{because} ({how})." if how else f"{said}{because}."]
    parts += [f"Reference: {reference}."] if reference else []
    parts += [GOVERNS] if deferred else []
    return " ".join(parts)


def _limit(data: Mapping[str, object]) -> str:
    """The limit of a deferral, as far as it is known."""
    days = _number(data.get("days"))
    category = f" under category {data['category']}" if data.get("category") else ""
    span = f" for {days} day{'' if days == 1 else 's'}" if days else ""
    after = f", counted from the day after {data['found']}" if data.get("found") else ""
    return f"{category}{span}{after}" + (f": the last day is {data['due']}" if data.get("due") else "")
