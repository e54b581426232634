"""Every error that faultree raises on purpose, below one base class."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from faultree.base.problem import Problem


class FaultreeError(Exception):
    """The base of every error that faultree raises on purpose."""


class LibraryError(FaultreeError):
    """The tree files are at fault; `problems` holds everything found in one run, in file order."""

    where = "in the tree files"
    """Where the problems are, as a message ends."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class ImportRefused(LibraryError):
    """A file of another format cannot become a tree file; nothing was written."""

    where = "in the file to import; nothing was written"


LISTED = {
    "symptom": "'faultree' lists them",
    "cause": "'faultree rank REPORT --json' lists the ids",
    "item": "'faultree rank REPORT --json' lists the ids",
    "check": "'faultree rank REPORT --json' lists the ids",
}
"""Where the names of a kind are listed."""

ELSEWHERE = "look it up in the tree files"


MOST_NAMED = 8
"""A message names so many ids that could be meant; the others are counted."""


class UnknownName(FaultreeError):
    """An id that the library does not hold, or that stands for more than one thing.

    `kind` says what was looked for ("check"), `name` what was given, and `candidates` the full
    ids that come close (or all that the short id could mean).
    """

    def __init__(self, kind: str, name: str, candidates: Sequence[str], *, ambiguous: bool = False) -> None:
        self.kind = kind
        self.name = name
        self.candidates = tuple(candidates)
        self.ambiguous = ambiguous
        super().__init__(self._words())

    def _words(self) -> str:
        listed = ", ".join(f"'{one}'" for one in self.candidates[:MOST_NAMED])
        if len(self.candidates) > MOST_NAMED:
            listed += f" and {len(self.candidates) - MOST_NAMED} more"
        if self.ambiguous:
            return f"'{self.name}' fits more than one {self.kind}; write one of {listed}"
        hint = f"did you mean {listed}?" if listed else LISTED.get(self.kind.partition(" ")[0], ELSEWHERE)
        return f"unknown {self.kind} '{self.name}'; {hint}"


class CaseError(FaultreeError):
    """A case cannot take this step, or a saved case does not read."""


class JournalError(FaultreeError):
    """The journal cannot be opened, read or written, or does not hold what was asked for."""


class Overtaken(JournalError):
    """Somebody else has added to a case since it was read; nothing was written.

    `last` is the number of its newest entry now.
    """

    def __init__(self, case: int, last: int) -> None:
        self.case = case
        self.last = last
        super().__init__(f"case {case} was added to by somebody else in the meantime; look at it again")


class ChartError(FaultreeError):
    """A troubleshooting chart cannot be compiled, or a saved one does not read or fit the library."""


class Contradiction(FaultreeError):
    """No set of faults explains all the answers.

    `answers` is a minimal set of (check id, answer id) pairs that cannot all be true together with
    the reported symptoms, the likeliest wrong one first; every one of them is needed for the
    contradiction. It is empty when the symptoms already contradict each other. `steps` holds the
    same as the case's own step values, repairs included.
    """

    def __init__(self, message: str, answers: Sequence[tuple[str, str]], steps: Sequence[object] = ()) -> None:
        self.answers = tuple(answers)
        self.steps = tuple(steps)
        super().__init__(message)
