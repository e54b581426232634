"""The key as a page: one file of HTML, Markdown with drawings beside it, or text, each with cautions and notice."""

from __future__ import annotations

import base64
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from defusedxml.ElementTree import fromstring

from faultree.library.load import load_texts
from faultree.practice.key import AnswerKey, answer_key
from faultree.practice.scenario import scenario
from faultree.reports.practice_key import drawing_pages, drawing_text, html, markdown, plain
from tests.practice.small import GATE, gate


@pytest.fixture(scope="module")
def key() -> AnswerKey:
    made = replace(scenario(gate(), "still", 1, 1), hidden=frozenset({"g/pump-worn"}))
    return answer_key(gate(), made)


@pytest.fixture(scope="module")
def pages(key: AnswerKey) -> tuple[str, ...]:
    return drawing_pages(key)


class _Balanced(HTMLParser):
    """Notes every element that is opened, and that each is closed in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if tag not in ("meta", "img"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def test_the_html_is_whole_and_needs_nothing_else(key: AnswerKey, pages: tuple[str, ...]) -> None:
    text, parser = html(key, pages), _Balanced()
    parser.feed(text)
    assert not parser.open
    assert not re.search(r"(src|href)=\"(?!data:)|<script|@import|url\(", text)
    images = [attributes for tag, attributes in parser.seen if tag == "img"]
    assert [one["alt"] for one in images] == [
        f"Fault tree, sheet {n} of {len(pages)}; the steps above say the same in words"
        for n in range(1, len(pages) + 1)
    ]
    drawn = base64.b64decode((images[0]["src"] or "").partition("base64,")[2])
    assert "The gate does not move" in "".join(fromstring(drawn).itertext())


def test_every_form_has_the_answer_the_cautions_before_their_steps_and_the_notice(
    key: AnswerKey, pages: tuple[str, ...]
) -> None:
    for text in (html(key, pages), markdown(key, ["key-1.svg"]), plain(key, drawing_text(key))):
        flat = " ".join(text.split())
        for words in ("Pump worn", "licensed engineer", "Keep it from the trainees", "Ruled out: Motor dead."):
            assert words in flat
        body = flat[flat.index("The best strategy</h2>" if "</h2>" in flat else "The best strategy") :]
        assert body.index("WARNING") < body.index("Read the gauge: No")


def test_markdown_names_its_drawings(key: AnswerKey) -> None:
    text = markdown(key, ["key-1.svg", "key-2.svg"])
    assert "![Fault tree, sheet 2](key-2.svg)" in text
    assert re.findall(r"^\d+\. ", text, re.MULTILINE) == ["1. ", "2. ", "3. "]


def test_text_stays_within_80_columns(key: AnswerKey) -> None:
    assert max(map(len, plain(key, drawing_text(key)).splitlines())) <= 80


def test_words_of_authors_are_words_only() -> None:
    """Neither HTML nor Markdown of a title is obeyed."""
    library = load_texts({"g.yaml": GATE.replace("Motor dead", '"<b>*dead*</b> | [x](y)"')})
    made = replace(scenario(library, "still", 1, 1), hidden=frozenset({"g/motor-dead"}))
    key = answer_key(library, made)
    assert "<b>" not in html(key, ())
    assert "&lt;b&gt;*dead*" in html(key, ())
    assert r"\<b\>\*dead\*" in markdown(key)
