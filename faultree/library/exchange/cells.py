"""Tables as comma-separated text: written so that no cell acts in a spreadsheet, read as spreadsheets save them."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import NamedTuple

from faultree.base.problem import Place, Problem
from faultree.library.exchange.elements import MAX_BYTES

MAX_CELLS = 250_000
"""Most cells that are read from one file."""

ACTING = ("=", "+", "-", "@", "\t", "\r")
"""How a cell begins that a spreadsheet may take for a formula."""

SEPARATORS = ",;\t"


class Row(NamedTuple):
    """One row that is not empty: its cells without space around them, and the line on which it begins."""

    cells: tuple[str, ...]
    line: int


class Read(NamedTuple):
    """The rows of a file, its separator, or the problem for which reading stopped."""

    rows: tuple[Row, ...]
    separator: str = ","
    problem: Problem | None = None


def table_text(rows: Sequence[Sequence[str]]) -> str:
    r"""The text of a table, rows ended as RFC 4180 says; a cell that would act begins with an apostrophe.

    >>> table_text([["cause", "note"], ["a, b", "=1+1"]])
    'cause,note\r\n"a, b",\'=1+1\r\n'
    """
    found = io.StringIO(newline="")
    csv.writer(found).writerows([guarded(cell) for cell in row] for row in rows)
    return found.getvalue()


def guarded(cell: str) -> str:
    """A cell as it is written: what would act as a formula, or begins with an apostrophe, behind an apostrophe.

    >>> guarded("=1+1"), guarded("'tis"), guarded("1e-3")
    ("'=1+1", "''tis", '1e-3')
    """
    return f"'{cell}" if cell.startswith((*ACTING, "'")) else cell


def unguarded(cell: str) -> str:
    """A cell as it was meant: without the apostrophe that guards it.

    >>> unguarded("'=1+1"), unguarded("''tis"), unguarded("'tis")
    ('=1+1', "'tis", "'tis")
    """
    return cell[1:] if cell.startswith("'") and cell[1:].startswith((*ACTING, "'")) else cell


def read_table(content: bytes, file: str) -> Read:
    r"""The rows of a file's bytes, with commas, semicolons or tabs between cells, as its first row has them.

    >>> read_table(b"\xef\xbb\xbfa;b\n\n'=x;\"y\nz\"\n", "f.csv").rows
    (Row(cells=('a', 'b'), line=1), Row(cells=('=x', 'y\nz'), line=3))
    """
    if len(content) > MAX_BYTES:
        message = f"the file has more than {MAX_BYTES:,} bytes, and no more are read"
        return Read((), problem=_problem(file, 0, message, "split it"))
    encoding = "utf-16" if content.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig"
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        return Read((), problem=_problem(file, line, "this is no UTF-8 text", "save it as 'CSV UTF-8'"))
    return _rows(text, _separator(text), file)


def _separator(text: str) -> str:
    """The separator that stands most often in the first row, outside of quotes."""
    first = text.lstrip("\r\n").partition("\n")[0]
    bare = "".join(first.split('"')[::2])
    return max(SEPARATORS, key=bare.count)


def _rows(text: str, separator: str, file: str) -> Read:
    found: list[Row] = []
    count, line = 0, 1
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append(Row(tuple(unguarded(cell.strip()) for cell in cells), line))
                count += len(cells)
            line = reader.line_num + 1
            if count > MAX_CELLS:
                return Read((), problem=_problem(file, line, f"more than {MAX_CELLS:,} cells in one file", "split it"))
    except csv.Error as error:
        hint = "correct the quotes here, or save the file anew"
        return Read((), problem=_problem(file, line, f"this is no table ({error})", hint))
    return Read(tuple(found), separator)


def _problem(file: str, line: int, message: str, hint: str) -> Problem:
    return Problem(Place(file, line, 1 if line else 0), message, hint, rule="exchange")
