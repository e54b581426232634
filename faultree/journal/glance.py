"""A quick look into a journal that is a file, for a shell that completes: nothing is made, changed or updated.

What cannot be read, an older or newer journal among it, simply shows nothing.
"""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path
from typing import NamedTuple

MOST = 60
"""So many cases are looked at, the newest first."""


class Glimpse(NamedTuple):
    """A case in short."""

    number: int
    state: str
    day: str
    aircraft: str
    words: tuple[str, ...]

    @property
    def shown(self) -> str:
        """The case on one line.

        >>> Glimpse(3, "open", "2031-05-04", "HM-VLA", ("lamp out", "no signal")).shown
        '2031-05-04 HM-VLA, open: lamp out; no signal'
        """
        where = " ".join(filter(None, (self.day, self.aircraft)))
        return f"{where}, {self.state}: {'; '.join(self.words) or 'no words yet'}"


def cases(file: Path) -> tuple[Glimpse, ...]:
    """The newest cases of a journal."""
    found = _rows(file, "SELECT id, state, day, opened, aircraft FROM cases ORDER BY id DESC LIMIT ?", MOST)
    words: dict[int, list[str]] = {}
    for case, said in _rows(file, "SELECT case_id, words FROM squawks ORDER BY case_id, number"):
        words.setdefault(case, []).append(" ".join(str(said).split()))
    return tuple(
        Glimpse(number, state, day or str(opened)[:10], aircraft, tuple(words.get(number, ())))
        for number, state, day, opened, aircraft in found
    )


def squawks(file: Path, case: int) -> dict[int, str]:
    """The squawks of a case: numbers and words."""
    return {
        number: " ".join(str(said).split())
        for number, said in _rows(file, "SELECT number, words FROM squawks WHERE case_id = ? ORDER BY number", case)
    }


def aircraft(file: Path) -> tuple[str, ...]:
    """The aircraft of a journal, each once."""
    found = _rows(file, "SELECT DISTINCT aircraft FROM cases WHERE aircraft <> '' ORDER BY aircraft")
    return tuple(str(name) for (name,) in found)


def _rows(file: Path, query: str, *given: object) -> list[tuple]:  # type: ignore[type-arg]  # of any shape
    """The rows of a query; none where the file is no journal that can be read."""
    try:
        address = f"{file.absolute().as_uri()}?mode=ro"
        with closing(sqlite3.connect(address, uri=True, timeout=0.2)) as connection:
            return connection.execute(query, given).fetchall()
    except (sqlite3.Error, ValueError, OSError):
        return []
