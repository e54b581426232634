"""Reads the cells of a dependency matrix as numbers, likelihoods and answers; what they are not is noted."""

from __future__ import annotations

from typing import Any, NamedTuple

from faultree.base.problem import Place, Problem
from faultree.base.words import did_you_mean, listing
from faultree.library.exchange.matrix_layout import NO, YES
from faultree.library.model import BANDS
from faultree.library.values import number, shown


class Cell(NamedTuple):
    """A cell: its text, its place (of columns the first is 1), and the separator of its table."""

    text: str
    line: int
    column: int
    file: str
    separator: str = ","

    def problem(self, message: str, hint: str) -> Problem:
        """A problem with this cell."""
        return Problem(Place(self.file, self.line, self.column), message, hint, rule="exchange")

    @property
    def number(self) -> float | None:
        """The number written, or None; with a decimal comma where commas do not separate cells."""
        return number(self.text if self.separator == "," else self.text.replace(",", ".", 1))


def minutes(cell: Cell, problems: list[Problem]) -> float | None:
    """A time in minutes, or None where there is none."""
    return _within(cell, 100_000.0, "minutes", problems)


def chance(cell: Cell, problems: list[Problem]) -> float | None:
    """A probability that may be 0 and is below 1, or None where there is none."""
    value = _within(cell, 1.0, "a probability", problems)
    if value == 1.0:
        problems.append(cell.problem(f"'{shown(cell.text)}' is certain", "write a number below 1"))
    return value


def _within(cell: Cell, most: float, what: str, problems: list[Problem]) -> float | None:
    if not cell.text:
        return None
    value = cell.number
    if value is None or not 0 <= value <= most:
        problems.append(cell.problem(f"'{shown(cell.text)}' is not {what}", f"write a number from 0 to {most:,.0f}"))
        return None
    return value


def likelihood(cell: Cell, problems: list[Problem]) -> dict[str, Any]:
    """A likelihood as a cause says it: a word, or a probability (also as a percentage).

    >>> likelihood(Cell("remote", 2, 3, "m.csv"), []), likelihood(Cell("2,5 %", 2, 3, "m.csv", ";"), [])
    ({'likelihood': 'remote'}, {'probability': 0.025})
    """
    text = cell.text.casefold()
    if text in BANDS:
        return {"likelihood": text}
    value = cell._replace(text=text.removesuffix("%").strip()).number
    value = value / 100 if value is not None and text.endswith("%") else value
    if value is None or not 0 < value < 1:
        hint = did_you_mean(text, BANDS, f"write a probability above 0 and below 1, or {listing(BANDS, 'or')}")
        problems.append(cell.problem(f"'{shown(cell.text)}' is no likelihood", hint))
        return {}
    return {"probability": value}


def truth(cell: Cell, usual: bool, problems: list[Problem]) -> bool:
    """Yes or no; what is usual where the cell is empty.

    >>> truth(Cell("X", 2, 3, "m.csv"), False, []), truth(Cell("", 2, 3, "m.csv"), True, [])
    (True, True)
    """
    text = cell.text.casefold()
    if text and text not in (*YES, *NO):
        hint = f"write {listing(YES[:3], 'or')}, or {listing(NO[:2], 'or')}"
        problems.append(cell.problem(f"'{shown(cell.text)}' is neither yes nor no", hint))
    return text in YES if text else usual
