"""What is no YAML is put into words, the same ones by both parsers."""

from __future__ import annotations

from typing import Any

import pytest

from faultree.library.marked import FAST_LOADER, SAFE_LOADER
from tests.library.texts import Broken, broken, problems


@pytest.mark.parametrize("loader", [FAST_LOADER, SAFE_LOADER])
@pytest.mark.parametrize("mistake", broken("syntax"))
def test_every_mistake_is_named_with_place_and_remedy(mistake: Broken, loader: type[Any]) -> None:
    """An author reads the same words whichever parser is installed."""
    assert problems(mistake.fragment, loader=loader) == mistake.messages


def test_a_document_that_begins_with_a_space() -> None:
    """Only the first line stands apart, and the message names the first that does not fit it."""
    assert problems(b"  faultree: 1\ntitle: T\n")[-1] == (
        "a.yaml:2:1: this does not belong to what stands above; begin every section of the file in column 1"
    )


@pytest.mark.parametrize("loader", [FAST_LOADER, SAFE_LOADER])
@pytest.mark.parametrize("escape", [r"\q", r"\u12", r"\UFFFFFFFF", r"\ud800"])
def test_an_escape_that_is_no_character(escape: str, loader: type[Any]) -> None:
    """The parser in Python raises errors of its own on some of these, or lets half a character through."""
    (message,) = problems(f'summary: "{escape}"\n', loader=loader)
    assert message.startswith(("a.yaml:3:", "a.yaml: "))
    assert "escape" in message or "control character U+D800" in message


def test_a_directive_is_not_a_text() -> None:
    assert problems(b"%FAULTREE 1\n") == ["a.yaml:1:10: a line cannot begin with '%'; put the text in quotes"]


def test_a_question_mark_between_brackets() -> None:
    """The parser in C reads it as YAML 1.2 has it; the one in Python does not, and then the remedy fits."""
    text = "symptoms:\n  s: {title: is it on?, event: e}\n"
    assert not any("'?'" in one for one in problems(text, loader=FAST_LOADER))
    if FAST_LOADER is not SAFE_LOADER:
        assert problems(text, loader=SAFE_LOADER)[-1] == (
            "a.yaml:4:22: a '?' is not expected here; put a text that holds '?' between brackets in quotes"
        )
