"""The questions of the lint by plain enumeration of all fault sets, and libraries to ask them of."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property

from faultree.library.model import Answer, Check, Gate, Library, Operand, Ref
from tests.oracles.brute import Faults, World, causes_of, fault_sets, unit_of
from tests.oracles.random_libraries import Size, random_library

SMALL = Size(fault_sets=48, nodes=8, checks=4, symptoms=3)


class Enumerated:
    """A library with every look under every fault set."""

    def __init__(self, library: Library) -> None:
        self.library = library
        self.sets = [faults for faults, _ in fault_sets(library)]

    @cached_property
    def shows(self) -> dict[str, dict[Faults, bool]]:
        """Whether each symptom is there, by fault set."""
        found = {}
        for name, symptom in self.library.symptoms.items():
            worlds = {faults: World(self.library, faults, symptom.situation) for faults in self.sets}
            found[name] = {
                faults: all(world.node(node) == value for node, value in symptom.sees)
                for faults, world in worlds.items()
            }
        return found

    @cached_property
    def right(self) -> dict[str, dict[Faults, tuple[bool, ...]]]:
        """Which answers of each check are right, by fault set."""
        found = {}
        for name, check in self.library.checks.items():
            worlds = {faults: World(self.library, faults, check.situation) for faults in self.sets}
            found[name] = {
                faults: tuple(world.holds(answer.when) for answer in check.answers) for faults, world in worlds.items()
            }
        return found

    def looks(self) -> list[dict[Faults, object]]:
        """Everything that is seen or checked."""
        looks: list[dict[Faults, object]] = [{**one} for one in self.shows.values()]
        return looks + [{**one} for one in self.right.values()]

    def company(self, *causes: str) -> Iterator[Faults]:
        """Every R that leaves the units of some causes good."""
        units = frozenset().union(*(causes_of(self.library, unit_of(self.library, one)) for one in causes))
        return (faults for faults in self.sets if not faults & units)

    def acts(self, cause: str) -> bool:
        """Whether some R + cause looks different from R."""
        return any(look[r | {cause}] != look[r] for look in self.looks() for r in self.company(cause))

    def alike(self, one: str, two: str) -> bool:
        """Whether R + one looks like R + two for every R."""
        return all(look[r | {one}] == look[r | {two}] for look in self.looks() for r in self.company(one, two))

    def exchanges(self, one: str, two: str, symptom: str) -> list[Faults]:
        """Every R that does not show a symptom while R + one and R + two do."""
        shows = self.shows[symptom]
        return [r for r in self.company(one, two) if not shows[r] and shows[r | {one}] and shows[r | {two}]]

    def rivals(self, cause: str) -> set[tuple[str, str]]:
        """Symptoms, each with another cause that explains it as well."""
        others = [one for one in self.library.causes if one != cause]
        return {(s, one) for s in self.library.symptoms for one in others if self.exchanges(cause, one, s)}

    def apart(self, check: str, one: str, two: str, symptom: str) -> bool:
        """Whether a check tells apart two causes that explain a symptom."""
        right = self.right[check]
        return any(right[r | {one}] != right[r | {two}] for r in self.exchanges(one, two, symptom))

    def tells(self, check: str) -> bool:
        """Whether a check tells any two causes apart."""
        return any(
            self.apart(check, one, two, symptom)
            for symptom in self.library.symptoms
            for one in self.library.causes
            for two in self.library.causes
            if one < two
        )


def library(seed: int) -> Library:
    """A random library whose checks have answers that nobody made exclude each other."""
    rng = random.Random(seed)
    whole = random_library(rng, SMALL).library
    nodes = [*whole.causes, *whole.signals, *whole.events, *whole.conditions]
    checks = {name: _loose(rng, check, nodes) for name, check in whole.checks.items()}
    return replace(whole, checks=checks)


def _loose(rng: random.Random, check: Check, nodes: list[str]) -> Check:
    if rng.random() < 0.3:
        return check
    whens = [_operand(rng, nodes) for _ in range(rng.randint(1, 2))]
    if rng.random() < 0.5:
        whens.append(Gate("none", tuple(whens)))
    else:
        whens.append(_operand(rng, nodes))
    answers = tuple(Answer(f"answer{number}", "so", when) for number, when in enumerate(whens))
    return replace(check, reads=None, answers=answers)


def _operand(rng: random.Random, nodes: list[str]) -> Operand:
    named = tuple(Ref(one) for one in rng.sample(nodes, min(len(nodes), rng.randint(1, 3))))
    kind = rng.choice(("all", "any", "none", "one_of"))
    return named[0] if len(named) == 1 else Gate(kind, named)  # type: ignore[arg-type]  # one of the gates' names
