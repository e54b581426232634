"""Collects what is found wrong in one file, and the references that are still to be checked."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple, Protocol

from faultree.base.problem import Place, Problem
from faultree.base.words import near
from faultree.library.values import is_id, shown

ID_FORM = "an id starts with a letter and holds letters, digits, '-' and '_'"


class Placed(Protocol):
    """Whatever knows its line and column."""

    @property
    def line(self) -> int: ...
    @property
    def column(self) -> int: ...


class Reference(NamedTuple):
    """A name that must exist: what it must be, how it was written, and its full id."""

    target: str
    written: str
    full: str
    place: Place


class Guesses:
    """Looks for what was meant by a wrong name, with a bound on the work for a whole library."""

    MOST = 20_000
    """Options that are compared in one run; beyond it no guesses are made."""
    LONGEST = 60
    """Longest name that is compared: the time grows with the square of the length."""

    def __init__(self) -> None:
        self._left = self.MOST

    def meant(self, name: str, options: Collection[str]) -> str | None:
        """The option nearest to a name, or None where none is near or the work is used up.

        >>> Guesses().meant("tittle", ["title", "item"])
        'title'
        """
        if len(name) > self.LONGEST or self._left <= 0:
            return None
        # A ratio of 0.6 cannot be reached where one name is more than 7/3 as long as the other.
        fitting = [one for one in options if 3 * len(one) <= 7 * len(name) and 3 * len(name) <= 7 * len(one)]
        self._left -= len(fitting)
        return next(iter(near(name, fitting, 1)), None)

    def remedy(self, name: str, options: Collection[str], otherwise: str) -> str:
        """`did you mean ...?` where an option is near, else the other remedy.

        >>> Guesses().remedy("colour", ["title", "item"], "remove it")
        'remove it'
        """
        meant = self.meant(name, options)
        return otherwise if meant is None else f"did you mean '{meant}'?"


class Findings:
    """The problems and references of one file, in the order found."""

    def __init__(self, file: str, system: str, guesses: Guesses | None = None) -> None:
        self.file = file
        self.system = system
        self.guesses = guesses or Guesses()
        self.problems: list[Problem] = []
        self.references: list[Reference] = []

    def place(self, at: Placed) -> Place:
        """The place of a node in this file."""
        return Place(self.file, at.line, at.column)

    def problem(self, at: Placed, message: str, hint: str, rule: str = "shape") -> None:
        """Note that something is wrong at a node."""
        self.problems.append(Problem(Place(self.file, at.line, at.column), message, hint, rule=rule))

    def remedy(self, name: str, options: Collection[str], otherwise: str) -> str:
        """`did you mean ...?` where an option is near, else the other remedy."""
        return self.guesses.remedy(name, options, otherwise)

    def full(self, written: str) -> str:
        """The full id of a name as written in this file."""
        return written if "/" in written else f"{self.system}/{written}"

    def refer(self, target: str, written: str, at: Placed, otherwise: str = "") -> str | None:
        """Note a reference and return its full id, or None where it has not the form of an id.

        `otherwise` is a better remedy than to correct the id, where one is known.
        """
        file, slash, name = written.partition("/")
        if not (is_id(file) and (not slash or is_id(name))):
            hint = otherwise or f"{ID_FORM}; one in another file is 'file/id'"
            self.problem(at, f"'{shown(written)}' is not an id", hint)
            return None
        full = self.full(written)
        self.references.append(Reference(target, written, full, self.place(at)))
        return full
