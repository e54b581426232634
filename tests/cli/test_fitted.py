"""A message at a terminal is broken between words, and one in a pipe is left as it is."""

from __future__ import annotations

import io

import pytest

from faultree.cli.fitted import fitted

LONG = "Error: a sign of the code 'ABCD' is wrong; compare it with the original, sign by sign, and type it once more."


class Window(io.StringIO):
    """A stream that says it is a terminal."""

    def isatty(self) -> bool:
        """Yes."""
        return True


@pytest.mark.parametrize("columns", [20, 40, 60, 80, 500])
def test_no_word_is_broken_at_the_edge_of_a_window(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever its width, between the narrowest and the widest line that is made."""
    monkeypatch.setenv("COLUMNS", str(columns))
    shown = fitted(LONG, Window())
    assert all(len(line) <= max(columns, 40) for line in shown.splitlines())
    assert shown.split() == LONG.split()


def test_what_a_program_reads_is_one_line() -> None:
    assert fitted(LONG, io.StringIO()) == LONG


def test_lines_stay_lines_and_keep_how_far_they_stand_in(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    shown = fitted("Error: two answers\n  a-check=an-answer with many words behind it to fill the line", Window())
    first, *rest = shown.splitlines()
    assert first == "Error: two answers"
    assert len(rest) == 2
    assert all(line.startswith("  ") for line in rest)
