"""One file becomes one document, whatever its bytes are."""

from __future__ import annotations

import pytest

from faultree.library import documents
from faultree.library.documents import read_document
from faultree.library.findings import Guesses


def _messages(file: str, content: str | bytes) -> list[str]:
    return [str(problem) for problem in read_document(file, content, Guesses()).found.problems]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "1:1: the file is empty; begin it with the lines 'faultree: 1' and 'title: ...'"),
        (b"- a", "1:1: this is no tree file; begin it with the lines 'faultree: 1' and 'title: ...'"),
        (b"text", "1:1: this is no tree file; begin it with the lines 'faultree: 1' and 'title: ...'"),
        ("faultree: 1\ntitle: h\xe9".encode("latin-1"), "2:9: the byte 0xE9 is not UTF-8 text; save the file as UTF-8"),
        ("é: \xe9".encode() + b"\xe9", "1:5: the byte 0xE9 is not UTF-8 text; save the file as UTF-8"),
        ("faultree: 1".encode("utf-16"), "1:1: the byte 0xFF is not UTF-8 text; save the file as UTF-8"),
        (bytes(range(256)), "2:118: the byte 0x80 is not UTF-8 text; save the file as UTF-8"),
    ],
    ids=["empty", "list", "word", "latin-1", "column in characters", "utf-16", "binary"],
)
def test_what_is_no_tree_file(content: bytes, message: str) -> None:
    assert _messages("a.yaml", content) == [f"a.yaml:{message}"]


def test_a_head_without_its_two_lines() -> None:
    assert _messages("a.yaml", "items: {}") == [
        "a.yaml:1:1: tree file 'a' has no 'faultree'; add 'faultree: 1'",
        "a.yaml:1:1: tree file 'a' has no 'title'; add 'title: ...'",
    ]


def test_another_version_of_the_format() -> None:
    assert _messages("a.yaml", "faultree: 2\ntitle: T") == [
        "a.yaml:1:11: 'faultree' must be 1, not '2'; this version of faultree reads format 1"
    ]


def test_a_file_whose_name_is_no_id() -> None:
    """The file's name is the first part of every id in it."""
    (message,) = _messages("dir/left wing.yaml", "faultree: 1\ntitle: T")
    assert message.startswith(
        "dir/left wing.yaml: the file name gives the id 'left wing', which is not an id; rename it;"
    )


def test_a_large_file_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(documents, "MAX_BYTES", 10)
    assert _messages("a.yaml", "faultree: 1\n") == [
        "a.yaml: the file has 12 bytes; at most 10 are read; split it into several systems"
    ]


def test_nothing_is_said_to_be_missing_of_a_file_that_was_not_read_to_its_end() -> None:
    """The title may well stand behind the mistake."""
    assert _messages("a.yaml", "faultree: 1\nsummary: '\ntitle: T") == [
        "a.yaml:2:10: the quote that opens here is never closed; close it with the same quote"
    ]
