"""Tables: no cell acts in a spreadsheet, and what spreadsheets save is read."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultree.library.exchange import cells as module
from faultree.library.exchange.cells import ACTING, guarded, read_table, table_text, unguarded
from faultree.library.exchange.elements import MAX_BYTES

texts = st.text(st.characters(codec="utf-8", exclude_characters="\x00"), max_size=12)


def _rows(content: bytes) -> list[tuple[str, ...]]:
    read = read_table(content, "f.csv")
    assert read.problem is None, read.problem
    return [row.cells for row in read.rows]


def _problem(content: bytes) -> str:
    read = read_table(content, "f.csv")
    assert not read.rows
    return str(read.problem)


@given(texts)
def test_no_cell_acts(text: str) -> None:
    """A cell that begins like a formula is written as text, and comes back as it was."""
    assert not guarded(text).startswith(ACTING)
    assert unguarded(guarded(text)) == text


@given(st.lists(st.lists(texts, min_size=2, max_size=3), min_size=1, max_size=4))
def test_what_is_written_is_read_by_the_standard_reader_and_by_ours(rows: list[list[str]]) -> None:
    text = table_text([["cause", "a", "b"], *rows])
    standard = list(csv.reader(io.StringIO(text, newline="")))
    assert [[unguarded(cell) for cell in row] for row in standard[1:]] == rows
    read = [list(row) for row in _rows(text.encode())[1:]]
    stripped = [[unguarded(guarded(cell).strip()) for cell in row] for row in rows]
    assert read == [row for row, raw in zip(stripped, rows, strict=True) if any(guarded(cell).strip() for cell in raw)]


@pytest.mark.parametrize(
    "content",
    [
        b"a,b\r\n1,x y\r\n",
        b"\xef\xbb\xbfa;b\r\n1;x y\r\n",
        b"a\tb\n\n1\tx y\n\n",
        b'"a","b"\n" 1 ","x y"',
        "a,b\n1,x y\n".encode("utf-16"),
        b"a;b\r1;x y\r",
    ],
    ids=["commas", "semicolons and a mark", "tabs and empty lines", "quotes", "UTF-16", "carriage returns"],
)
def test_what_spreadsheets_save_is_read(content: bytes) -> None:
    assert _rows(content) == [("a", "b"), ("1", "x y")]


def test_separators_in_quotes_do_not_count() -> None:
    assert _rows(b'"a,b,c";d\n1;2') == [("a,b,c", "d"), ("1", "2")]


def test_lines_are_those_of_the_file() -> None:
    read = read_table(b'a,b\n\n"x\ny",1\nz,2\n', "f.csv")
    assert [row.line for row in read.rows] == [1, 3, 5]


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"a,b\n\xff,1", "f.csv:2:1: this is no UTF-8 text; save it as 'CSV UTF-8'"),
        (b'a,b\n1,"x', "f.csv:2:1: this is no table (unexpected end of data); correct the quotes here, or save"),
        (b'a,b\n1,"x"y', "f.csv:2:1: this is no table (',' expected after '\"'); correct the quotes here"),
        (b"a,b\n1," + b"x" * 200_000, "f.csv:2:1: this is no table (field larger than field limit"),
    ],
)
def test_what_is_no_table_has_its_place(content: bytes, message: str) -> None:
    assert _problem(content).startswith(message)


def test_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    assert _problem(b"a" * (MAX_BYTES + 1)).startswith("f.csv: the file has more than 10,000,000 bytes")
    monkeypatch.setattr(module, "MAX_CELLS", 3)
    assert _problem(b"a,b\n1,2").startswith("f.csv:3:1: more than 3 cells in one file")
