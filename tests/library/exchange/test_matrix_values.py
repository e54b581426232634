"""Cells as numbers, likelihoods and answers, in the notations of spreadsheets."""

from __future__ import annotations

from typing import Any

import pytest

from faultree.base.problem import Problem
from faultree.library.exchange.matrix_values import Cell, chance, likelihood, minutes, truth


def _cell(text: str, separator: str = ",") -> Cell:
    return Cell(text, 3, 5, "m.csv", separator)


def test_numbers_with_a_decimal_comma_where_commas_do_not_separate() -> None:
    assert _cell("0,5", ";").number == 0.5
    assert _cell("0,5").number is None
    assert _cell("1.5e-3").number == 1.5e-3
    assert _cell("0x10").number is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [("0.25", {"probability": 0.25}), ("25 %", {"probability": 0.25}), ("Remote", {"likelihood": "remote"})],
)
def test_likelihoods(text: str, expected: dict[str, Any]) -> None:
    problems: list[Problem] = []
    assert likelihood(_cell(text), problems) == expected
    assert not problems


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("remot", "m.csv:3:5: 'remot' is no likelihood; did you mean 'remote'?"),
        ("0", "m.csv:3:5: '0' is no likelihood; write a probability above 0 and below 1, or frequent, "),
        ("100 %", "m.csv:3:5: '100 %' is no likelihood; write a probability"),
    ],
)
def test_no_likelihoods(text: str, message: str) -> None:
    problems: list[Problem] = []
    assert likelihood(_cell(text), problems) == {}
    assert str(problems[0]).startswith(message)


def test_times_and_chances() -> None:
    problems: list[Problem] = []
    assert (minutes(_cell("2.5"), problems), minutes(_cell(""), problems)) == (2.5, None)
    assert (chance(_cell("0"), problems), chance(_cell("0.2"), problems)) == (0.0, 0.2)
    assert not problems
    assert minutes(_cell("soon"), problems) is None
    assert chance(_cell("1"), problems) == 1.0
    assert [str(one).partition(": ")[2] for one in problems] == [
        "'soon' is not minutes; write a number from 0 to 100,000",
        "'1' is certain; write a number below 1",
    ]


@pytest.mark.parametrize("text", ["x", "X", "1", "yes", "YES", "true", "y"])
def test_yes(text: str) -> None:
    assert truth(_cell(text), False, [])


@pytest.mark.parametrize("text", ["0", "no", "No", "false", "n"])
def test_no(text: str) -> None:
    assert not truth(_cell(text), True, [])


def test_what_is_neither_is_told() -> None:
    problems: list[Problem] = []
    truth(_cell("maybe"), False, problems)
    assert str(problems[0]) == "m.csv:3:5: 'maybe' is neither yes nor no; write yes, 1 or x, or no or 0"
