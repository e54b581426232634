"""The dependency matrix of a symptom: what each check would show for each fault that alone produces it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from faultree.belief.frame import frame_of
from faultree.logic.simulate import evaluate_many, pack, unpack

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from faultree.belief.frame import Frame
    from faultree.library.model import Library

    Bits = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Matrix:
    """Faults by checks, one fault at a time and every other unit good.

    `causes` are those that alone produce the symptom and without which it is not there, in library order;
    `answers[check]` holds the right answer (its id) for each of them and `usual[check]` the one with nothing
    wrong, each in the check's own situation. That a check may err plays no part: it is taken by its right
    answer. Where no answer of a check holds, which lint reports, its id is empty.
    """

    library: Library
    symptom: str
    causes: tuple[str, ...]
    answers: Mapping[str, tuple[str, ...]]
    usual: Mapping[str, str]

    @property
    def checks(self) -> tuple[str, ...]:
        """The checks that were admitted, in library order."""
        return tuple(self.answers)

    @cached_property
    def rows(self) -> Mapping[str, tuple[str, ...]]:
        """Each cause's answers, in the order of `checks`."""
        return {cause: tuple(column[at] for column in self.answers.values()) for at, cause in enumerate(self.causes)}

    @cached_property
    def responding(self) -> Mapping[str, frozenset[str]]:
        """Each cause's checks that would give another answer than with nothing wrong."""
        usual = tuple(self.usual.values())
        return {
            cause: frozenset(
                check for check, shown, normal in zip(self.checks, row, usual, strict=True) if shown != normal
            )
            for cause, row in self.rows.items()
        }

    def unit(self, cause: str) -> str:
        """What would be replaced: the item of a cause, or the cause itself where it has none."""
        return self.library.causes[cause].item or cause

    def weight(self, cause: str) -> float:
        """The prior probability of a cause, which every share of this matrix is weighted with."""
        return self.library.causes[cause].probability


def dependency_matrix(library: Library, symptom: str, by: Iterable[str] | None = None) -> Matrix:
    """The matrix of one symptom (full id); `by` admits only checks for crew, line or shop.

    A check with `answers` makes a column of several values. Source of the idea: the dependency (D) matrix of
    IEEE 1522, kept here with answers in place of 0 and 1, so that two abnormal answers count as different.
    """
    frame = frame_of(library)
    allowed = None if by is None else frozenset(by)
    checks = [name for name, check in library.checks.items() if allowed is None or check.by in allowed]
    causes = producing(frame, symptom)
    shown = _shown(frame, causes, checks)
    answers = {name: tuple(row[:-1]) for name, row in shown.items()}
    return Matrix(library, symptom, causes, answers, {name: row[-1] for name, row in shown.items()})


def producing(frame: Frame, symptom: str) -> tuple[str, ...]:
    """The causes that alone produce a symptom; none where it is there with nothing wrong."""
    every = tuple(frame.library.causes)
    literal = frame.seen[symptom]
    bits = alone(frame, every, frame.library.symptoms[symptom].situation, [literal])[literal]
    return () if bits[-1] else tuple(cause for cause, there in zip(every, bits, strict=False) if there)


def alone(frame: Frame, causes: Sequence[str], situation: str | None, literals: Sequence[int]) -> dict[int, Bits]:
    """The values of some literals with each cause alone, and last with nothing wrong.

    Returns literal -> `len(causes) + 1` truth values.
    """
    count = len(causes) + 1
    each = np.eye(count, dtype=np.bool_)
    present = {cause: pack(each[at]) for at, cause in enumerate(causes)}
    words = len(pack(each[0]))
    found = evaluate_many(
        frame.graph, frame.library.settings(situation), present, words, tuple(dict.fromkeys(literals))
    )
    return {literal: unpack(values, count) for literal, values in found.items()}


def _shown(frame: Frame, causes: Sequence[str], checks: Sequence[str]) -> dict[str, list[str]]:
    """The right answer of each check with each cause alone, and last with nothing wrong."""
    library = frame.library
    groups: dict[str | None, list[str]] = {}
    for name in checks:
        groups.setdefault(library.checks[name].situation, []).append(name)
    found: dict[str, list[str]] = {}
    for situation, names in groups.items():
        values = alone(frame, causes, situation, [one for name in names for one in frame.answers[name]])
        for name in names:
            ids = [answer.id for answer in library.checks[name].answers]
            truth = np.array([values[literal] for literal in frame.answers[name]])
            right = np.where(truth.any(axis=0), truth.argmax(axis=0), -1)
            found[name] = [ids[place] if place >= 0 else "" for place in right.tolist()]
    return {name: found[name] for name in checks}
