"""Trends as one HTML page: plots and tables of what the record of many cases shows."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from faultree.base.words import minutes, percent
from faultree.journal import terms
from faultree.journal.pace import Pace
from faultree.journal.records import Record
from faultree.journal.trends import Removals, Repeat, Untold
from faultree.library.model import Library
from faultree.reports.pages import rendered
from faultree.reports.plots import Row, bars, columns
from faultree.walk.prompt import NOTICE
from faultree.walk.titles import title as name_of

MOST = 12
"""So many rows of a plot are drawn; the table below has them all."""


@dataclass(frozen=True, slots=True)
class Trends:
    """Everything that the page shows, worked out before; `rule` says what counts as a repeat defect.

    `narrowed` says, in words, which cases of the journal were looked at; empty where it was all of them.
    """

    rule: str
    records: tuple[Record, ...]
    repeats: tuple[Repeat, ...]
    removals: tuple[Removals, ...]
    loose: tuple[tuple[str, int], ...]
    untold: tuple[Untold, ...]
    paces: tuple[Pace, ...]
    narrowed: tuple[str, ...] = ()


NO_FAULT = f"Looked into, and {terms.NO_FAULT}"

COUNTED = "Count and window of a repeat defect belong to the operator; a series that goes on is one line."

COMPARED = (
    "The cases count by the minutes that the tree gives their steps, the chart averages over the author's likelihoods: "
    "where other faults came in than the author thought, a mean may lie below what no chart can go below. A chart is "
    "looked for during a second, so its average may differ from run to run."
)
"""What has to be known where means are compared with charts."""


def trends_html(library: Library, trends: Trends, made: str) -> str:
    """The page; it needs nothing but itself, and every text of an author or a crew is escaped."""
    invented = sum(one.invented for one in trends.records)
    parts = [
        _part("Cases by month", columns("Cases by month", _months(trends.records))),
        _part(
            f"Repeat defects: {trends.rule}",
            "",
            ("aircraft", "what", "times", "from", "to", "cases", "at fault in them"),
            [_repeat(library, one) for one in trends.repeats],
        ),
        _removals(library, trends.removals),
        _paces(library, trends.paces),
        _part("Reports that no symptom fits", "", ("words", "case"), [(w, str(case)) for w, case in trends.loose]),
        _part(
            "Checks that could not be answered",
            "",
            ("check", "could not be told", "made"),
            [(name_of(library, one.check), str(one.untold), str(one.made)) for one in trends.untold],
        ),
    ]
    return rendered(
        "trends.html.j2",
        cases=len(trends.records),
        narrowed=trends.narrowed,
        invented=invented,
        parts=parts,
        counted=COUNTED,
        notice=NOTICE,
        made=made,
    )


def _part(
    title: str, plot: str, heads: Sequence[str] = (), rows: Sequence[Sequence[str]] = (), note: str = ""
) -> dict[str, object]:
    return {"title": title, "plot": Markup(plot), "heads": heads, "rows": rows, "note": note}


def _months(records: Sequence[Record]) -> list[Row]:
    counts = Counter((one.head.flight.day or one.head.opened)[:7] for one in records)
    return [Row(month, (float(count),), (str(count),)) for month, count in sorted(counts.items())[-12:]]


def _repeat(library: Library, one: Repeat) -> tuple[str, ...]:
    cases = ", ".join(map(str, one.cases))
    return (
        one.aircraft,
        name_of(library, one.what),
        str(len(one.cases)),
        one.first,
        one.last,
        cases,
        faulty(library, one),
    )


def faulty(library: Library, one: Repeat) -> str:
    """The units that were at fault in the cases of a repeat: "hydraulic flap motor (3 of 4)"."""
    of = len(one.cases)
    return ", ".join(f"{name_of(library, name)} ({count} of {of})" for name, count in one.units)


def share(one: Removals) -> str:
    """The share in which no fault was found, with its counts: "71 % (5 of 7)"."""
    of = one.confirmed + one.replaced + one.not_found
    return f"{percent(one.share_not_found)} ({one.not_found} of {of})"


def _removals(library: Library, removals: Sequence[Removals]) -> dict[str, object]:
    found = [one for one in removals if one.not_found]
    rows = [Row(name_of(library, one.unit), (one.share_not_found,), (share(one),)) for one in found[:MOST]]
    table = [(name_of(library, one.unit), *map(str, (one.confirmed, one.replaced, one.not_found))) for one in found]
    heads = ("unit", "confirmed", "put right", terms.NO_FAULT)
    plot = bars("Share of findings on a unit with no fault found", rows, top=1.0) if rows else ""
    return _part(NO_FAULT, plot, heads, table)


def _paces(library: Library, paces: Sequence[Pace]) -> dict[str, object]:
    compared = [(one, one.expected) for one in paces if one.expected is not None]
    rows = [
        Row(name_of(library, one.symptom), (one.mean, chart.minutes), (minutes(one.mean), minutes(chart.minutes)))
        for one, chart in compared[:MOST]
    ]
    table = [
        (
            name_of(library, one.symptom),
            str(one.cases),
            minutes(one.mean),
            minutes(one.expected.minutes) if one.expected else "no chart compiled",
            minutes(one.expected.least) if one.expected else "",
        )
        for one in paces
    ]
    heads = ("report", "cases", "mean until gone", "chart on average", "no chart below")
    plot = bars("Mean minutes, and those of the chart (hollow)", rows) if rows else ""
    note = f"Filled: the cases. Hollow: the compiled chart on average. {COMPARED}"
    return _part("Minutes until the symptom was gone", plot, heads, table, note)
