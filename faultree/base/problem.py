"""A problem found in an input file: where it is, what is wrong, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

Level = Literal["error", "warning", "advice"]


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A position in a text file; line and column count from 1, and 0 means "the whole file".

    >>> str(Place("trees/flaps.yaml", 12, 5))
    'trees/flaps.yaml:12:5'
    >>> str(Place("trees"))
    'trees'
    """

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong with an input, as `place: message; hint`.

    >>> str(Problem(Place("a.yaml", 3, 7), "unknown id 'lft'", "did you mean 'left'?"))
    "a.yaml:3:7: unknown id 'lft'; did you mean 'left'?"
    """

    place: Place
    message: str
    hint: str
    level: Level = field(default="error", compare=False)
    rule: str = field(default="shape", compare=False)

    def __str__(self) -> str:
        mark = "" if self.level == "error" else f"{self.level}: "
        return f"{self.place}: {mark}{self.message}; {self.hint}"

    def to_dict(self) -> dict[str, object]:
        """The problem as plain data for `--json`: file, line, column, message, hint, level, rule."""
        place = self.place
        return {
            "file": place.file,
            "line": place.line,
            "column": place.column,
            "message": self.message,
            "hint": self.hint,
            "level": self.level,
            "rule": self.rule,
        }
