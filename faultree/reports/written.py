"""The debrief sheet as text: one self-contained HTML page, PDF, Markdown, or plain data."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import PurePath
from typing import Literal

from faultree.base.errors import FaultreeError
from faultree.reports.pages import TEMPLATES, in_md, rendered
from faultree.reports.pictures import Picture
from faultree.reports.sheet import MADE, Bar, DebriefSheet, Proposal, Words
from faultree.reports.timeline import Happened

Paper = Literal["a4", "us-letter"]

FORMATS = ("html", "pdf", "md", "json")

NO_PDF = "PDF needs the 'typst' package: pip install 'faultree[pdf]'; any browser prints the .html"


class ReportError(FaultreeError):
    """A report cannot be written as it was asked for; the message says what to ask for instead."""


def format_of(name: str) -> str:
    """The format that a file's ending asks for; raises ReportError for an ending that is none.

    >>> format_of("case-7.HTML")
    'html'
    """
    ending = PurePath(name).suffix.casefold().removeprefix(".")
    ending = {"htm": "html", "markdown": "md"}.get(ending, ending)
    if ending not in FORMATS:
        raise ReportError(f"'{name}' ends in no format of a sheet; end it in one of {', '.join(FORMATS)}")
    return ending


def written(sheet: DebriefSheet, form: str, pictures: Sequence[Picture] = (), paper: Paper = "a4") -> bytes:
    """The sheet in a format; the pictures are for HTML and PDF. Raises ReportError."""
    if form == "html":
        return html(sheet, pictures).encode()
    if form == "pdf":
        return pdf(sheet, pictures, paper)
    if form == "md":
        return markdown(sheet).encode()
    return (json.dumps(sheet.to_dict(), indent=2, ensure_ascii=False) + "\n").encode()


def html(sheet: DebriefSheet, pictures: Sequence[Picture] = ()) -> str:
    """One page that needs nothing but itself; every text of an author or a crew is escaped."""
    return rendered("sheet.html.j2", sheet=sheet, pictures=pictures)


def pdf(sheet: DebriefSheet, pictures: Sequence[Picture] = (), paper: Paper = "a4") -> bytes:
    """The sheet as PDF with its fonts embedded; each drawing stands on a page of its own. Raises ReportError."""
    try:
        import typst
    except ImportError as error:
        raise ReportError(NO_PDF) from error
    inputs = {"sheet": json.dumps(_for_paper(sheet, pictures), ensure_ascii=False), "paper": paper}
    try:
        made = typst.compile(str(TEMPLATES / "sheet.typ"), format="pdf", sys_inputs=inputs, timestamp=_seconds(sheet))
    except RuntimeError as error:
        raise ReportError(f"the page could not be typeset: {str(error)[:300]}") from error
    return bytes(made)


def _for_paper(sheet: DebriefSheet, pictures: Iterable[Picture]) -> dict[str, object]:
    """What the template of the PDF is filled with."""
    shown = {name: getattr(sheet, name) for name in ("identity", "findings_title", "suspects_title", "mark_said")}
    drawn = [{**_words(asdict(one) | {"svg": ""}), "svg": one.svg, "lying": _is_wide(one.svg)} for one in pictures]
    return {**_words(sheet.to_dict() | shown), "pictures": drawn}


def _seconds(sheet: DebriefSheet) -> int:
    """The moment when the sheet was made, as the PDF keeps it: seconds since 1970."""
    return int(datetime.strptime(sheet.made, MADE).replace(tzinfo=UTC).timestamp())


LONGEST_WORD = 24
"""Signs of a word that stand together; a longer one may be broken, so that it stays on the paper."""


def _words(data: dict[str, object]) -> dict[str, object]:
    """The same plain data with words that may be broken."""
    return {key: _breakable(one) for key, one in data.items()}


def _breakable(value: object) -> object:
    """The same plain data, in which a word too long for a line may be broken anywhere."""
    if isinstance(value, dict):
        return {key: _breakable(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [_breakable(one) for one in value]
    return _LONG.sub(lambda found: "\u200b".join(found[0]), value) if isinstance(value, str) else value


_LONG = re.compile(rf"\S{{{LONGEST_WORD},}}")


def _is_wide(drawing: str) -> bool:
    """Whether an SVG is wider than high, so that it is better drawn on a page that lies."""
    box = re.search(r'viewBox="[\d.+-]+ [\d.+-]+ ([\d.]+) ([\d.]+)"', drawing)
    return box is not None and float(box[1]) > 0.9 * float(box[2])


def markdown(sheet: DebriefSheet) -> str:
    """The sheet as Markdown."""
    return "\n".join(_lines(sheet)) + "\n"


def _lines(sheet: DebriefSheet) -> Iterator[str]:
    yield f"# Case {sheet.number}: {sheet.state}"
    yield ""
    if sheet.invented:
        yield "**Invented for demonstration: no such aircraft, airline or flight exists.**"
        yield ""
    yield from (f"- {label}: {in_md(words)}" for label, words in sheet.flight)
    yield from _part(
        "What the crew said",
        (f"“{in_md(s.words)}”{_later(s)}: {in_md(s.meant)}" for s in sheet.squawks),
    )
    yield from _part(
        sheet.findings_title,
        (f"**{in_md(one.said)}**{_beside(', '.join(filter(None, (one.when, one.who))))}" for one in sheet.findings),
    )
    yield from _part(sheet.suspects_title, map(_suspect, sheet.suspects))
    if sheet.more:
        yield f"- {sheet.more}"
    if sheet.scale:
        yield from ("", in_md(sheet.scale))
    yield from _part("What was done (times in UTC)", map(_happened, sheet.timeline))
    excluded = [f"{in_md(one.title)}: {in_md(one.reason)}" for one in sheet.excluded]
    more = [f"and {sheet.more_excluded} more"] if sheet.more_excluded else []
    yield from _part("Excluded, and why", iter([*excluded, *more] or ["Nothing yet."]))
    yield from _part("Not known", map(in_md, sheet.open_points))
    if sheet.proposals:
        yield from ("", "## Next, best first", "")
        for number, one in enumerate(sheet.proposals, 1):
            yield from _step(number, one)
    yield from ("", "## For the licensed person; not signed by faultree", "")
    for label in ("Work done, or reference to approved data", "Date of completion", "Name of whoever did the work",
                  "Certificate number and kind", "Signature", "Return to service, if granted"):  # fmt: skip
        yield f"- {label}: ____________________"
    yield ""
    yield f"**{sheet.notice}**"
    yield from (f"\n{in_md(one)}" for one in sheet.authority)
    yield f"\nMade {sheet.made} by faultree. Record {sheet.key}."


def _suspect(one: Bar) -> str:
    found = f" (**{one.found}**)" if one.found else ""
    return f"{one.said}: {in_md(one.title)}{found}{_beside(one.place, one.manual, one.alone)}"


def _happened(one: Happened) -> str:
    who = f" ({in_md(one.who)})" if one.who else ""
    return f"{one.shown} {in_md(one.said)}{who}"


def _step(number: int, one: Proposal) -> Iterator[str]:
    """A step as an entry of a numbered list, its cautions first."""
    facts = [one.by, one.takes, *([in_md(one.manual)] if one.manual else [])]
    first = f"; first: {'; '.join(map(in_md, one.access))}" if one.access else ""
    said = [f"{care.level.upper()}: {in_md(care.text)}" for care in one.cautions]
    lines = [*said, f"**{in_md(one.title)}** ({', '.join(facts)}{first})"]
    for place, line in enumerate(lines):
        yield f"{number}. {line}" if place == 0 else f"   {line}"


def _part(title: str, lines: Iterator[str] | map[str]) -> Iterator[str]:
    found = list(lines)
    if found:
        yield from ("", f"## {title}", "")
        yield from (f"- {line}" for line in found)


def _later(one: Words) -> str:
    return f", corrected to “{in_md(one.later)}”" if one.later else ""


def _beside(*words: str) -> str:
    said = "; ".join(in_md(one) for one in words if one)
    return f" ({said})" if said else ""
