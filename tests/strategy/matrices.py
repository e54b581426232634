"""A small pump with checks for everybody, and single faults by enumeration."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

from faultree.library.load import load_texts
from faultree.library.model import Library
from tests.oracles.brute import Brute

PUMP = """
faultree: 1
title: A pump
conditions:
  on: {title: pump switched on}
situations:
  running: {title: the pump running, sets: {on: yes}}
items:
  pump: {title: pump}
  gauge: {title: gauge}
causes:
  worn: {title: pump worn, item: pump, probability: 0.02}
  seized: {title: pump seized, item: pump, probability: 0.01}
  leak: {title: pipe leaking, probability: 0.01}
  low: {title: gauge stuck low, item: gauge, probability: 0.01}
signals:
  turns: {title: pump turning, follows: on, lost_if: [seized]}
  flow: {title: water flowing, follows: turns, lost_if: [worn, leak]}
  shown: {title: flow shown, follows: flow, lost_if: [low]}
  dry: {title: the floor dry, lost_if: [leak]}
  lit: {title: lamp lit, follows: on}
events:
  both: {title: pump worn and pipe leaking, all: [worn, leak]}
checks:
  listen: {title: listen to the pump, situation: running, reads: turns, by: crew}
  listen-longer: {title: listen longer, situation: running, reads: turns, minutes: 20, by: crew}
  outlet: {title: look at the outlet, situation: running, reads: flow, minutes: 2}
  floor: {title: look at the floor, reads: leak, by: shop}
  paint: {title: look at the lamp, situation: running, reads: lit}
symptoms:
  no-flow: {title: no flow is shown, situation: running, sees: {shown: no}}
  both: {title: worn and leaking, event: both}
"""


def pump(*changes: tuple[str, str]) -> Library:
    """The pump with parts of its text replaced."""
    text = PUMP
    for old, new in changes:
        assert text.count(old) == 1, f"{text.count(old)} times: {old}"
        text = text.replace(old, new)
    return load_texts({"pump.yaml": text})


class Single:
    """The faults that alone produce a symptom, each looked at by itself, by plain enumeration."""

    def __init__(self, library: Library, symptom: str, by: Iterable[str] | None = None) -> None:
        self.library = library
        self.brute = Brute(library, [symptom])
        there = [one for one in library.causes if self.brute.sees(symptom, frozenset({one}))]
        self.causes = [] if self.brute.sees(symptom, frozenset()) else there
        self.checks = [name for name, check in library.checks.items() if by is None or check.by in set(by)]

    def shows(self, check: str, *faults: str) -> str:
        """The right answer under some faults."""
        return self.brute.right_answer(check, frozenset(faults))

    def alike(self, one: str, other: str) -> bool:
        """Whether no check parts two faults."""
        return all(self.shows(check, one) == self.shows(check, other) for check in self.checks)

    def revealed(self, cause: str) -> bool:
        """Whether some check shows something else than with nothing wrong."""
        return any(self.shows(check, cause) != self.shows(check) for check in self.checks)

    def parted(self, check: str) -> set[tuple[str, str]]:
        """The pairs that a check parts; an empty id stands for nothing wrong."""
        shown = {"": self.shows(check)} | {one: self.shows(check, one) for one in self.causes}
        return {(one, other) for one, other in combinations(shown, 2) if shown[one] != shown[other]}
