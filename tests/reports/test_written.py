"""The sheet in each format: nothing that a crew types becomes markup, and a normal case fits on one page."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import pytest

from faultree.journal import book
from faultree.journal.store import Store
from faultree.reports.pictures import Picture
from faultree.reports.sheet import DebriefSheet, debrief_sheet
from faultree.reports.written import ReportError, format_of, html, markdown, pdf, written
from tests.journal.cases import HOSTILE, debriefed, opened
from tests.walk.small import small

SVG_TEXT = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><rect width="10" height="10"/></svg>'

SVG = (Picture("the signal lamp stays dark", SVG_TEXT, "Only some are drawn."),)


@pytest.fixture
def mine(tmp_path: Path) -> Iterator[Store]:
    store = opened(tmp_path / "j.sqlite")
    yield store
    store.close()


def sheet(store: Store, words: tuple[str, ...] = ("lamp out",)) -> DebriefSheet:
    return debrief_sheet(small(), debriefed(store, words=words), datetime(2031, 5, 4, tzinfo=UTC))


class Elements(HTMLParser):
    """The elements of a page, its attributes, and its text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.links: list[str] = []
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.links += [value or "" for name, value in attrs if name in ("src", "href") or name.startswith("on")]

    def handle_data(self, data: str) -> None:
        self.text += data


def test_hostile_words_are_text_in_html(mine: Store) -> None:
    page = Elements(html(sheet(mine, HOSTILE)))
    assert "script" not in page.tags
    for words in HOSTILE:
        assert words in page.text


def test_the_page_needs_nothing_but_itself(mine: Store) -> None:
    page = Elements(html(sheet(mine), SVG))
    assert page.links == []
    assert "svg" in page.tags
    assert {"link", "img", "iframe", "script"}.isdisjoint(page.tags)


def test_hostile_words_are_text_in_markdown(mine: Store) -> None:
    lines = markdown(sheet(mine, HOSTILE)).splitlines()
    said = [line for line in lines if line.startswith("- “")]
    assert len(said) == len(HOSTILE)  # each on a line of its own
    assert "\\<script\\>" in said[0]
    assert "\\[link\\](x)" in said[1]
    assert not any(line.startswith("<") for line in lines)


def test_the_parts_of_the_markdown(mine: Store) -> None:
    text = markdown(sheet(mine))
    for part in ("## What the crew said", "## Likeliest causes", "## What was done", "## Not known",
                 "## Next, best first", "## For the licensed person; not signed by faultree"):  # fmt: skip
        assert part in text


@pytest.mark.parametrize("paper", ["a4", "us-letter"])
def test_a_normal_case_is_one_page_and_its_drawing_another(mine: Store, paper: str) -> None:
    pytest.importorskip("typst", reason="PDF needs the extra faultree[pdf]")
    from pypdf import PdfReader

    found = sheet(mine)
    size = "a4" if paper == "a4" else "us-letter"
    alone = PdfReader(BytesIO(pdf(found, (), size)))  # type: ignore[arg-type]
    assert len(alone.pages) == 1
    both = PdfReader(BytesIO(pdf(found, SVG, size)))  # type: ignore[arg-type]
    assert len(both.pages) == 2
    assert both.pages[1].mediabox.width > both.pages[1].mediabox.height
    high = (replace(SVG[0], svg=SVG_TEXT.replace("0 0 10 10", "0 0 10 40")),)
    tall = PdfReader(BytesIO(pdf(found, high, size)))  # type: ignore[arg-type]
    assert tall.pages[1].mediabox.width < tall.pages[1].mediabox.height


def test_every_page_of_the_pdf_says_whose_it_is_and_what_governs(mine: Store) -> None:
    """Two reports are two drawings; a page that comes off the others still names its case."""
    pytest.importorskip("typst", reason="PDF needs the extra faultree[pdf]")
    from pypdf import PdfReader

    found = PdfReader(BytesIO(pdf(sheet(mine), (SVG[0], replace(SVG[0], title="another", svg="")))))
    assert len(found.pages) == 3
    for page in found.pages:
        text = " ".join(page.extract_text().split())
        assert "Case 1, HM-VLA, HM 412, 2031-05-04" in text
        assert "they have the last word" in text
    assert "“another”, in short" in " ".join(found.pages[2].extract_text().split())
    assert found.metadata is not None
    assert found.metadata.creation_date == datetime(2031, 5, 4, tzinfo=UTC)


def test_the_block_to_sign_and_each_drawing_name_the_case(mine: Store) -> None:
    text = " ".join(Elements(html(sheet(mine), SVG)).text.split())
    assert text.count("Case 1, HM-VLA, HM 412, 2031-05-04") == 2
    assert "Only some are drawn." in text


def test_how_a_case_ended_comes_before_what_was_likely(mine: Store) -> None:
    record = debriefed(mine)
    book.find(mine, record.head.id, "signal/fuse", "not found", how="measured", who="MB")
    book.end(mine, record.head.id, "no fault found", data={"reference": "SM 33-41 rev 7"}, who="MB")
    found = debrief_sheet(small(), book.read(mine, record.head.id), datetime(2031, 5, 4, tzinfo=UTC))
    for text in (" ".join(Elements(html(found)).text.split()), markdown(found)):
        assert text.index("no fault found: signal fuse (measured)") < text.index("What the checks alone leave likely")
        assert text.index("Reference: SM 33-41 rev 7.") < text.index("What the checks alone leave likely")
        assert "2031-05-04 12:00 UTC, MB" in text


def test_a_sheet_names_the_record_by_the_key_that_is_the_same_in_every_journal(mine: Store) -> None:
    """A case that is read into another journal may get another number there."""
    record = debriefed(mine)
    found = debrief_sheet(small(), record, datetime(2031, 5, 4, tzinfo=UTC))
    for text in (Elements(html(found)).text, markdown(found)):
        assert f"Record {record.head.key}." in text
    assert json.loads(written(found, "json"))["key"] == record.head.key


def test_the_markdown_says_what_the_page_says(mine: Store) -> None:
    """Also that nothing was excluded, and what the likelihoods rest on."""
    text = markdown(sheet(mine))
    assert "- Nothing yet." in text.split("## Excluded, and why")[1]
    assert "Likelihood bands" in text
    assert "## What was done (times in UTC)" in text


def test_hostile_words_are_text_in_pdf(mine: Store) -> None:
    pytest.importorskip("typst", reason="PDF needs the extra faultree[pdf]")
    from pypdf import PdfReader

    text = "".join(page.extract_text() for page in PdfReader(BytesIO(pdf(sheet(mine, HOSTILE)))).pages)
    joined = "".join(text.replace("\u200b", "").split())
    for words in (HOSTILE[0], HOSTILE[4], HOSTILE[2][:60]):
        assert "".join(words.split()) in joined
    assert joined.count("x") >= 500


def test_a_word_without_end_stays_on_the_paper(mine: Store) -> None:
    """500 signs without a blank: no piece of text begins outside the page, and none is as long as the word."""
    pytest.importorskip("typst", reason="PDF needs the extra faultree[pdf]")
    from pypdf import PdfReader

    page = PdfReader(BytesIO(pdf(sheet(mine, ("x" * 500,))))).pages[0]
    said = page.extract_text().replace("\u200b", "")
    lines = [line for line in said.splitlines() if "xxxx" in line]
    assert len(lines) > 3
    assert max(map(len, lines)) < 150


def test_the_same_case_gives_the_same_bytes(mine: Store) -> None:
    found = sheet(mine)
    for form in ("html", "md", "json"):
        assert written(found, form, SVG) == written(found, form, SVG)
    assert json.loads(written(found, "json"))["number"] == found.number


def test_without_typst_it_is_said_what_to_do(mine: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "typst", None)
    with pytest.raises(ReportError, match="pip install 'faultree\\[pdf\\]'"):
        pdf(sheet(mine))


@pytest.mark.parametrize("name", ["case", "case.doc", "case.pdf.exe"])
def test_an_unknown_ending_is_refused(name: str) -> None:
    with pytest.raises(ReportError, match="ends in no format"):
        format_of(name)
