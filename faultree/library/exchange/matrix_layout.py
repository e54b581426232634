"""The layout of a dependency matrix as a table: the words of its columns and rows, in both directions."""

from __future__ import annotations

CAUSE = "cause"
"""The head of the first column, which names the causes and, in brackets, the rows about checks."""

COLUMNS = ("title", "item", "item title", "place", "manual", "likelihood", "minutes", "symptom")
"""The columns that say something of a cause; each may be missing. Every other column is a check."""

USUAL = "usual"
"""The row with the answer of each check while nothing is wrong."""

LINES = ("title", "ask", "situation", "by", "minutes", "yes", "no", "answers", "false_yes", "false_no", "error")
"""Rows that say something of a check by one word or line; each may be missing."""

SAFETY = ("cautions", "tools", "manual", "note")
"""Rows of a check that a person must see with it."""

ROWS = (*LINES, *SAFETY, USUAL)

BETWEEN = " | "
"""What stands between several answers, cautions or tools in one cell."""

YES = ("yes", "1", "x", "true", "y")
NO = ("no", "0", "false", "n")
"""What is read as the answers yes and no, in any case."""


def bracketed(row: str) -> str:
    """How a row about checks is named in the first column.

    >>> bracketed("minutes")
    '(minutes)'
    """
    return f"({row})"
